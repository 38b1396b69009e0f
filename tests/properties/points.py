"""Points of a statement exchanged, wherever in the statement they stand.

Input: a statement and what becomes of a point. Output: a statement whose fields say the new points; its spans are the old
ones and mean nothing, as it is printed anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from msgspec import Struct, structs

from grammar.syntax_tree import Bare, Board, Hole, Node, Pin, Point, Rail, Statement

POINTS = (Hole, Rail, Pin, Node, Bare)
LAST_ROWS = {"mini": 17, "half": 30, "full": 63}
COLUMNS = "abcdefghij"

One = TypeVar("One")


def with_points(value: One, change: Callable[[Any], Any]) -> One:
    """The statement (or a piece of it) with each of its points changed."""
    if isinstance(value, POINTS):
        return change(value)  # type: ignore[no-any-return]
    if isinstance(value, tuple):
        return tuple(with_points(one, change) for one in value)  # type: ignore[return-value]
    if isinstance(value, Struct):
        return structs.replace(value, **{name: with_points(getattr(value, name), change) for name in value.__struct_fields__})
    return value


def points_in(value: object) -> Iterator[Point]:
    """Every point of a statement, or of several."""
    if isinstance(value, POINTS):
        yield value
    elif isinstance(value, tuple | list):
        for one in value:
            yield from points_in(one)
    elif isinstance(value, Struct):
        for name in value.__struct_fields__:
            yield from points_in(getattr(value, name))


class Boards:
    """The boards of a list by name; a point without a name is on the only one."""

    def __init__(self, statements: tuple[Statement, ...]) -> None:
        self.all = {(s.name or "").lower(): s for s in statements if isinstance(s, Board)}

    def of(self, name: str | None) -> Board | None:
        key = (name or "").lower()
        return self.all.get(key) or (next(iter(self.all.values())) if not key and len(self.all) == 1 else None)

    def last_row(self, name: str | None) -> int | None:
        board = self.of(name)
        return LAST_ROWS[board.size] if board is not None else None

    def may_be_split(self, name: str | None) -> bool:
        board = self.of(name)
        return board is not None and (board.rails == "split" or (board.rails is None and board.size == "full"))
