"""What is printed on a board: outline, channel, rails with their gap, row numbers, column letters, holes.

Input: a board's plan and place. Output: ``BoardAt``. The strips and rails that something is in are tinted, so that one
sees what the board joins.
"""

from __future__ import annotations

from collections.abc import Iterator, Set

from checker.drawing.benchtop import Benchtop
from checker.drawing.plan import BoardAt, HoleAt
from checker.drawing.seen import NOWHERE
from checker.drawing.shapes import FAINT, PALE, PITCH, Area, Point, Shape, Stroke, Words
from checker.seating.boards import COLUMNS, LAST_ROW_OF_FIRST_PIECE, RAIL_X, BoardPlan, RailPiece, Strip
from grammar.syntax_tree import Hole, Rail

_EVERY = 5
_TORN = 7.0


def board_at(table: Benchtop, plan: BoardPlan, used: Set[Strip | RailPiece]) -> BoardAt:
    """One board with all its holes."""
    box = table.boards[plan.name]
    shapes: list[Shape] = [Area(_outline(table, plan), width=2.2, name="board"), *_left_out(table, plan)]
    shapes += _strips(table, plan, used)
    shapes += _channel(table, plan)
    shapes += _lettering(table, plan)
    if plan.has_rails:
        shapes += _rails(table, plan)
    if len(table.plans) > 1:
        shapes.append(Words(box.left + 2, box.top - 9, table.shown[plan.name], 12, "start", bold=True))
    return BoardAt(name=table.shown[plan.name], size=plan.size, split=plan.split, box=box, shapes=tuple(shapes),
                   holes=tuple(_holes(table, plan)))


def _outline(table: Benchtop, plan: BoardPlan) -> tuple[Point, ...]:
    """The board's edge, torn where rows are left out."""
    box = table.boards[plan.name]
    first, last = table.rows[plan.name]
    steps = 24
    xs = [box.left + (box.right - box.left) * step / steps for step in range(steps + 1)]
    top = [(x, box.top + (_TORN if first > 1 and step % 2 else 0.0)) for step, x in enumerate(xs)]
    bottom = [(x, box.bottom - (_TORN if last < plan.rows and step % 2 else 0.0)) for step, x in enumerate(xs)]
    return (*top, *reversed(bottom))


def _left_out(table: Benchtop, plan: BoardPlan) -> Iterator[Shape]:
    box = table.boards[plan.name]
    first, last = table.rows[plan.name]
    if first > 1:
        yield Words(box.middle[0], box.top - 6, f"rows 1-{first - 1}: nothing in them", 9)
    if last < plan.rows:
        yield Words(box.middle[0], box.bottom + 8, f"rows {last + 1}-{plan.rows}: nothing in them", 9)


def _holes(table: Benchtop, plan: BoardPlan) -> Iterator[HoleAt]:
    board = plan.name or None
    first, last = table.rows[plan.name]
    for row in range(first, last + 1):
        for column in COLUMNS:
            hole = Hole(column, row, "", NOWHERE, board)
            yield HoleAt(table.hole_name(hole), *table.at(hole))
        if plan.has_rails:
            for side in RAIL_X:
                for sign in "+-":
                    rail = Rail(side, sign, row, "", NOWHERE, board)
                    yield HoleAt(table.hole_name(rail), *table.at(rail))


def _strips(table: Benchtop, plan: BoardPlan, used: Set[Strip | RailPiece]) -> Iterator[Shape]:
    left, top = table.origins[plan.name]
    for strip in used:
        if isinstance(strip, Strip) and strip.board == plan.name:
            start = left + (0 if strip.half == "a" else 7) * PITCH
            y = top + strip.row * PITCH
            yield Stroke(((start, y), (start + 4 * PITCH, y)), width=7.0, ink=PALE, name="strip")


def _channel(table: Benchtop, plan: BoardPlan) -> Iterator[Shape]:
    left, top = table.origins[plan.name]
    first, last = table.rows[plan.name]
    for x in (4.75, 6.25):
        yield Stroke(((left + x * PITCH, top + (first - 0.5) * PITCH), (left + x * PITCH, top + (last + 0.5) * PITCH)),
                     width=0.8, ink=FAINT)


def _lettering(table: Benchtop, plan: BoardPlan) -> Iterator[Shape]:
    left, top = table.origins[plan.name]
    first, last = table.rows[plan.name]
    for index, letter in enumerate(COLUMNS):
        x = left + (index + (2 if index > 4 else 0)) * PITCH
        for row in (first - 0.95, last + 0.95):
            yield Words(x, top + row * PITCH, letter, 10, halo=False)
    for row in range(first, last + 1):
        size = 9.0 if row % _EVERY == 0 or row == 1 else 7.5
        for x in (-1.0, 12.0):
            yield Words(left + x * PITCH, top + row * PITCH, str(row), size, bold=row % _EVERY == 0, ink="#444444", halo=False)


def _rails(table: Benchtop, plan: BoardPlan) -> Iterator[Shape]:
    """A full line beside each plus rail, a dashed one beside each minus rail, broken where the rail is."""
    left, top = table.origins[plan.name]
    gap = LAST_ROW_OF_FIRST_PIECE[plan.size] if plan.split else None
    first_row, last_row = table.rows[plan.name]
    pieces = [(first_row, last_row)] if gap is None else [(first_row, gap), (gap + 1, last_row)]
    for first in RAIL_X.values():
        for sign, offset in (("+", 0.0), ("-", 1.0)):
            x = left + (first + offset) * PITCH
            beside = x + (-8.0 if sign == "+" else 8.0)
            for start, end in pieces:
                yield Stroke(((beside, top + (start - 0.35) * PITCH), (beside, top + (end + 0.35) * PITCH)),
                             width=1.4, dash="" if sign == "+" else "7 4", name="rail")
            for row in (first_row - 0.9, last_row + 0.9):
                yield Words(x, top + row * PITCH, "+" if sign == "+" else "−", 14, bold=True, halo=False)
        if gap is not None:
            middle = left + (first + 0.5) * PITCH
            y = top + (gap + 0.5) * PITCH
            yield Stroke(((middle - 1.15 * PITCH, y), (middle + 1.15 * PITCH, y)), width=3.2, name="gap")
            yield Words(middle, y - 0.5, "gap", 7.5, bold=True)
