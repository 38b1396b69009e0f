"""Ends: what a hand can take out of one hole and put into another, and where it fits.

Input: a circuit; output: its ends, free holes for them, and the candidate that moves one.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.seating.boards import COLUMNS, Strip, name_of
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole, MarkAt, Part, PlacedIn, Point, Rail, Supply, Wire


class End(Struct, frozen=True):
    """One movable end: its point, what it belongs to, and how a person calls it."""

    point: Hole | Rail
    statement: Wire | Part | Supply
    words: str
    part: str = ""


def ends_of(circuit: Circuit) -> Iterator[End]:
    """Every end that a hand can move: of wires, of supplies' leads, and the legs of parts that are put ``in`` holes."""
    for wire in circuit.bench.wires:
        colour = f"{wire.colour} " if wire.colour else ""
        for point in wire.points:
            if isinstance(point, Hole | Rail):
                yield End(point, wire, f"the {colour}wire's end at {name_of(point)}")
    for part in circuit.bench.parts.values():
        if isinstance(part.statement, Supply):
            for point in part.statement.terminals:
                if isinstance(point, Hole | Rail):
                    yield End(point, part.statement, f"{part.name}'s lead at {name_of(point)}", part.name)
        elif isinstance(part.statement.place, PlacedIn) and part.entry is not None:
            for point in part.statement.place.points:
                if isinstance(point, Hole | Rail):
                    yield End(point, part.statement, f"{part.name}'s leg at {name_of(point)}", part.name)


def moved(circuit: Circuit, end: End, to: str, effort: float, cause: str = "", **facts: str) -> Candidate:
    """The candidate that moves an end to a hole or rail."""
    draft = Draft(circuit.bench.tree.lines)
    put(draft, end, to)
    what = end.words.split(" at ")[0].removesuffix("'s end")
    return Candidate(say=f"move {end.words} to {to}", edits=draft.edits(), effort=effort, cause=cause,
                     parts=(end.part,) if end.part else (), points=(name_of(end.point), to), line=end.statement.span.line,
                     facts={"moved": what, "from": name_of(end.point), "to": to, **facts})


def put(draft: Draft, end: End, to: str) -> None:
    """An end moved to another place, with the marks of its part that point there."""
    draft.replace(end.point.span, to)
    if isinstance(end.statement, Part):
        for mark in end.statement.marks:
            if isinstance(mark, MarkAt) and _same(mark.point, end.point):
                draft.replace(mark.point.span, to)


def _same(one: Point, other: Point) -> bool:
    return isinstance(one, Hole | Rail) and isinstance(other, Hole | Rail) and name_of(one) == name_of(other)


def free_hole(circuit: Circuit, hole: Hole, row: int, places: Places) -> str | None:
    """The hole of the same column in another row, or the nearest free one of that strip; None outside the board, and
    where nothing else is in that strip: moving there cures nothing."""
    plan = plan_for(circuit.reading.plans, hole)
    if plan is None or not 1 <= row <= plan.rows:
        return None
    if Strip(plan.name, row, "a" if hole.column <= "e" else "f") not in circuit.net_of:
        return None
    prefix = f"{hole.board}:" if hole.board else ""
    wanted = f"{prefix}{hole.column}{row}"
    if wanted.lower() not in places.taken:
        return wanted
    half = "a" if hole.column <= "e" else "f"
    columns = COLUMNS[:5] if half == "a" else COLUMNS[5:]
    free = [f"{prefix}{c}{row}" for c in columns if f"{prefix}{c}{row}".lower() not in places.taken]
    return min(free, key=lambda h: abs(columns.index(h[len(prefix)]) - columns.index(hole.column)), default=None)


def strip_of(circuit: Circuit, end: End) -> Strip | None:
    """The strip that an end is in; None for a rail."""
    plan = plan_for(circuit.reading.plans, end.point)
    return plan.strip(end.point) if plan is not None and isinstance(end.point, Hole) else None


def is_lonely(circuit: Circuit, end: End) -> bool:
    """True where nothing else is in the strip of an end: it serves nobody there."""
    strip = strip_of(circuit, end)
    legs = sum(conductor == strip for conductor in circuit.conductor_of.values())
    ends = sum(conductor == strip for jumper in circuit.jumpers for conductor in jumper.conductors)
    return legs + ends <= 1
