"""Slips that are larger than a row or a sign: across the channel, in the rail of the other side, a whole part mirrored.

Input: a circuit. Output: slips, as edits of the list's text, in the same form as the smaller ones.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.draft import Draft
from checker.fixes.ends import ends_of
from checker.fixes.places import Places
from checker.seating.boards import COLUMNS, name_of
from checker.seating.two_legs import is_symmetric
from checker.slips import Slip
from checker.slips.moved import bends, slip_to
from grammar.syntax_tree import Hole, Part, PlacedIn, Rail


def displaced(circuit: Circuit) -> Iterator[Slip]:
    """Every end across the channel or in the rail of the other side; every symmetric part with both legs across."""
    places = Places(circuit)
    for end in ends_of(circuit):
        if isinstance(end.statement, Part) and not bends(circuit.bench.parts[end.part.lower()]):
            continue
        to = across(end.point, places) if isinstance(end.point, Hole) else other_side(end.point)
        yield from slip_to(circuit, end, to)
    for part in circuit.bench.parts.values():
        place = part.statement.place if isinstance(part.statement, Part) else None
        if isinstance(place, PlacedIn) and part.entry is not None and is_symmetric(part.entry):
            holes = [point for point in place.points if isinstance(point, Hole)]
            if len(holes) == 2 == len(place.points):
                draft = Draft(circuit.bench.tree.lines)
                there = [across(hole, places) for hole in holes]
                for hole, to in zip(holes, there, strict=True):
                    draft.replace(hole.span, to)
                yield Slip(at=part.name, line=part.span.line, right=f"it sits in {' '.join(map(name_of, holes))}",
                           wrong=f"in {' '.join(there)}", edits=draft.edits())


def across(hole: Hole, places: Places) -> str:
    """The hole as far from the channel on its other side, or a free one of that row."""
    prefix = f"{hole.board}:" if hole.board else ""
    mirrored = COLUMNS[len(COLUMNS) - 1 - COLUMNS.index(hole.column)]
    half = COLUMNS[:5] if mirrored <= "e" else COLUMNS[5:]
    free = [f"{prefix}{column}{hole.row}" for column in (mirrored, *half)]
    return next((name for name in free if name.lower() not in places.taken), free[0])


def other_side(rail: Rail) -> str:
    """The rail of the same sign on the other side of the board."""
    prefix = f"{rail.board}:" if rail.board else ""
    return f"{prefix}{'R' if rail.side == 'L' else 'L'}{rail.sign}{rail.row or ''}"
