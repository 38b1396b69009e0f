"""Edits of a list's text, made from the spans of its tree, and what every edit is: the ``Fault`` with its true cause.

Input: the text and its tree. Output: edited texts. Only text is changed here; what a change does is the oracle's business.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from grammar import read
from grammar.syntax_tree import Expect, Hole, Keep, Part, Pin, Point, Rail, Span, Statement, Supply, Wire
from parts_library import pin_named
from parts_library.schema import AnyEntry


class Fault(Struct, frozen=True):
    """One changed list. ``parts``, ``lines`` (of the new text) and ``points`` (old and new holes) are the true cause; ``missing``
    says that something is no longer there, so that only its neighbours can be named."""

    kind: str
    say: str
    text: str
    parts: frozenset[str] = frozenset()
    lines: frozenset[int] = frozenset()
    points: frozenset[str] = frozenset()
    missing: bool = False


class Listing:
    """A list that is to be edited."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tree = read(text)
        self.lines = text.splitlines()

    def all(self, kind: type[Statement]) -> list[Statement]:
        return [statement for statement in self.tree.statements if isinstance(statement, kind)]

    def parts(self) -> list[Part]:
        return [statement for statement in self.tree.statements if isinstance(statement, Part)]

    def wires(self) -> list[Wire]:
        return [statement for statement in self.tree.statements if isinstance(statement, Wire)]

    def supplies(self) -> list[Supply]:
        return [statement for statement in self.tree.statements if isinstance(statement, Supply)]

    def replaced(self, changes: Iterable[tuple[Span, str]]) -> str:
        """The text with stretches exchanged."""
        lines = self.lines.copy()
        for span, new in sorted(changes, key=lambda change: change[0], reverse=True):
            line = lines[span.line - 1]
            lines[span.line - 1] = (line[: span.column - 1] + new + line[span.end_column - 1:]).rstrip()
        return "\n".join(lines) + "\n"

    def without(self, gone: Iterable[int], names: Iterable[str] = ()) -> str:
        """The text without some lines and without what is said elsewhere of the named parts; the others keep their numbers."""
        removed = set(gone) | {s.span.line for s in self.tree.statements for name in names if _speaks_of(s, name.lower())}
        return "\n".join("" if number in removed else line for number, line in enumerate(self.lines, 1)) + "\n"


def _speaks_of(statement: Statement, name: str) -> bool:
    if isinstance(statement, Keep):
        return name in (statement.one.text.lower(), statement.other.text.lower())
    if not isinstance(statement, Expect):
        return False
    points: list[Point] = [statement.subject, *(condition.subject for condition in statement.conditions)]
    return any(point.text.lower().split(".")[0] == name for point in points)


def part_points(part: Part | Supply) -> tuple[Point, ...]:
    """The holes of ``in``, or a supply's ``on``."""
    if isinstance(part, Supply):
        return part.terminals
    return getattr(part.place, "points", ())


def same_place(one: Point, other: Point) -> bool:
    """Whether two points are written for the same hole."""
    return one.text.lower() == other.text.lower()


def mark_spans(part: Part, point: Point) -> list[Span]:
    """Where marks and ``in`` mention a hole of the part."""
    spans = [each.span for each in part_points(part) if same_place(each, point)]
    return spans + [mark.point.span for mark in part.marks if hasattr(mark, "point") and same_place(mark.point, point)]


def moved(point: Hole, row: int, column: str | None = None) -> str:
    """The spelling of a hole in another row or column."""
    board = f"{point.board}:" if point.board else ""
    return f"{board}{column or point.column}{row}"


def other_rail(point: Rail, sign: bool = False, side: bool = False) -> str:
    """The spelling of the rail of the other sign or side."""
    board = f"{point.board}:" if point.board else ""
    new_sign = {"+": "-", "-": "+"}[point.sign] if sign else point.sign
    new_side = {"L": "R", "R": "L"}[point.side] if side else point.side
    return f"{board}{new_side}{new_sign}{point.row or ''}"


def taken_holes(listing: Listing) -> set[str]:
    """Holes that something is in already, and those that are spelled like a part."""
    placed: list[Part | Supply] = [*listing.parts(), *listing.supplies()]
    found = {point.text.lower() for part in placed for point in part_points(part)} | {part.name.text.lower() for part in placed}
    return found | {point.text.lower() for wire in listing.wires() for point in wire.points}


def pins_of(listing: Listing, name: str) -> list[Pin]:
    """Every ``NAME.PIN`` of a part in the wires."""
    return [point for wire in listing.wires() for point in wire.points
            if isinstance(point, Pin) and point.part.lower() == name.lower()]


def spans_gone(spans: Sequence[Span]) -> list[tuple[Span, str]]:
    """Changes that take stretches away."""
    return [(span, "") for span in spans]


def fault_of(kind: str, say: str, text: str, part: Part | Supply, points: frozenset[str] = frozenset()) -> Fault:
    """A fault whose cause is one part."""
    return Fault(kind, say, text, frozenset({part.name.text.lower()}), frozenset({part.span.line}), points)


def unmarked(part: Part) -> list[tuple[Span, str]]:
    """Changes that take the marks and the claim of a part away."""
    spans = [mark.span for mark in part.marks] + ([part.claim.span] if part.claim else [])
    return list(spans_gone(spans))


def exchanged_names(listing: Listing, part: Part | Supply, entry: AnyEntry, new: dict[str, str], kind: str) -> Fault:
    """The names of a part's pins exchanged in the wires."""
    points = pins_of(listing, part.name.text)
    changes = [(p.span, f"{p.part}.{new[pin_named(entry, p.pin) or p.pin]}") for p in points]
    lines = frozenset({part.span.line, *(p.span.line for p in points)})
    say = f"{part.name.text}: {' '.join(new)} wired as {' '.join(new.values())}"
    return Fault(kind, say, listing.replaced(changes), frozenset({part.name.text.lower()}), lines)
