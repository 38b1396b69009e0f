"""What a list says of one part that cannot all be true, and what to write for each way that the part may sit.

Input is a part with one of its seats; output the marks and the claim that speak against that seat, and the change of the
line that leaves this seat alone. Nothing is assumed of how marks are read: each is seated by itself, and the changed
line is read and seated again.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct, structs

from checker.bench.model import BenchPart
from checker.seating.boards import name_of
from checker.seating.model import Seat
from checker.seating.options import seats_of
from grammar import read
from grammar.syntax_tree import Claim, MarkAt, MarkFaces, Notch, Part, Span
from parts_library.schema import Package


class Told(Struct, frozen=True):
    """What makes a seat the only one: words to ``add`` to the line (a claim in place of the one that is there), and the
    stretches to take out of it."""

    add: str = ""
    drop: tuple[Span, ...] = ()


def speaks_against(part: BenchPart, package: Package | None, seat: Seat) -> tuple[MarkAt | MarkFaces | Notch | Claim, ...]:
    """The marks and the claim, in the order of the line, that taken alone leave no seat like this one."""
    statement = part.statement
    if not isinstance(statement, Part):
        return ()
    said: list[MarkAt | MarkFaces | Notch | Claim] = [*statement.marks, *([statement.claim] if statement.claim else [])]
    alone = [(one, _seats(part, package, structs.replace(
        statement, marks=() if isinstance(one, Claim) else (one,), claim=one if isinstance(one, Claim) else None)))
        for one in sorted(said, key=lambda one: one.span)]
    return tuple(one for one, seats in alone if seats and all(_where(other) != _where(seat) for other in seats))


def answer_of(part: BenchPart, package: Package | None, seat: Seat, order: str, lines: tuple[str, ...]) -> Told:
    """What to take out or write so that the list says this seat and no other; ``order`` are its pins in the order of ``in``."""
    for told in _tries(part, package, seat, order):
        seats = _seats_of_line(part, package, told_line(part, told, lines))
        if [_where(other) for other in seats] == [_where(seat)]:
            return told
    return Told(f"as {order} measured")


def _tries(part: BenchPart, package: Package | None, seat: Seat, order: str) -> Iterator[Told]:
    against = speaks_against(part, package, seat)
    if against:
        yield Told(drop=tuple(one.span for one in against))
    if seat.answer and seat.answer != "measured":
        yield Told(seat.answer, tuple(one.span for one in against if not isinstance(one, Claim)))
    yield Told(f"as {order} measured", tuple(one.span for one in against if not isinstance(one, Claim)))


def told_line(part: BenchPart, told: Told, lines: tuple[str, ...]) -> str:
    """The part's line with that change made."""
    statement = part.statement
    line = lines[statement.span.line - 1]
    claim = statement.claim if isinstance(statement, Part) and told.add.startswith("as ") else None
    pieces = [(span.column - 1, span.end_column - 1, "") for span in told.drop if claim is None or span != claim.span]
    if claim is not None:
        pieces.append((claim.span.column - 1, claim.span.end_column - 1, told.add))
    elif told.add:
        pieces.append((statement.span.end_column - 1, statement.span.end_column - 1, f" {told.add}"))
    for start, end, new in sorted(pieces, reverse=True):
        before, after = line[:start], line[end:]
        line = before + new + after if new else (before.rstrip() + " " + after.lstrip()).rstrip()
    return line


def _where(seat: Seat) -> dict[str, str]:
    return {pin: name_of(spot) for pin, spot in seat.legs.items()}


def words_at(span: Span, lines: tuple[str, ...]) -> str:
    """The words of a stretch within one line."""
    return lines[span.line - 1][span.column - 1:span.end_column - 1]


def _seats_of_line(part: BenchPart, package: Package | None, line: str) -> list[Seat]:
    statement = next((one for one in read(line).statements if isinstance(one, Part)), None)
    return _seats(part, package, statement) if statement is not None else []


def _seats(part: BenchPart, package: Package | None, statement: Part) -> list[Seat]:
    return seats_of(structs.replace(part, statement=statement), package)[0]
