"""Every pairing that could still be better, one block after the other, within a bound.

Input: two forms and the best pairing known. Output: the best there is, and whether the search came to its end. A partial
pairing is left as soon as it costs as much as the best: what it costs can only grow.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import product

from checker.comparing.pairing import Match, Pair, Pairing, left_out

MOST_STEPS = 20_000
"""Blocks tried before the search ends: under a second, and enough for most lists of a dozen parts."""

MOST_BLOCKS = 200
"""Longer lists are not searched through: the search goes one call deeper for each block, and would not end anyway."""

_HARDLY = 1e-9


class _Bounded(Exception):
    """The steps are used up."""


class _Partial:
    """A pairing on its way, with what it costs so far."""

    def __init__(self, pair: Pair) -> None:
        self.blocks: dict[int, tuple[int, Match]] = {}
        self.taken: set[int] = set()
        self.cost = 0.0
        self.overlaps: Counter[tuple[int, int]] = Counter()
        self.spread: tuple[Counter[int], Counter[int]] = (Counter(), Counter())
        self.extra = [0, 0]
        self.ours = Counter(b.group for b in pair.reference.blocks if b.parent is None)
        self.theirs = Counter(b.group for b in pair.given.blocks if b.parent is None)
        self.price = {b.group: left_out(b) for b in (*pair.reference.blocks, *pair.given.blocks)}
        self.uneven = sum(self.price[g] * abs(self.ours[g] - self.theirs[g]) for g in {*self.ours, *self.theirs})

    def join(self, keys: list[tuple[int, int]]) -> None:
        for key in keys:
            self.overlaps[key] += 1
            if self.overlaps[key] == 1:
                for side in (0, 1):
                    self.spread[side][key[side]] += 1
                    self.extra[side] += self.spread[side][key[side]] > 1

    def part(self, keys: list[tuple[int, int]]) -> None:
        for key in keys:
            self.overlaps[key] -= 1
            if self.overlaps[key] == 0:
                for side in (0, 1):
                    self.extra[side] -= self.spread[side][key[side]] > 1
                    self.spread[side][key[side]] -= 1

    def count(self, group: str, ours: int, theirs: int) -> None:
        """Take so many of a group from what is left on both sides."""
        before = abs(self.ours[group] - self.theirs[group])
        self.ours[group] -= ours
        self.theirs[group] -= theirs
        self.uneven += self.price[group] * (abs(self.ours[group] - self.theirs[group]) - before)

    @property
    def least(self) -> float:
        """What every pairing that goes on from here costs at least: each net beyond one for each is a movement."""
        return self.cost + self.uneven + max(self.extra)


def improve(pair: Pair, best: Pairing, least_step: float) -> tuple[Pairing, bool]:
    """The best pairing, and whether it is proven to be the best. ``least_step`` is what any difference costs at least."""
    if best.cost <= max(least_step, _Partial(pair).least) + _HARDLY:
        return best, True
    if len(pair.reference.blocks) - len(pair.reference.idle) > MOST_BLOCKS:
        return best, False
    search = _Search(pair, best)
    try:
        search.go_on(0)
    except _Bounded:
        return search.best, False
    return search.best, True


class _Search:
    def __init__(self, pair: Pair, best: Pairing) -> None:
        self.pair, self.best = pair, best
        self.order = _order(pair, best)
        self.partial = _Partial(pair)
        self.steps = 0

    def go_on(self, place: int) -> None:
        """Try everything for the block at this place of the order."""
        if place == len(self.order):
            self._keep()
            return
        one = self.order[place]
        tried = sorted(self._choices(one), key=lambda choice: choice[0])
        for _, other, match in tried:
            self._try(place, one, other, match)
        if self.pair.reference.blocks[one].parent is None:
            self._leave_out(place, one)
        elif not any(True for _ in tried):
            self.go_on(place + 1)

    def _choices(self, one: int) -> Iterator[tuple[float, int, Match]]:
        """Cost, block and match of everything that the block may be."""
        for other in self._candidates(one):
            base = self.pair.base(one, other)
            for ways in product(*self.pair.matches(one, other)):
                match = [0] * len(self.pair.reference.blocks[one].joints)
                for ours, theirs in ways:
                    for i, j in zip(ours, theirs):
                        match[i] = j
                turning = sum(self.pair.turning(one, i, other, j) for i, j in enumerate(match))
                new = sum(not self.partial.overlaps[key] for key in self._keys(one, other, tuple(match)))
                known = self.best.blocks.get(one, (-1,))[0] == other
                yield base + turning + new - 0.1 * known, other, tuple(match)

    def _candidates(self, one: int) -> list[int]:
        block = self.pair.reference.blocks[one]
        if block.parent is None:
            return [n for n in self.pair.given_by_group.get(block.group, []) if n not in self.partial.taken]
        if block.parent not in self.partial.blocks:
            return []
        units = self.pair.given.children.get(self.partial.blocks[block.parent][0], ())
        free = [unit for unit in units if unit not in self.partial.taken and self.pair.may_pair(one, unit)]
        idle = [unit for unit in free if self.pair.given.is_idle(unit)]
        spare = {unit for unit in idle if self.pair.given.blocks[unit].unit != block.unit}
        return [unit for unit in free if unit not in spare] + sorted(spare)[:1]

    def _keys(self, one: int, other: int, match: Match) -> list[tuple[int, int]]:
        theirs = self.pair.given.blocks[other].joints
        return [(joint.net, theirs[place].net) for joint, place in zip(self.pair.reference.blocks[one].joints, match)]

    def _try(self, place: int, one: int, other: int, match: Match) -> None:
        self.steps += 1
        if self.steps > MOST_STEPS:
            raise _Bounded
        partial, block = self.partial, self.pair.reference.blocks[one]
        cost = self.pair.base(one, other) + sum(self.pair.turning(one, i, other, j) for i, j in enumerate(match))
        keys = self._keys(one, other, match)
        partial.cost += cost
        partial.join(keys)
        partial.blocks[one] = other, match
        partial.taken.add(other)
        if block.parent is None:
            partial.count(block.group, 1, 1)
        if partial.least < self.best.cost - _HARDLY:
            self.go_on(place + 1)
        if block.parent is None:
            partial.count(block.group, -1, -1)
        partial.taken.discard(other)
        del partial.blocks[one]
        partial.part(keys)
        partial.cost -= cost

    def _leave_out(self, place: int, one: int) -> None:
        block, partial = self.pair.reference.blocks[one], self.partial
        price = left_out(block)
        partial.cost += price
        partial.count(block.group, 1, 0)
        if partial.least < self.best.cost - _HARDLY:
            self.go_on(place + 1)
        partial.count(block.group, -1, 0)
        partial.cost -= price

    def _keep(self) -> None:
        blocks = dict(self.partial.blocks)
        taken = {other for other, _ in blocks.values()}
        for one, units in self.pair.reference.children.items():
            theirs = [u for u in self.pair.given.children.get(blocks[one][0], ()) if u not in taken] if one in blocks else []
            for mine in (unit for unit in units if unit not in blocks):
                fitting = [other for other in theirs if self.pair.may_pair(mine, other)]
                if fitting:
                    name = self.pair.reference.blocks[mine].unit
                    other = min(fitting, key=lambda unit: self.pair.given.blocks[unit].unit != name)
                    theirs.remove(other)
                    blocks[mine] = other, self.pair.best_match(mine, other, {}, {})[1]
        found = self.pair.finished(blocks)
        if found.cost < self.best.cost - _HARDLY:
            self.best = found


def _order(pair: Pair, best: Pairing) -> list[int]:
    """Blocks so that each hangs on those before it, parts with many terminals first; idle units are left for the end."""
    form = pair.reference
    waiting = {n for n, block in enumerate(form.blocks) if not form.is_idle(n)}
    order: list[int] = []
    reached: set[int] = set()
    while waiting:
        ready = [n for n in waiting if form.blocks[n].parent is None or form.blocks[n].parent not in waiting]
        following = max(ready, key=lambda n: (
            sum(joint.net in reached and len(form.nets[joint.net]) < 12 for joint in form.blocks[n].joints),
            sum(joint.net in reached for joint in form.blocks[n].joints), len(form.blocks[n].joints), -n))
        order.append(following)
        waiting.discard(following)
        reached.update(joint.net for joint in form.blocks[following].joints)
    return order
