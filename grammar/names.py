"""The second pass: what can only be known once the whole list has been read.

Input: the statements and the lines. Output: the statements with their points settled, and problems for those that
cannot be. In a wire a declared part wins over a hole of the same spelling (``D1``); a declared name and the word right
after it are a pin (``LED1 anode``); a rail without a side gets the one that the list uses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection

from msgspec.structs import replace

from grammar.lookalikes import Lookalikes, places_of
from grammar.points import Unreadable
from grammar.suggestions import correction
from grammar.syntax_tree import (
    Bare,
    Board,
    Condition,
    Expect,
    Hole,
    MarkAt,
    Part,
    Pin,
    PinRole,
    PlacedIn,
    Point,
    Problem,
    Rail,
    Span,
    Statement,
    Supply,
    Wire,
)

_COLOURS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white")
_ROLES = ("output", "pwm", "input", "pullup", "analog", "bus", "high", "low", "unused")
_PIN_WORDS = ("pin", "digital", "analog", "analogue")
_PLACES_IN_A_WORD = ("gnd", "vcc", "vdd", "vss", "ground", "plus", "minus", "vin", "red", "black", "blue", "left", "right",
                     "rail", "row", "wire", "pin", "leg")
_OTHER_COLUMN = re.compile(r"[k-z]\d{1,3}")


class Names:
    """What the whole list declares and uses: names in one case, and the sides of rails that are named."""

    def __init__(self, statements: tuple[Statement, ...], unread: Collection[str] = ()) -> None:
        self.declared = {statement.name.text.casefold() for statement in statements if isinstance(statement, Part | Supply)}
        self.declared.update(name.casefold() for name in unread)
        self.boards = {(statement.name or "").casefold() for statement in statements if isinstance(statement, Board)}
        self.sides = {
            point.side
            for statement in statements
            for point in points_of(statement)
            if isinstance(point, Rail) and point.side
        }
        self._lookalikes = Lookalikes(statements, points_of)
        self._controller = self._lookalikes.controller

    def settle(self, statement: Statement, line: str) -> Statement:
        """The statement with its points settled. Raises Unreadable with columns in ``line``."""
        match statement:
            case Wire():
                self._check_small_words(statement.points, line)
                points = self._points(statement.points, line)
                _check_ends(points)
                return statement if points == statement.points else replace(statement, points=points)
            case PinRole():
                if number := next((p for p in statement.pins if isinstance(p, Bare) and p.text.isdecimal()), None):
                    if not isinstance(statement.pins[0], Bare) or number == statement.pins[0]:
                        raise self._pin_alone(Pin("", number.text, number.text, number.span))
                points = self._points(statement.pins, line)
                for point in points:
                    if isinstance(point, Bare) and not self._is_declared(point):
                        _check_spelling(point, _ROLES)
                return replace(statement, pins=points)
            case Expect():
                conditions = tuple(self._condition(condition) for condition in statement.conditions)
                return replace(statement, subject=self._point(statement.subject), conditions=conditions)
            case Supply() if statement.terminals:
                self._lookalikes.check(statement, statement.terminals)
                return replace(statement, terminals=tuple(self._rail(point) for point in statement.terminals))
            case Part():
                return self._part(statement)
            case _:
                return statement

    def _part(self, part: Part) -> Part:
        self._lookalikes.check(part, places_of(part))
        marks = tuple(
            replace(mark, point=self._rail(mark.point)) if isinstance(mark, MarkAt) else mark for mark in part.marks
        )
        for point in places_of(part):
            if isinstance(point, Bare):
                _check_bare(point)
        if not isinstance(part.place, PlacedIn):
            return part if marks == part.marks else replace(part, marks=marks)
        place = replace(part.place, points=tuple(self._rail(point) for point in part.place.points))
        return replace(part, place=place, marks=marks)

    def _condition(self, condition: Condition) -> Condition:
        return replace(condition, subject=self._point(condition.subject))

    def _points(self, points: tuple[Point, ...], line: str) -> tuple[Point, ...]:
        """Points in a row; a declared name with a word right after it is a pin of that part."""
        settled: list[Point] = []
        waiting = list(points)
        while waiting:
            point = waiting.pop(0)
            if waiting and self._is_declared(point) and _touch(point, waiting[0], line):
                point = _pin(point, waiting.pop(0), line)
            elif waiting and isinstance(point, Bare) and point.text.lower() in _PIN_WORDS and _touch(point, waiting[0], line):
                raise self._pin_alone(_pin(point, waiting[0], line))
            settled.append(self._point(point))
        return tuple(settled)

    def _point(self, point: Point) -> Point:
        if isinstance(point, Hole) and point.board and point.board.casefold() in self.declared - self.boards:
            return Pin(point.board, point.text.rpartition(":")[2], point.text, point.span)
        if isinstance(point, Hole) and self._is_declared(point):
            return Bare(point.text, point.span)
        if isinstance(point, Pin) and point.part.casefold() in _PIN_WORDS and point.part.casefold() not in self.declared:
            raise self._pin_alone(point)
        if isinstance(point, Bare) and point.text in ("A0", "D0") and self._controller:
            return point
        if isinstance(point, Bare) and not self._is_declared(point):
            self._check_pin(point)
            _check_bare(point)
        return self._rail(point)

    def _check_small_words(self, points: tuple[Point, ...], line: str) -> None:
        """Small words of a wire that were taken for points, because they are misspelt: ``wire rd a5 too b7``."""
        for index, point in enumerate(points[:-1]):
            if not isinstance(point, Bare) or self._is_declared(point) or not _touch(point, points[index + 1], line):
                continue
            if index == 0 and len(points) > 2:
                _check_spelling(point, _COLOURS)
            elif index and _touch(points[index - 1], point, line):
                _check_spelling(point, ("to", "and"))
                if self._is_declared(points[index - 1]):
                    continue
                if len(points) == 3 and point.text.isalpha() and point.text.islower() and point.text not in _PLACES_IN_A_WORD:
                    raise _unreadable("word-between", point.span, suggestion="to")

    def _check_pin(self, point: Bare) -> None:
        """``U1-D9`` of a declared U1: the dot between a name and its pin is missing."""
        name, _, pin = point.text.replace("/", "-").rpartition("-")
        if pin and name.casefold() in self.declared:
            raise _unreadable("misspelt", point.span, suggestion=f"{name}.{pin}")

    def _pin_alone(self, point: Pin) -> Unreadable:
        """``pin 13`` and ``digital 9``: the part is not named. A program's number is that of a D pin."""
        said = point.pin.upper()
        number = f"A{said}" if said.isdecimal() and point.text.lower().startswith("analog") else f"D{said}"
        pin = f"{self._controller or 'U1'}.{number if said.isdecimal() else said}"
        return _unreadable("pin-without-part", point.span, suggestion=pin if self._controller else None, such=pin)

    def _is_declared(self, point: Point) -> bool:
        return isinstance(point, Hole | Bare) and point.text.casefold() in self.declared

    def _rail(self, point: Point) -> Point:
        if not isinstance(point, Rail) or point.side:
            return point
        if len(self.sides) > 1:
            row = point.row or ""
            raise _unreadable("rail-side-unclear", point.span, choice=f"L{point.sign}{row} or R{point.sign}{row}")
        return replace(point, side=next(iter(self.sides), "L"))


