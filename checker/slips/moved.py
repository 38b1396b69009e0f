"""Ends put into the wrong place: a leg or a wire's end a row off, a lead in the other rail, a chip a row off."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.draft import Draft
from checker.fixes.ends import End, ends_of, free_hole
from checker.fixes.places import Places
from checker.fixes.shifting import chips_by_row
from checker.seating.boards import name_of
from checker.seating.seat import plan_for
from checker.slips.model import Slip
from checker.slips.turned import pins_by_hole, reseated
from checker.slips.wires import wire_in_words
from grammar.syntax_tree import Hole, MarkAt, Part, PlacedIn, Rail, Supply, Wire
from parts_library.schema import Chip, LedGroup, Switch

STEPS = (1, -1)
"""A row is missed by one: the likeliest slip of counting (common practice, no source)."""

MOST_BENDABLE_LEGS = 3
"""Legs that bend one by one; a part with more of them goes in as a whole, but for a lamp of several colours."""


def moved(circuit: Circuit) -> Iterator[Slip]:
    """Every end a row off or in the other rail; every part that goes in as a whole, a row off."""
    for end in ends_of(circuit):
        if isinstance(end.statement, Part) and not bends(circuit.bench.parts[end.part.lower()]):
            continue
        if isinstance(end.point, Hole):
            yield from _rows(circuit, end, end.point)
        else:
            yield from slip_to(circuit, end, _other_rail(end.point))
    for candidate in chips_by_row(circuit):
        yield Slip(at=candidate.parts[0], line=candidate.line, right=f"it sits in {candidate.facts['from']}",
                   wrong=f"in {candidate.facts['to']}", edits=candidate.edits)
    for part in circuit.bench.parts.values():
        if isinstance(part.statement, Part) and part.entry is not None and not bends(part):
            yield from _whole(circuit, part, part.statement)


def bends(part: BenchPart) -> bool:
    """True for a part of which a single leg can be put elsewhere."""
    if isinstance(part.entry, LedGroup):
        return len(part.pins) <= MOST_BENDABLE_LEGS + 1
    return (len(part.pins) <= MOST_BENDABLE_LEGS and not isinstance(part.entry, Chip | Switch)) or len(part.pins) == 2


def _rows(circuit: Circuit, end: End, hole: Hole) -> Iterator[Slip]:
    """Into each next strip that is in use; and once into one that is not, where the end hangs loose."""
    loose = ""
    for step in STEPS:
        to = free_hole(circuit, hole, hole.row + step, Places(circuit))
        if to is not None:
            yield from slip_to(circuit, end, to)
        elif not loose:
            loose = _unused(circuit, hole, hole.row + step)
            yield from slip_to(circuit, end, loose)


def _unused(circuit: Circuit, hole: Hole, row: int) -> str:
    """The hole of the same column in a row of which nothing is in use, or ""."""
    plan = plan_for(circuit.reading.plans, hole)
    if plan is None or not 1 <= row <= plan.rows:
        return ""
    there = Hole(hole.column, row, "", hole.span, hole.board)
    return "" if plan.strip(there) in circuit.net_of else name_of(there)


def _other_rail(rail: Rail) -> str:
    prefix = f"{rail.board}:" if rail.board else ""
    return f"{prefix}{rail.side}{'-' if rail.sign == '+' else '+'}{rail.row or ''}"


def slip_to(circuit: Circuit, end: End, to: str) -> Iterator[Slip]:
    """The end at ``to``; a part with three legs keeps each of them as it was seated."""
    if not to:
        return
    draft = Draft(circuit.bench.tree.lines)
    if isinstance(end.statement, Part):
        part = circuit.bench.parts[end.part.lower()]
        if len(part.pins) > 2:
            seated = reseated(circuit, part, pins_by_hole(circuit, part))
            if seated is None:
                return
            draft = seated
        else:
            for mark in end.statement.marks:
                if isinstance(mark, MarkAt) and isinstance(mark.point, Hole | Rail) and _same(mark.point, end.point):
                    draft.replace(mark.point.span, to)
    draft.replace(end.point.span, to)
    right, at = _in_words(end)
    yield Slip(at=at, line=end.statement.span.line, right=right, wrong=f"in {to}", edits=draft.edits())


def _same(one: Hole | Rail, other: Hole | Rail) -> bool:
    return name_of(one) == name_of(other)


def _in_words(end: End) -> tuple[str, str]:
    """How the end belongs, and what it is an end of."""
    place = name_of(end.point)
    if isinstance(end.statement, Wire):
        return f"its end belongs in {place}", wire_in_words(end.statement)
    if isinstance(end.statement, Supply):
        plus = end.statement.terminals[0].span == end.point.span
        return f"its {'plus' if plus else 'minus'} belongs to {place}", end.part
    return f"its leg belongs in {place}", end.part


def _whole(circuit: Circuit, part: BenchPart, statement: Part) -> Iterator[Slip]:
    """A part that is given by its holes, all of them a row off."""
    place = statement.place
    if not isinstance(place, PlacedIn):
        return
    holes = [point for point in place.points if isinstance(point, Hole)]
    for step in STEPS:
        there = {name_of(hole): Hole(hole.column, hole.row + step, "", hole.span, hole.board) for hole in holes}
        seated = reseated(circuit, part, pins_by_hole(circuit, part))
        plan = plan_for(circuit.reading.plans, holes[0]) if holes else None
        if seated is None or plan is None or not all(plan.has_hole(hole) for hole in there.values()):
            continue
        for hole in holes:
            seated.replace(hole.span, name_of(there[name_of(hole)]))
        yield Slip(at=part.name, line=statement.span.line, right=f"its first leg belongs in {name_of(holes[0])}",
                   wrong=f"all of it {'down' if step > 0 else 'up'} by one row", edits=seated.edits())
