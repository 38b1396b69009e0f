"""The circuit somewhere else on the board: turned by half a turn, or some rows on.

Each change is a function (text, chance) -> text. It is from the geometry of DESIGN.md section 2 alone (row 1 at the top,
column a at the left, a pair of rails on either side), not from the checker's own. Where the change does
not fit a list (a row would fall off the board) the statements stay as they are.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

from msgspec import structs

from grammar.syntax_tree import (
    Claim,
    Hole,
    MarkFaces,
    Notch,
    Part,
    Pin,
    PlacedAcross,
    PlacedIn,
    Rail,
    Statement,
    Supply,
    Word,
)
from tests.properties.judging import surveyed
from tests.properties.lists import statements_of, written
from tests.properties.points import COLUMNS, Boards, points_in, with_points

LAST_ROW_OF_FIRST_PIECE = {"mini": 17, "half": 15, "full": 31}
OUTER_LEGS_ALIKE = (("1", "W", "3"), ("1", "COM", "3"))
STEPS_TRIED = 8
OTHER_WAY = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
CONTROLLER_PINS = {f"a{n}" for n in range(6)} | {f"d{n}" for n in range(14)}


def turned_half(text: str, chance: Random) -> str:
    """The whole board turned by half a turn: row r is last + 1 - r, column a is j, the left pair of rails the right one.
    Every sign stays as it is printed on its rail. Rails of a full board part behind row 31 of 63, which is not quite the
    middle: a list that has a rail at row 32 does not turn. Neither does one with a rail that is to be asked back."""
    statements = statements_of(text)
    boards = Boards(statements)
    if not boards.all or _is_off_the_board(statements, boards):
        return written(statements)
    if _is_asked_back(statements, boards) or _is_counted_by_pin(statements):
        return written(statements)
    turned = [_turned(_with_ends_said(statement, text), boards) for statement in statements]
    fits = _pieces(turned, boards) == [not second for second in _pieces(statements, boards)]
    return written(turned) if fits and not _reads_otherwise(statements, turned) else written(statements)


def _with_ends_said(statement: Statement, text: str) -> Statement:
    """A potentiometer or slide switch whose outer legs are not told apart has pin 1 in the lowest row: a convention that does
    not turn with the board, so that it is said."""
    if not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn) or statement.claim is not None:
        return statement
    entry = surveyed(text).bench.parts[statement.name.text.lower()].entry
    if entry is None or entry.pins not in OUTER_LEGS_ALIKE or len(statement.place.points) != 3:
        return statement
    order = sorted((p for p in statement.place.points if isinstance(p, Hole)), key=lambda hole: (hole.row, hole.column))
    pins = dict(zip((hole.text.lower() for hole in order), entry.pins))
    words = tuple(Word(pins.get(point.text.lower(), ""), statement.span) for point in statement.place.points)
    return structs.replace(statement, claim=Claim(words, False, statement.span)) if len(order) == 3 else statement


def _turned(statement: Statement, boards: Boards) -> Statement:
    def row(board: str | None, old: int) -> int:
        return (boards.last_row(board) or 0) + 1 - old

    def point(one: Any) -> Any:
        if isinstance(one, Hole):
            return hole_at(one, _opposite(one.column), row(one.board, one.row))
        if isinstance(one, Rail):
            meets = one.row or (1 if boards.may_be_split(one.board) else None)
            return structs.replace(one, side="R" if one.side == "L" else "L",
                                   row=row(one.board, meets) if meets is not None else None)
        return one

    statement = with_points(statement, point)
    if not isinstance(statement, Part):
        return statement
    board = _board_of(statement)
    place = statement.place
    if isinstance(place, PlacedAcross):
        place = structs.replace(place, first_row=row(board, place.last_row), last_row=row(board, place.first_row),
                                left_column=_opposite(place.right_column), right_column=_opposite(place.left_column))
    return structs.replace(statement, place=place, marks=tuple(_turned_mark(mark, board, row) for mark in statement.marks))


def _turned_mark(mark: Any, board: str | None, row: Callable[[str | None, int], int]) -> Any:
    if not isinstance(mark, MarkFaces | Notch):
        return mark
    mark = structs.replace(mark, row=row(board, mark.row) if mark.row is not None else None,
                           towards=OTHER_WAY[mark.towards] if mark.towards else None)
    return structs.replace(mark, column=_opposite(mark.column)) if isinstance(mark, MarkFaces) and mark.column else mark


def _opposite(column: str) -> str:
    return COLUMNS[9 - COLUMNS.index(column)]


def hole_at(hole: Hole, column: str, row: int) -> Hole:
    return structs.replace(hole, column=column, row=row, text=f"{hole.board}:{column}{row}" if hole.board else f"{column}{row}")


def _board_of(part: Part) -> str | None:
    if isinstance(part.place, PlacedAcross):
        return part.place.board
    return next((point.board for point in points_in(part.place) if isinstance(point, Hole | Rail)), None)


# ── where a change does not fit ───────────────────────────────────────────────────────────────────────────────────


def _is_counted_by_pin(statements: tuple[Statement, ...]) -> bool:
    """A pin of a part on the board is named by its number: a button's numbers go by its rows."""
    placed = {s.name.text.lower() for s in statements if isinstance(s, Part) and s.place is not None}
    return any(isinstance(point, Pin) and point.part.lower() in placed and point.pin.isdigit()
               for point in points_in(statements))