def points_of(statement: Statement) -> tuple[Point, ...]:
    """Every point that a statement names."""
    match statement:
        case Wire():
            return statement.points
        case Supply():
            return statement.terminals
        case PinRole():
            return statement.pins
        case Expect():
            return (statement.subject, *(condition.subject for condition in statement.conditions))
        case Part():
            return places_of(statement) + tuple(mark.point for mark in statement.marks if isinstance(mark, MarkAt))
        case _:
            return ()


def _touch(one: Point, other: Point, line: str) -> bool:
    """Whether only blanks stand between two points; ``U1(D9)`` touches."""
    return not line[one.span.end_column - 1 : other.span.column - 1].strip(" \t\u00a0(")


def _pin(name: Point, pin: Point, line: str) -> Pin:
    span = Span(name.span.line, name.span.column, pin.span.end_line, pin.span.end_column)
    return Pin(name.text, pin.text, line[span.column - 1 : span.end_column - 1], span)


def _check_spelling(point: Bare, words: tuple[str, ...]) -> None:
    if near := correction(point.text, words):
        raise _unreadable("misspelt", point.span, suggestion=near)


def _check_bare(point: Bare) -> None:
    if point.text in ("A0", "D0"):
        raise _unreadable("row-unknown", point.span)
    if point.text.isdecimal():
        raise _unreadable("hole-without-column", point.span)
    if _OTHER_COLUMN.fullmatch(point.text):
        raise _unreadable("column-unknown", point.span)


def _check_ends(points: tuple[Point, ...]) -> None:
    if len(points) < 2:
        raise _unreadable("wire-has-one-end", points[0].span)
    if len({_meaning(point) for point in points}) == 1:
        raise _unreadable("wire-to-itself", points[-1].span)


def _meaning(point: Point) -> tuple[object, ...]:
    """What a point says, whatever its spelling."""
    if isinstance(point, Hole):
        return (point.board, point.column, point.row)
    if isinstance(point, Rail):
        return (point.board, point.side, point.sign, point.row)
    return (point.text.casefold(),)


def _unreadable(label: str, span: Span, *, suggestion: str | None = None, **fills: str) -> Unreadable:
    return Unreadable(label, span.column - 1, span.end_column - 1, suggestion=suggestion, **fills)


def settle_names(
    statements: tuple[Statement, ...], lines: tuple[str, ...], problem: Callable[[Unreadable, int, str], Problem],
    unread: Collection[str] = (),
) -> tuple[list[Statement], list[Problem]]:
    """All statements settled. ``problem`` makes a Problem of what is raised, the line's number and its text; ``unread`` are names
    that are declared in lines that could not be read."""
    names = Names(statements, unread)
    settled: list[Statement] = []
    problems: list[Problem] = []
    for statement in statements:
        text = lines[statement.span.line - 1]
        try:
            settled.append(names.settle(statement, text))
        except Unreadable as error:
            problems.append(problem(error, statement.span.line, text))
    return settled, problems
