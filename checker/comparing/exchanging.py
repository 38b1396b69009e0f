"""Two that are each where the other belongs: two leads of one part, or two parts. One thing to do, not two.

Input: differences with the nets that they are between. Output: the same with such pairs brought together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct, structs

from checker.comparing.form import Block
from checker.comparing.model import Difference
from checker.comparing.naming import Names
from checker.comparing.orienting import marked
from checker.comparing.shapes import ANY


class Told(Struct, frozen=True):
    """A difference with the two nets it is between: those of the reference that are joined here, or the given ones that
    are apart. Empty where there are not two. ``swap`` is, of a single moved terminal, the net it belongs to and the net it
    is on, both of the reference. ``ends`` says, of a wire that joins two nets of the reference, which end is on which."""

    difference: Difference
    joined: frozenset[int] = frozenset()
    apart: frozenset[int] = frozenset()
    swap: tuple[int, ...] = ()
    ends: dict[int, str] = {}


def exchanged(names: Names, told: Iterable[Told]) -> Iterator[Difference]:
    """The differences, with what is exchanged as one."""
    left = list(told)
    while left:
        one = left.pop(0)
        turned_back = [two for two in left if one.swap and two.swap == one.swap[::-1]]
        same = next((two for two in turned_back if one.difference.parts == two.difference.parts), None)
        other = same or next((two for two in turned_back if _stand_for_each_other(names, one, two)), None)
        if other is None:
            yield one.difference
            continue
        left.remove(other)
        yield _leads(one.difference, other.difference) if same else _parts(names, one.difference, other.difference)


def _leads(one: Difference, other: Difference) -> Difference:
    pins = [each.say.split(" goes to ")[0] for each in (one, other)]
    return _both(one, other, say=f"what is at {pins[0]} and at {pins[1]} is exchanged",
                 hand=f"exchange the leads at {pins[0]} and {pins[1]}")


def _both(one: Difference, other: Difference, *, say: str, hand: str) -> Difference:
    return structs.replace(one, kind="exchanged", cost=one.cost + other.cost, say=say, hand=hand,
                           points=tuple(dict.fromkeys((*one.points, *other.points))))


# ── two parts ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _stand_for_each_other(names: Names, one: Told, other: Told) -> bool:
    """True for two parts on the board with two legs each, of which one leg is the trouble and the other nets are the same."""
    blocks = [_block_of(names, each.difference) for each in (one, other)]
    if None in blocks or blocks[0] == blocks[1]:
        return False
    circuit = names.given.circuit
    if not all(circuit.bench.parts[names.given.blocks[block].key].placed for block in blocks if block is not None):
        return False
    wanted, found = ([_nets(names, block, reference) for block in blocks if block is not None] for reference in (True, False))
    return wanted[0] == found[1] and wanted[1] == found[0]


def _block_of(names: Names, one: Difference) -> int | None:
    """The part with two terminals that a difference is about."""
    if len(one.parts) != 1:
        return None
    return next((number for number, block in enumerate(names.given.blocks)
                 if names.given.name(number) == one.parts[0] and len(block.joints) == 2 and block.parent is None), None)


def _nets(names: Names, block: int, reference: bool) -> frozenset[int]:
    """The given nets that a part should be on, or is on."""
    if not reference:
        return frozenset(joint.net for joint in names.given.blocks[block].joints)
    ours = names.reference.blocks[names.back[block]]
    return frozenset(names.pairing.nets.get(joint.net, -1) for joint in ours.joints)


def _parts(names: Names, one: Difference, other: Difference) -> Difference:
    blocks = [_block_of(names, each) for each in (one, other)]
    marks = [_mark(names, block, instead) for block, instead in (blocks, blocks[::-1])
             if block is not None and instead is not None]
    said = "; ".join(f"{names.given.name(block)}'s {mark}" for block, mark in zip(blocks, marks) if mark and block is not None)
    both = (one.parts[0], other.parts[0])
    found = _both(one, other, say=f"{both[0]} and {both[1]} are in each other's places",
                  hand=f"put {both[0]} and {both[1]} each in the other's holes{f': {said}' if said else ''}")
    return structs.replace(found, parts=both, reference_parts=(*one.reference_parts, *other.reference_parts),
                           points=tuple(_holes(names, blocks)))


def _holes(names: Names, blocks: list[int | None]) -> Iterator[str]:
    for block in blocks:
        if block is not None:
            yield from (names.place(block, joint) for joint in names.given.blocks[block].joints)


def _mark(names: Names, block: int, instead: int) -> str:
    """Which way round a part goes in the holes of the other."""
    ours: Block = names.reference.blocks[names.back[block]]
    holes = {joint.net: names.place(instead, joint) for joint in names.given.blocks[instead].joints}
    places = {joint.terminal.label: holes.get(names.pairing.nets.get(joint.net, -1), "") for joint in ours.joints}
    return "" if ANY in places else marked(ours.entry, places)
