"""Holes of ``in`` and ``on`` that read like something else of the list: a part (``D1``) or a controller's pin (``D9``).

Input: the statements. Output: for each hole whether it must be asked back. The capitals tell the two apart: names of
parts and of pins are printed in capitals, so that in a list that writes its holes in lower case ``D9`` is odd. A list
that writes its holes in capitals means holes, and a hole in lower case always is one. Wires are not settled here: there a
declared part wins, and the rest is asked by the checker.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from grammar.points import Unreadable
from grammar.syntax_tree import Hole, Part, Pin, PinRole, PlacedIn, Point, Power, Statement, Supply

# The pins of a controller that have the shape of a hole.
_LIKE_A_PIN = re.compile(r"D(?:[1-9]|1[0-3])|A[1-5]")
_CONTROLLER = ("controller", "microcontroller")


class Lookalikes:
    """The names that a list declares, the controllers among them, and how the list writes its holes."""

    def __init__(
        self, statements: tuple[Statement, ...], points_of: Callable[[Statement], tuple[Point, ...]]
    ) -> None:
        self._names = {statement.name.text.casefold(): statement.name.text for statement in _declarations(statements)}
        self.controller = _controller(statements)
        written = [point.text[0] for statement in statements for point in points_of(statement) if self._is_plain(point)]
        self._lower = sum(letter.islower() for letter in written)
        self._capitals = len(written) - self._lower

    def check(self, owner: Part | Supply, points: tuple[Point, ...]) -> None:
        """Raises Unreadable for the first hole of ``owner`` that could be meant as a part or a pin."""
        for point in points:
            if not _is_capital(point) or not self._is_odd(points):
                continue
            name = self._names.get(point.text.casefold())
            if name is not None and name.casefold() != owner.name.text.casefold():
                raise _unreadable("hole-or-part", point, name)
            if name is None and self.controller and _LIKE_A_PIN.fullmatch(point.text):
                raise _unreadable("hole-or-pin", point, self.controller)

    def _is_odd(self, points: tuple[Point, ...]) -> bool:
        """Whether a hole in capitals is odd here: most others are in lower case, or nothing else shows the habit."""
        holes = [point for point in points if isinstance(point, Hole)]
        return self._lower > self._capitals or (self._lower == self._capitals == 0 and len(holes) == 1)

    def _is_plain(self, point: Point) -> bool:
        """Whether a point shows how the list writes its holes: a hole, column first, that reads like nothing else."""
        if not isinstance(point, Hole) or not point.text[0].isalpha() or point.text.casefold() in self._names:
            return False
        return not (self.controller and _LIKE_A_PIN.fullmatch(point.text))


def _is_capital(point: Point) -> bool:
    return isinstance(point, Hole) and point.board is None and point.text[0].isupper()


def _declarations(statements: tuple[Statement, ...]) -> Iterator[Part | Supply]:
    return (statement for statement in statements if isinstance(statement, Part | Supply))


def _controller(statements: tuple[Statement, ...]) -> str:
    """The name of a controller: its kind says so, or ``power`` and ``pin`` speak of it. Empty where there is none."""
    for statement in statements:
        match statement:
            case Part() if any(word.text.lower().startswith(_CONTROLLER) for word in statement.words):
                return statement.name.text
            case Power():
                return statement.name.text
            case PinRole():
                for pin in statement.pins:
                    if isinstance(pin, Pin):
                        return pin.part
    return ""


def places_of(statement: Part | Supply) -> tuple[Point, ...]:
    """The points where a part's legs or a supply's leads are."""
    if isinstance(statement, Supply):
        return statement.terminals
    return statement.place.points if isinstance(statement.place, PlacedIn) else ()


def _unreadable(label: str, point: Point, other: str) -> Unreadable:
    start, end = point.span.column - 1, point.span.end_column - 1
    return Unreadable(label, start, end, suggestion=point.text.lower(), other=other)