def _is_asked_back(statements: tuple[Statement, ...], boards: Boards) -> bool:
    """A rail without a row on a board that is said to be split."""
    rails = [point for point in points_in(statements) if isinstance(point, Rail) and point.row is None]
    return any((board := boards.of(rail.board)) is not None and board.rails == "split" for rail in rails)


def _is_off_the_board(statements: tuple[Statement, ...] | list[Statement], boards: Boards) -> bool:
    return any(not 1 <= row <= (boards.last_row(board) or 0) for board, row in _rows(statements))


def _rows(statements: tuple[Statement, ...] | list[Statement]) -> list[tuple[str | None, int]]:
    rows = [(p.board, p.row) for p in points_in(list(statements)) if isinstance(p, Hole | Rail) and p.row is not None]
    for part in (s for s in statements if isinstance(s, Part)):
        if isinstance(part.place, PlacedAcross):
            rows += [(part.place.board, part.place.first_row), (part.place.board, part.place.last_row)]
        rows += [(_board_of(part), mark.row) for mark in part.marks
                 if isinstance(mark, MarkFaces | Notch) and mark.row is not None]
    return rows


def _reads_otherwise(before: tuple[Statement, ...], after: list[Statement]) -> bool:
    """A hole that is now spelt like a part of the list: in a wire the part wins."""
    names = {s.name.text.lower() for s in before if isinstance(s, Part | Supply)}
    return any(isinstance(point, Hole) and point.text.lower() in names for point in points_in(after))


# ── some rows on ──────────────────────────────────────────────────────────────────────────────────────────────────


def moved_on(text: str, chance: Random) -> str:
    """Everything some rows up or down, no further than the board goes; where the rails may be split, no rail's row passes
    the middle. A rail without a row stays: it is met at row 1."""
    statements = statements_of(text)
    boards = Boards(statements)
    if not boards.all or _is_off_the_board(statements, boards):
        return written(statements)
    rows = [(row, boards.last_row(board) or 0) for board, row in _rows(statements)]
    fewest, most = max((1 - row for row, _ in rows), default=0), min((last - row for row, last in rows), default=0)
    steps = [step for step in chance.sample(range(fewest, most + 1), max(0, most + 1 - fewest))[:STEPS_TRIED] if step
             and _pieces(statements, boards) == _pieces(moved := [_moved(statement, step) for statement in statements], boards)
             and not _reads_otherwise(statements, moved)]
    step = chance.choice(steps) if steps else 0
    return written([_moved(statement, step) for statement in statements])


def _moved(statement: Statement, step: int) -> Statement:
    def point(one: Any) -> Any:
        if isinstance(one, Hole):
            return hole_at(one, one.column, one.row + step)
        return structs.replace(one, row=one.row + step) if isinstance(one, Rail) and one.row is not None else one

    statement = with_points(statement, point)
    if not isinstance(statement, Part):
        return statement
    place = statement.place
    if isinstance(place, PlacedAcross):
        place = structs.replace(place, first_row=place.first_row + step, last_row=place.last_row + step)
    marks = tuple(structs.replace(mark, row=mark.row + step) if isinstance(mark, MarkFaces | Notch) and mark.row is not None
                  else mark for mark in statement.marks)
    return structs.replace(statement, place=place, marks=marks)


def _pieces(statements: tuple[Statement, ...] | list[Statement], boards: Boards) -> list[bool]:
    """For each rail point which piece it is on, where the rails may be split."""
    rails = [p for p in points_in(list(statements)) if isinstance(p, Rail) and boards.may_be_split(p.board)]
    sizes = [(rail, boards.of(rail.board)) for rail in rails]
    return [(rail.row or 1) > LAST_ROW_OF_FIRST_PIECE[board.size] for rail, board in sizes if board is not None]
