"""The pairing with the smallest difference.

Input: two forms. Output: a pairing and whether a smaller difference was ruled out. Three steps: exact sameness (with
series in whatever order); else a grown pairing, improved by turns (the best blocks for these nets, the best nets for
these blocks) until nothing changes; then a search through all pairings that could still be better, within a bound.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
from msgspec import Struct

from checker.comparing.assignment import assign
from checker.comparing.exhaustive import improve
from checker.comparing.growing import Growth
from checker.comparing.pairing import MORE_PINS, MOST_PINS, Match, Pair, Pairing, left_out
from checker.comparing.refine import Isomorphism, isomorphism
from checker.comparing.vertices import Vertices, vertices_of

MOST_TURNS = 8
"""Turns of improvement: the second hardly ever changes anything."""

ONE_MOVEMENT = 1.0 + MORE_PINS * MOST_PINS
"""What a single movement costs at most: with fewer, nothing can be the same."""

SAME_NAME = 1e-4
"""A common name decides between equals and nothing else."""

Blocks = dict[int, tuple[int, Match]]


class Searched(Struct, frozen=True):
    """The best pairing found. ``exact`` where the circuits are the same but for what a pairing itself costs; ``proven``
    where nothing smaller exists."""

    pairing: Pairing
    exact: bool
    proven: bool


def search(pair: Pair, *, thorough: bool = True) -> Searched:
    """The smallest difference between the two forms; not ``thorough`` is without the search through all pairings."""
    given_up = False
    for bundled in (False, True):
        vertices = vertices_of(pair.reference, pair.given, pair.likes, bundled=bundled)
        found = isomorphism(vertices, _prefer(pair, vertices))
        given_up = given_up or found.bounded
        if found.mapping is not None and (blocks := _alike(pair, vertices, found.mapping)) is not None:
            return Searched(pair.finished(blocks), exact=True, proven=True)
    relaxed = vertices_of(pair.reference, pair.given, pair.likes, relaxed=True)
    turned = isomorphism(relaxed, _prefer(pair, relaxed))
    least = _least_step(turned)
    best = _grown(pair, least)
    if turned.mapping is not None:
        best = _turns(pair, _nets_of(relaxed, turned.mapping), best)
    improved, complete = improve(pair, best, least) if thorough else (best, False)
    return Searched(improved, exact=False, proven=(complete or improved.cost <= least * ONE_MOVEMENT) and not given_up)


def _least_step(turned: Isomorphism) -> float:
    """What any difference costs at least: a whole movement where turning parts alone does not make them the same."""
    return 1.0 if turned.mapping is None and not turned.bounded else 0.0


def _prefer(pair: Pair, vertices: Vertices) -> Callable[[int, int], bool]:
    def same(one: int, other: int) -> bool:
        blocks = vertices.block_of
        return one in blocks and other in blocks and pair.same_name(blocks[one], blocks[other])
    return same


def _alike(pair: Pair, vertices: Vertices, mapping: dict[int, int]) -> Blocks | None:
    """The blocks of an exact mapping; None where two parts in it are alike only by way of a third."""
    blocks = {vertices.block_of[one]: vertices.block_of[other] for one, other in mapping.items() if one in vertices.block_of}
    nets = _nets_of(vertices, mapping)
    owners = {other: one for one, other in nets.items()}
    for one, other in blocks.items():
        entry = pair.reference.blocks[one]
        found = pair.likes.unlike(entry.entry, pair.given.blocks[other].entry) if entry.parent is None else None
        if found is not None and found.kind != "equivalent-type":
            return None
    return _with_idle_units(pair, {one: (other, pair.best_match(one, other, nets, owners)[1]) for one, other in blocks.items()})


def _nets_of(vertices: Vertices, mapping: Mapping[int, int]) -> dict[int, int]:
    return {vertices.net_of[one]: vertices.net_of[other] for one, other in mapping.items() if one in vertices.net_of}


def _with_idle_units(pair: Pair, blocks: Blocks) -> Blocks:
    """Units that are left over on both sides, paired by their names first."""
    taken = {other for other, _ in blocks.values()}
    for one, units in pair.reference.children.items():
        theirs = [unit for unit in pair.given.children.get(blocks[one][0], ()) if unit not in taken] if one in blocks else []
        ours = [unit for unit in units if unit not in blocks]
        for mine in sorted(ours, key=lambda unit: not any(_same_unit(pair, unit, other) for other in theirs)):
            fitting = [other for other in theirs if pair.may_pair(mine, other)]
            if fitting:
                other = min(fitting, key=lambda unit: not _same_unit(pair, mine, unit))
                theirs.remove(other)
                blocks[mine] = other, pair.best_match(mine, other, {}, {})[1]
    return blocks


def _same_unit(pair: Pair, one: int, other: int) -> bool:
    return pair.reference.blocks[one].unit == pair.given.blocks[other].unit


# ── improving by turns ────────────────────────────────────────────────────────────────────────────────────────────


def _grown(pair: Pair, least: float) -> Pairing:
    """A grown pairing, improved by turns unless it costs no more than any difference does."""
    vertices = vertices_of(pair.reference, pair.given, pair.likes)
    growth = Growth(pair, vertices)
    mapping = growth.grow()
    owners_of = vertices.block_of
    nets = _nets_of(vertices, mapping)
    owners = {other: one for one, other in nets.items()}
    blocks: Blocks = {}
    for one, other in mapping.items():
        if one in owners_of:
            mine, theirs = owners_of[one], owners_of[other]
            blocks[mine] = theirs, pair.best_match(mine, theirs, nets, owners)[1]
    for mine in [number for number in blocks if pair.reference.blocks[number].parent is not None]:
        parents = pair.reference.blocks[mine].parent, pair.given.blocks[blocks[mine][0]].parent
        if blocks.get(parents[0] if parents[0] is not None else -1, (None,))[0] != parents[1]:
            del blocks[mine]
    first = pair.finished(_with_idle_units(pair, blocks))
    if first.cost <= least + 1e-9:
        return first
    best = _turns(pair, first.nets, first)
    return best if nets == first.nets else _turns(pair, nets, best)


def _turns(pair: Pair, nets: dict[int, int], before: Pairing) -> Pairing:
    """The best pairing that is reached by turns from these nets."""
    best: Pairing | None = None
    for _ in range(MOST_TURNS):
        found = pair.finished(best_blocks(pair, nets))
        if best is not None and found.cost >= best.cost - 1e-9:
            break
        best, nets = found, found.nets
    assert best is not None
    return best if best.cost < before.cost else before


def best_blocks(pair: Pair, nets: dict[int, int]) -> Blocks:
    """For each group of parts the assignment that fits the nets best, units within their parts."""
    owners = {other: one for one, other in nets.items()}
    blocks: Blocks = {}
    for group, ours in pair.reference_by_group.items():
        theirs = pair.given_by_group.get(group, [])
        for one, other in _assigned(pair, ours, theirs, nets, owners):
            blocks[one] = other, pair.best_match(one, other, nets, owners)[1]
            blocks.update(_units(pair, one, other, nets, owners)[1])
    return blocks


def _assigned(pair: Pair, ours: list[int], theirs: list[int], nets: dict[int, int],
              owners: dict[int, int]) -> list[tuple[int, int]]:
    """Pairs of blocks at the least cost together; one that is left out costs as much as a part too many."""
    if not ours or not theirs:
        return []
    size = len(ours) + len(theirs)
    costs = np.zeros((size, size))
    wanted = [{nets.get(joint.net) for joint in pair.reference.blocks[one].joints} for one in ours]
    standing = [{joint.net if joint.net in owners else None for joint in pair.given.blocks[other].joints} for other in theirs]
    costs[:len(ours), len(theirs):] = left_out(pair.reference.blocks[ours[0]])
    costs[len(ours):, :len(theirs)] = left_out(pair.given.blocks[theirs[0]])
    for row, one in enumerate(ours):
        for column, other in enumerate(theirs):
            near = one in pair.reference.children or None in wanted[row] or None in standing[column] \
                or not wanted[row].isdisjoint(standing[column])
            costs[row, column] = _pair_cost(pair, one, other, nets, owners) if near else _far_cost(pair, one, other)
    found = assign(costs)
    return [(one, theirs[found[row]]) for row, one in enumerate(ours) if found[row] < len(theirs)]


def _far_cost(pair: Pair, one: int, other: int) -> float:
    """The cost of two blocks that have no net in common: every terminal is elsewhere."""
    return pair.base(one, other) + len(pair.reference.blocks[one].joints) - SAME_NAME * pair.same_name(one, other)


def _pair_cost(pair: Pair, one: int, other: int, nets: dict[int, int], owners: dict[int, int]) -> float:
    cost = pair.base(one, other) + pair.best_match(one, other, nets, owners)[0]
    if pair.same_name(one, other):
        cost -= SAME_NAME
    return cost + (_units(pair, one, other, nets, owners)[0] if one in pair.reference.children else 0.0)


def _units(pair: Pair, one: int, other: int, nets: dict[int, int], owners: dict[int, int]) -> tuple[float, Blocks]:
    """The units of a pair of parts, assigned kind by kind."""
    cost, blocks = 0.0, Blocks()
    ours, theirs = pair.reference.children.get(one, ()), pair.given.children.get(other, ())
    for group in dict.fromkeys(pair.reference.blocks[unit].group for unit in ours):
        mine = [unit for unit in ours if pair.reference.blocks[unit].group == group]
        yours = [unit for unit in theirs if pair.given.blocks[unit].group == group]
        if len(mine) == len(yours):
            matches = [[pair.best_match(a, b, nets, owners) for b in yours] for a in mine]
            costs = np.array([[matches[i][j][0] + pair.base(a, b) - SAME_NAME * pair.same_name(a, b)
                               for j, b in enumerate(yours)] for i, a in enumerate(mine)])
            for row, column in enumerate(assign(costs)):
                cost += float(costs[row, column])
                blocks[mine[row]] = yours[column], matches[row][column][1]
    return cost, blocks
