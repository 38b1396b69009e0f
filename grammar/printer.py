"""Printing: one statement of the tree as the line that one would write for it.

Input: a statement. Output: its canonical line, without indentation and comment. Reading that line gives the same statement,
spans apart. Words (kinds, values, names) are printed as they were written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from grammar.syntax_tree import (
    Author,
    Board,
    Condition,
    Expect,
    Hole,
    Keep,
    MarkAt,
    MarkFaces,
    Node,
    Notch,
    Part,
    Pin,
    PinRole,
    PlacedAcross,
    PlacedIn,
    Point,
    Power,
    Rail,
    Statement,
    Supply,
    Title,
    Wire,
)


def show(statement: Statement) -> str:
    """The line of a statement."""
    return " ".join(columns(statement))


def columns(statement: Statement) -> tuple[str, ...]:
    """The line in pieces that stand under one another in a tidy list: for a part and a supply keyword, name, kind with values,
    and the rest; for any other statement keyword and rest."""
    return tuple(piece for piece in _PRINTERS[type(statement)](statement) if piece)


def point(one: Point) -> str:
    """A point in its plain spelling."""
    if isinstance(one, Hole):
        return f"{_board(one.board)}{one.column}{one.row}"
    if isinstance(one, Rail):
        return f"{_board(one.board)}{one.side}{one.sign}{one.row or ''}"
    if isinstance(one, Pin):
        return f"{one.part}.{one.pin}"
    return f"@{one.name}" if isinstance(one, Node) else one.text


def _board(name: str | None) -> str:
    return f"{name}:" if name else ""


def _words(words: Iterable[Any]) -> str:
    return " ".join(word.text for word in words)


def _points(points: Iterable[Point], between: str = " ") -> str:
    return between.join(point(one) for one in points)


def _part(part: Part) -> Iterator[str]:
    yield from ("part", part.name.text, _words(part.words))
    rest = [f"bands {_words(part.bands)}"] if part.bands else []
    rest += [f"code {part.code.text}"] if part.code is not None else []
    rest += [_place(part.place)] if part.place is not None else []
    rest += [_mark(mark) for mark in part.marks]
    if part.claim is not None:
        rest.append(f"as {_words(part.claim.pins)}" + (" measured" if part.claim.measured else ""))
    yield " ".join(rest)


def _place(place: PlacedIn | PlacedAcross) -> str:
    turned = " turned" if place.turned else ""
    if isinstance(place, PlacedIn):
        return f"in {_points(place.points)}{turned}"
    told = f"{place.left_column}-{place.right_column}"
    return f"across {_board(place.board)}{place.first_row}-{place.last_row}{'' if told == 'e-f' else ' ' + told}{turned}"


def _mark(mark: MarkAt | MarkFaces | Notch) -> str:
    if isinstance(mark, MarkAt):
        return f"{mark.mark} {point(mark.point)}"
    where = f"row {mark.row}" if mark.row is not None else mark.towards or ""
    if isinstance(mark, Notch):
        return f"notch {where}"
    return f"{mark.mark} faces {mark.column or where}"


def _supply(supply: Supply) -> Iterator[str]:
    yield from ("supply", supply.name.text, _words(supply.words))
    limit = [f"limit {supply.limit.text}"] if supply.limit is not None else []
    yield " ".join([*limit, *([f"on {_points(supply.terminals)}"] if supply.terminals else [])])


def _expect(expect: Expect) -> Iterator[str]:
    said = [point(expect.subject), expect.verb, *([expect.bound.text] if expect.bound is not None else [])]
    when = " and ".join(_condition(condition) for condition in expect.conditions)
    yield from ("expect", " ".join(said) + (f" when {when}" if when else ""))


def _condition(condition: Condition) -> str:
    amount = f" {condition.amount.text}" if condition.amount is not None else ""
    return f"{point(condition.subject)} {condition.state.replace('not-', 'not ')}{amount}"


def _role(role: PinRole) -> Iterator[str]:
    frequency = f" {role.frequency.text}" if role.frequency is not None else ""
    yield from ("pin", f"{_points(role.pins, ', ')} {' '.join(role.roles)}{frequency}")


_PRINTERS: dict[type, Callable[[Any], Iterable[str]]] = {
    Title: lambda title: ("title", f'"{title.text}"'),
    Author: lambda author: ("by", f'"{author.text}"'),
    Board: lambda board: ("board", board.name or "", board.size, f"rails {board.rails}" if board.rails else ""),
    Supply: _supply,
    Part: _part,
    Wire: lambda wire: ("wire", wire.colour or "", _points(wire.points, " to ")),
    Power: lambda power: ("power", power.name.text, " ".join(power.ways)),
    PinRole: _role,
    Keep: lambda keep: ("keep", f"{keep.one.text} apart from {keep.other.text}"),
    Expect: _expect,
}
