"""Candidates that move a part as a whole: by a row, onto the channel, to its other side.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from msgspec import structs

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.rules.base import Found
from checker.seating.boards import COLUMNS, name_of
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole, MarkAt, Notch, Part, PlacedAcross, PlacedIn

AS_A_WHOLE = 1.35
"""A chip that was found moves as a whole before any of its leads does: where that cures, all of them are wrong alike."""


def found_chips_by_row(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The chips that findings are about moved by one row."""
    names = {name for one in found for name in one.parts}
    for candidate in chips_by_row(circuit):
        if names & set(candidate.parts):
            yield structs.replace(candidate, effort=AS_A_WHOLE)


def chips_by_row(circuit: Circuit) -> Iterator[Candidate]:
    """Parts across the channel moved as a whole by one row: what is written of their notch and dot is said of the part as it
    lies, and moves too."""
    for part in circuit.bench.parts.values():
        statement = part.statement
        if isinstance(statement, Part) and isinstance(statement.place, PlacedAcross):
            place = statement.place
            for step in (1, -1):
                first, last = place.first_row + step, place.last_row + step
                if first < 1:
                    continue
                draft = Draft(circuit.bench.tree.lines)
                line = circuit.bench.tree.lines[place.span.line - 1]
                text = line[place.span.column - 1:place.span.end_column - 1]
                draft.replace(place.span, text.replace(str(place.first_row), "\0", 1).replace(
                    str(place.last_row), str(last), 1).replace("\0", str(first), 1))
                _move_marks(draft, statement, step)
                yield Candidate(say=f"move {part.name} by one row: rows {first}-{last}", edits=draft.edits(),
                                effort=1.6, cause="next-strip", parts=(part.name,), line=statement.span.line,
                                facts={"from": f"rows {place.first_row}-{place.last_row}",
                                       "to": f"rows {first}-{last}"})


def parts_by_row(circuit: Circuit, near: Collection[str]) -> Iterator[Candidate]:
    """The parts of these names, all their legs moved by one row; a hole that is taken gives way to a free one of its strip."""
    for key in sorted({name.lower() for name in near} & set(circuit.reading.seats)):
        part = circuit.bench.parts[key]
        statement = part.statement
        if not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn):
            continue
        holes = [point for point in statement.place.points if isinstance(point, Hole)]
        for step in (1, -1) if 2 <= len(holes) == len(statement.place.points) else ():
            moved = _by_row(circuit, holes, step)
            if moved is not None:
                draft = Draft(circuit.bench.tree.lines)
                for spot in (*holes, *(mark.point for mark in statement.marks if isinstance(mark, MarkAt))):
                    if isinstance(spot, Hole) and name_of(spot) in moved:
                        draft.replace(spot.span, moved[name_of(spot)])
                to = " ".join(moved.values())
                yield Candidate(say=f"move {part.name} by one row: {to}", edits=draft.edits(),
                                effort=AS_A_WHOLE - 0.05 if len(holes) > 2 else 1.6, cause="next-strip", parts=(part.name,),
                                points=tuple(moved), line=statement.span.line, facts={"from": " ".join(moved), "to": to})


def _by_row(circuit: Circuit, holes: Sequence[Hole], step: int) -> dict[str, str] | None:
    """For each hole the one that a leg moves to; None where there is none."""
    places = Places(circuit)
    taken = places.taken - {name_of(hole).lower() for hole in holes}
    moved: dict[str, str] = {}
    for hole in holes:
        half = COLUMNS[:5] if hole.column <= "e" else COLUMNS[5:]
        prefix = f"{hole.board}:" if hole.board else ""
        names = [f"{prefix}{column}{hole.row + step}" for column in (hole.column, *half)]
        plan = plan_for(circuit.reading.plans, hole)
        if plan is None or not plan.has_hole(structs.replace(hole, row=hole.row + step)):
            return None
        to = next((name for name in names if name.lower() not in taken), None)
        if to is None:
            return None
        taken.add(to.lower())
        moved[name_of(hole)] = to
    return moved


def _move_marks(draft: Draft, statement: Part, step: int) -> None:
    """Notch and dot go with the part."""
    for mark in statement.marks:
        if isinstance(mark, Notch) and mark.row is not None:
            draft.replace(mark.span, f"notch row {mark.row + step}")
        elif isinstance(mark, MarkAt) and isinstance(mark.point, Hole):
            hole = mark.point
            draft.replace(hole.span, f"{f'{hole.board}:' if hole.board else ''}{hole.column}{hole.row + step}")


def onto_channel(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A chip or button that does not straddle the channel, put across it."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.rule == "not-across-channel" else None
        if part is not None and isinstance(part.statement, Part) and isinstance(part.statement.place, PlacedAcross):
            place = part.statement.place
            rows = f"{place.first_row}-{place.last_row}"
            prefix = f"{place.board}:" if place.board else ""
            words = f"across {prefix}{rows}" + (" turned" if place.turned else "")
            draft = Draft(circuit.bench.tree.lines).replace(place.span, words)
            yield Candidate(say=f"move {part.name} across the channel, into columns e and f", edits=draft.edits(),
                            effort=1.2, cause="not-across-channel", parts=(part.name,), line=part.statement.span.line)


def parts_across_channel(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A part with a loose leg, moved as a whole to the other side of the channel."""
    names = {name.lower() for one in found if one.rule == "dangling-lead" for name in one.parts}
    for key in names & set(circuit.reading.seats):
        statement = circuit.bench.parts[key].statement
        if not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn):
            continue
        holes = [point for point in statement.place.points if isinstance(point, Hole)]
        places = Places(circuit)
        mirrored = {name_of(hole): _mirrored(hole) for hole in holes}
        if len(holes) < len(statement.place.points) or any(to.lower() in places.taken for to in mirrored.values()):
            mirrored = {name_of(hole): to for hole in holes if (to := _free_opposite(circuit, hole, places)) is not None}
            if len(mirrored) < len(statement.place.points):
                continue
        draft = Draft(circuit.bench.tree.lines)
        for hole in holes:
            draft.replace(hole.span, mirrored[name_of(hole)])
        for mark in statement.marks:
            if isinstance(mark, MarkAt) and isinstance(mark.point, Hole) and name_of(mark.point) in mirrored:
                draft.replace(mark.point.span, mirrored[name_of(mark.point)])
        name = circuit.bench.parts[key].name
        yield Candidate(say=f"move {name} across the channel: {' '.join(mirrored.values())}", edits=draft.edits(), effort=1.4,
                        cause="dangling-lead", parts=(name,), points=tuple(mirrored), line=statement.span.line)


def _mirrored(hole: Hole) -> str:
    """The hole of the same row at the mirror image of the column."""
    prefix = f"{hole.board}:" if hole.board else ""
    return f"{prefix}{COLUMNS[9 - COLUMNS.index(hole.column)]}{hole.row}"


def _free_opposite(circuit: Circuit, hole: Hole, places: Places) -> str | None:
    """A free hole of the row's other half."""
    prefix = f"{hole.board}:" if hole.board else ""
    columns = COLUMNS[5:] if hole.column <= "e" else COLUMNS[4::-1]
    return next((f"{prefix}{c}{hole.row}" for c in columns if f"{prefix}{c}{hole.row}".lower() not in places.taken), None)
