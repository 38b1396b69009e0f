"""What it costs to take one block for another, and one list for another.

Input: two forms. Output: costs, in movements of the hand. A pairing says which block of the given list stands for which
of the reference, joint by joint; from it follows which net stands for which, and what is left over is the difference.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property, lru_cache
from itertools import permutations

import networkx as nx
from msgspec import Struct

from checker.comparing.form import Block, Form
from checker.comparing.kinds import COSTS
from checker.comparing.shapes import ANY, TURNING
from checker.comparing.vertices import Likes, identity
from parts_library.schema import Controller, SupplyKind

OTHER_NUMBER = 0.4
"""Another pin of a controller than the reference uses: the program, not the wiring, decides whether it matters."""

LEFT_OUT, LEFT_OUT_PIN = 1.0, 0.3
"""A part too many or too few, and for each of its terminals: moving both legs of a part is cheaper than taking it out and
putting another in."""

MORE_PINS, MOST_PINS = 0.1, 5
"""What each further terminal adds that a single wire may have taken along: one movement, but it weighs more."""

SUPPLY_SAYS = 50
"""A supply or a controller says more about a net than any part with so many legs."""

MOST_PERMUTED = 4
"""Like terminals that are tried in every order; no entry of the library has more in one block."""

Match = tuple[int, ...]
"""For each joint of a block of the reference the joint of the given block."""

Classes = dict[str, tuple[int, ...]]
"""The joints of a block by the class within which they may be exchanged."""


class Pairing(Struct, frozen=True):
    """``blocks`` maps block to (given block, match), ``nets`` net to net; ``cost`` all differences together."""

    blocks: dict[int, tuple[int, Match]]
    nets: dict[int, int]
    cost: float


class Pair:
    """The two forms with what is alike in them."""

    def __init__(self, reference: Form, given: Form, likes: Likes) -> None:
        self.reference, self.given, self.likes = reference, given, likes

    @cached_property
    def given_by_group(self) -> dict[str, list[int]]:
        """The parts of the given list by group."""
        return _by_group(self.given)

    @cached_property
    def reference_by_group(self) -> dict[str, list[int]]:
        return _by_group(self.reference)

    @cached_property
    def _kinds(self) -> tuple[list[int], list[int]]:
        """For each block the number of its kind of part, so that a cost is looked up and not worked out again."""
        numbers: dict[tuple[object, ...], int] = {}
        ours, theirs = ([numbers.setdefault((b.group, *identity(b.entry)), len(numbers)) for b in form.blocks]
                        for form in (self.reference, self.given))
        return ours, theirs

    @cached_property
    def _costs(self) -> dict[tuple[int, int], float]:
        """What is different about parts of two kinds of one group."""
        costs: dict[tuple[int, int], float] = {}
        firsts = dict(zip(self._kinds[0], self.reference.blocks))
        seconds = dict(zip(self._kinds[1], self.given.blocks))
        for one, a in firsts.items():
            for other, b in seconds.items():
                if a.group == b.group and a.parent is None:
                    found = self.likes.unlike(a.entry, b.entry)
                    costs[one, other] = COSTS[found.kind] if found is not None else 0.0
        return costs

    @cached_property
    def _class_lists(self) -> tuple[list[Classes], list[Classes]]:
        ours, theirs = ([_classes(block) for block in form.blocks] for form in (self.reference, self.given))
        return ours, theirs

    def may_pair(self, one: int, other: int) -> bool:
        return self.reference.blocks[one].group == self.given.blocks[other].group

    def base(self, one: int, other: int) -> float:
        """What is different about the blocks themselves."""
        a, b = self.reference.blocks[one], self.given.blocks[other]
        if a.parent is not None:
            idle = self.reference.is_idle(one) and self.given.is_idle(other)
            return OTHER_NUMBER if a.numbered and a.unit != b.unit and not idle else 0.0
        return self._costs[self._kinds[0][one], self._kinds[1][other]]

    def same_name(self, one: int, other: int) -> bool:
        a, b = self.reference.blocks[one], self.given.blocks[other]
        return a.key == b.key and a.unit == b.unit

    def matches(self, one: int, other: int) -> list[list[tuple[Match, Match]]]:
        """For each class of terminals the ways to match them: joints of the reference, joints of the given block."""
        ours, theirs = self._class_lists[0][one], self._class_lists[1][other]
        return [_orders(joints, theirs[key]) for key, joints in ours.items()]

    def turning(self, one: int, joint: int, other: int, given_joint: int) -> float:
        """What a terminal in the place of another costs by itself."""
        a = self.reference.blocks[one].joints[joint].terminal
        b = self.given.blocks[other].joints[given_joint].terminal
        return 0.0 if a.label == b.label or ANY in (a.label, b.label) else TURNING[a.loose]

    def best_match(self, one: int, other: int, nets: Mapping[int, int], owners: Mapping[int, int]) -> tuple[float, Match]:
        """The match with the fewest terminals on another net, and its cost without that of the blocks themselves."""
        a, b = self.reference.blocks[one], self.given.blocks[other]
        cost, match = 0.0, [0] * len(a.joints)
        for ways in self.matches(one, other):
            least, best = 1e9, ways[0]
            for way in ways:
                each = 0.0
                for i, j in zip(*way):
                    each += _elsewhere(a.joints[i].net, b.joints[j].net, nets, owners)
                    if a.joints[i].terminal.label != b.joints[j].terminal.label:
                        each += self.turning(one, i, other, j)
                if each < least - 1e-12:
                    least, best = each, way
            cost += least
            for i, j in zip(*best):
                match[i] = j
        return cost, tuple(match)

    # ── the cost of everything ────────────────────────────────────────────────────────────────────────────────────

    def overlaps(self, blocks: Mapping[int, tuple[int, Match]]) -> dict[tuple[int, int], int]:
        """How many terminals each net of the reference has in common with each given net."""
        found: dict[tuple[int, int], int] = {}
        for one, (other, match) in blocks.items():
            for joint, place in zip(self.reference.blocks[one].joints, match):
                key = joint.net, self.given.blocks[other].joints[place].net
                found[key] = found.get(key, 0) + 1
        return found

    def _telling(self, blocks: Mapping[int, tuple[int, Match]]) -> dict[tuple[int, int], int]:
        """How much the terminals say that each net of the reference has in common with each given net."""
        found: dict[tuple[int, int], int] = {}
        for one, (other, match) in blocks.items():
            block = self.reference.blocks[one]
            says = SUPPLY_SAYS if isinstance(block.entry, SupplyKind | Controller) else len(block.joints)
            for joint, place in zip(block.joints, match):
                key = joint.net, self.given.blocks[other].joints[place].net
                found[key] = max(found.get(key, 0), says)
        return found

    def finished(self, blocks: dict[int, tuple[int, Match]]) -> Pairing:
        """The pairing with the best nets for it, and its cost."""
        cost = sum(self.base(one, other) + sum(self.turning(one, i, other, j) for i, j in enumerate(match))
                   for one, (other, match) in blocks.items())
        taken = {other for other, _ in blocks.values()}
        cost += sum(left_out(b) for n, b in enumerate(self.reference.blocks) if b.parent is None and n not in blocks)
        cost += sum(left_out(b) for n, b in enumerate(self.given.blocks) if b.parent is None and n not in taken)
        overlaps = self.overlaps(blocks)
        nets = main_nets(overlaps, self._telling(blocks))
        cost += sum(weight(count) for key, count in overlaps.items() if nets.get(key[0]) != key[1])
        return Pairing(blocks, nets, cost)


def _by_group(form: Form) -> dict[str, list[int]]:
    groups: dict[str, list[int]] = {}
    for number, block in enumerate(form.blocks):
        if block.parent is None:
            groups.setdefault(block.group, []).append(number)
    return groups


def left_out(block: Block) -> float:
    """What a part costs that only one of the lists has, its units with it."""
    return LEFT_OUT + LEFT_OUT_PIN * block.width


def weight(count: int) -> float:
    """What it costs that so many terminals of one net are on another: one movement, of a leg or a wire."""
    return 1.0 + MORE_PINS * min(count - 1, MOST_PINS)


def main_nets(overlaps: Mapping[tuple[int, int], int], telling: Mapping[tuple[int, int], int]) -> dict[int, int]:
    """Which given net stands for which of the reference, so that the least is left over. Of equals, the nets with the more
    ``telling`` terminals stand for each other: what is left over then is a leg, and not the supply that it belongs to."""
    graph: nx.Graph[int] = nx.Graph()
    for (one, other), count in overlaps.items():
        graph.add_edge(2 * one, 2 * other + 1,
                       weight=100 * (round(1000 * weight(count)) + min(count, 900)) + min(telling[one, other], 99))
    nets: dict[int, int] = {}
    for found in nx.connected_components(graph):
        piece = graph.subgraph(sorted(found))
        for edge in piece.edges if len(found) == 2 else sorted(nx.max_weight_matching(piece)):
            one, other = sorted(edge, key=lambda node: node % 2)
            nets[one // 2] = other // 2
    return nets


def _elsewhere(net: int, given: int, nets: Mapping[int, int], owners: Mapping[int, int]) -> float:
    """1 where a terminal is on another net than it should be, something between where that is not known yet."""
    if nets.get(net) == given:
        return 0.0
    return 1.0 if net in nets or given in owners else 0.5


def _classes(block: Block) -> Classes:
    """The joints that may stand for each other: by loose class, else by label."""
    classes: Classes = {}
    for number, joint in enumerate(block.joints):
        key = joint.terminal.loose or f"= {joint.terminal.label}"
        classes[key] = (*classes.get(key, ()), number)
    return classes


@lru_cache(maxsize=4096)
def _orders(ours: tuple[int, ...], theirs: tuple[int, ...]) -> list[tuple[Match, Match]]:
    if len(ours) > MOST_PERMUTED:
        return [(ours, theirs)]
    return [(ours, order) for order in permutations(theirs)]
