"""Another type of transistor or regulator in the holes of one: turned, or with what stands in its strips moved along;
and the type itself, wired as another one is.

Input: a placed part with three legs and the entry that is to take its place; output: edits and the words for them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import permutations

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.ends import End, ends_of, put, strip_of
from checker.fixes.places import holes_of
from checker.fixes.turning import opposite_face
from checker.seating import orientation
from checker.seating.boards import name_of
from grammar.syntax_tree import Hole, MarkFaces, Part
from parts_library.schema import AnyEntry, Bipolar, Mosfet, Regulator

MOST_MOVED = 8
"""More ends than this are no change that a hand makes in place of a part."""


def relegged(circuit: Circuit, draft: Draft, part: BenchPart, other: AnyEntry) -> str | None:
    """Puts into a draft what the legs of the other type ask for, and says it; "" where nothing changes, None where that cannot
    be written: without a face that is said, or with something in the strips that a hand does not move."""
    if not part.placed:
        return "" if set(part.pins) == set(other.pins) else None
    statement = part.statement
    mark = next((m for m in statement.marks if isinstance(m, MarkFaces)), None) if isinstance(statement, Part) else None
    if mark is None or not isinstance(statement, Part) or statement.claim is not None or set(part.pins) != set(other.pins):
        return None
    holes = holes_of(statement)
    legs = circuit.reading.seats[part.name.lower()].legs
    if len(holes) != 3:
        return None
    return _turned_or_moved(circuit, draft, statement, mark, {pin: name_of(spot) for pin, spot in legs.items()}, holes, other)


def _turned_or_moved(circuit: Circuit, draft: Draft, statement: Part, mark: MarkFaces, legs: dict[str, str],
                     holes: tuple[Hole, ...], other: AnyEntry) -> str | None:
    package = circuit.bench.library.packages.get(other.package or "")
    if package is None or package.form not in ("to92", "to220"):
        return None
    here = orientation.facing_of(mark, holes)
    # the tab is behind the printed front
    face = orientation.opposite(here) if mark.mark == "tab" else here
    word = "flat" if package.form == "to92" else "front"
    for facing in (face, orientation.opposite(face)):
        ordered = [name_of(spot) for spot in orientation.order_by_facing(holes, facing)]
        if dict(zip(other.pins, ordered)) == legs:
            return _faced(draft, statement, mark, word, looks_there=facing == here)
    ordered = [name_of(spot) for spot in orientation.order_by_facing(holes, face)]
    moves = _moves(circuit, statement, {legs[pin]: hole for pin, hole in zip(other.pins, ordered)}, holes)
    if moves is None:
        return None
    _faced(draft, statement, mark, word, looks_there=face == here)
    for end, to in moves:
        put(draft, end, to)
    said = ", ".join(f"{end.words} to {to}" for end, to in moves)
    return f": its legs are {' '.join(other.pins)} from the left of its {word}, so move {said}"


WIRED_OTHERWISE = 1.45
"""Effort of moving all that stands beside a part's legs: more than turning the part round, less than to guess at each lead."""


def rewired(circuit: Circuit, near: Collection[str]) -> Iterator[Candidate]:
    """Of the parts of these names those with three legs, wired as for another order of them: all that stands beside each leg goes
    to the leg that it was meant for. The order from behind is left out: then the part is turned round."""
    for key in sorted({name.lower() for name in near} & set(circuit.reading.seats)):
        part = circuit.bench.parts[key]
        statement = part.statement
        if not isinstance(part.entry, Regulator | Bipolar | Mosfet) or not isinstance(statement, Part) or len(part.pins) != 3:
            continue
        holes, legs = holes_of(statement), circuit.reading.seats[key].legs
        if len(holes) != 3:
            continue
        at = {pin: name_of(spot) for pin, spot in legs.items()}
        here = [next(pin for pin, spot in at.items() if spot == name_of(hole)) for hole in holes]
        for meant in permutations(here):
            if list(meant) in (here, here[::-1]):
                continue
            moves = _moves(circuit, statement, {name_of(hole): at[pin] for hole, pin in zip(holes, meant)}, holes)
            if moves:
                yield _as_meant(circuit, part, here, moves)


def _as_meant(circuit: Circuit, part: BenchPart, here: Sequence[str], moves: Sequence[tuple[End, str]]) -> Candidate:
    draft = Draft(circuit.bench.tree.lines)
    for end, to in moves:
        put(draft, end, to)
    said = ", ".join(f"{end.words} to {to}" for end, to in moves)
    cause = "regulator-legs-swapped" if isinstance(part.entry, Regulator) else "transistor-legs-swapped"
    holes = [circuit.place_of[part.name.lower(), pin] for pin in here]
    return Candidate(say=f"{part.name} has {' '.join(here)} in {' '.join(holes)}: move {said}", edits=draft.edits(),
                     effort=WIRED_OTHERWISE + 0.05 * len(moves), cause=cause, parts=(part.name,), points=tuple(holes),
                     line=part.span.line)


def _faced(draft: Draft, statement: Part, mark: MarkFaces, word: str, *, looks_there: bool) -> str:
    """The mark under the name that the other package has for it, and where that looks."""
    text = mark_words(mark) if looks_there else opposite_face(mark, statement)
    if looks_there and mark.mark == word:
        return ""
    draft.replace(mark.span, f"{word} {text}")
    return f", with its {word} {text.replace('faces', 'facing', 1)}"


def mark_words(mark: MarkFaces) -> str:
    """The words of a face as they are written: ``faces a``."""
    return f"faces {mark.towards or mark.column or f'row {mark.row}'}"


def _moves(circuit: Circuit, statement: Part, new_hole: dict[str, str],
           holes: tuple[Hole, ...]) -> list[tuple[End, str]] | None:
    """Every other end in the strips of the part, with where it goes so that each pin keeps what is joined to it; None where
    something stands in them that is no end, or too much does."""
    row_of = {name_of(hole): hole.row for hole in holes}
    new_row = {row_of[old]: row_of[new] for old, new in new_hole.items()}
    own = {conductor_at(circuit, hole) for hole in holes}
    ends = [end for end in ends_of(circuit) if end.statement is not statement and strip_of(circuit, end) in own]
    legs = sum(conductor in own for conductor in circuit.conductor_of.values())
    if len(new_row) != 3 or len({hole.column <= "e" for hole in holes}) != 1 or len(ends) > MOST_MOVED \
            or legs - 3 > sum(bool(end.part) for end in ends):
        return None
    moves = []
    for end in ends:
        assert isinstance(end.point, Hole)
        to = new_row[end.point.row]
        if to != end.point.row:
            prefix = f"{end.point.board}:" if end.point.board else ""
            moves.append((end, f"{prefix}{end.point.column}{to}"))
    return moves
