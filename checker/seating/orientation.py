"""Orientation: from what can be seen on a part to the order of its pins.

Hold the board with row 1 at the top and column a at the left. All functions take points of the board and give them
back in the order of the pins; none knows a part number. The geometry is that of the makers' drawings: TO-92 seen at its
flat side and TO-220 at its marked side have pin 1 at the left with the legs down; a DIP seen from above with the notch
at the top has pin 1 at the top left and counts down the left side and up the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from checker.seating.boards import position
from grammar.syntax_tree import Hole, MarkFaces, Rail, Span

# The sides of the board, as (x, y) with x to column j and y to the last row.
_SIDES = {"left": (-1, 0), "right": (1, 0), "top": (0, -1), "bottom": (0, 1)}
_SAME = 1e-6
WHERE_ON_RAIL = "the rail runs past all rows: say at which row the leg is, as in L-12"


class OrientationError(ValueError):
    """The facing leaves the order open; ``reason`` says why in one sentence without a period, ``towards`` the side that may
    be meant."""

    def __init__(self, reason: str, towards: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.towards = towards


def order_by_facing(points: Sequence[Hole | Rail], facing: tuple[int, int]) -> tuple[Hole | Rail, ...]:
    """The points from the left of a viewer who looks at the face that looks toward ``facing``.

    ``facing`` is (x, y) with x to column j and y to the last row. Raises OrientationError where two legs fall together,
    or where the row of a leg in a rail decides and is not said.
    """
    x_facing, y_facing = facing
    if x_facing and any(without_row(point) for point in points):
        raise OrientationError(WHERE_ON_RAIL)
    # The viewer's left is "up, out of the board" crossed with the direction of view, which is against the facing. With
    # y counting downward the distance to the right along that line is x * y_facing - y * x_facing.
    positions = [position(p) for p in points]
    keyed = sorted((x * y_facing - y * x_facing, i) for i, (x, y) in enumerate(positions))
    for (one, _), (other, _) in pairwise(keyed):
        if abs(one - other) < _SAME:
            raise OrientationError("from that side two legs stand one behind the other, so the order stays open")
    return tuple(points[i] for _, i in keyed)


def without_row(point: Hole | Rail) -> bool:
    """True for a rail whose row is not said, which may be met anywhere along the board."""
    return isinstance(point, Rail) and point.row is None


def facing_of(mark: MarkFaces, points: Sequence[Hole | Rail]) -> tuple[int, int]:
    """Where the marked face looks, as (x, y) with x to column j and y to the last row.

    Raises OrientationError where the mark names the part's own row or column."""
    if mark.towards is not None:
        return _SIDES[mark.towards]
    positions = [position(p) for p in points]
    if mark.column is not None:
        target = position(Hole(column=mark.column, row=1, text="", span=Span(1, 1, 1, 1)))[0]
        low, high = min(x for x, _ in positions), max(x for x, _ in positions)
        if low - _SAME <= target <= high + _SAME:
            raise OrientationError(f"column {mark.column} is its own", {"a": "left", "j": "right"}.get(mark.column, ""))
        return (-1, 0) if target < low else (1, 0)
    row = float(mark.row or 0)
    rows = [position(p)[1] for p in points if not without_row(p)]
    if not rows:
        raise OrientationError(WHERE_ON_RAIL)
    low, high = min(rows), max(rows)
    if low - _SAME <= row <= high + _SAME:
        raise OrientationError(f"row {mark.row} is its own", "top" if mark.row == 1 else "")
    return (0, -1) if row < low else (0, 1)


def opposite(facing: tuple[int, int]) -> tuple[int, int]:
    return -facing[0], -facing[1]


def facings_possible(points: Sequence[Hole | Rail]) -> tuple[tuple[int, int], ...]:
    """The facings that a part with these legs can have where nothing is said: one for each order of the legs."""
    found: dict[tuple[int, ...], tuple[int, int]] = {}
    for facing in _SIDES.values():
        try:
            ordered = order_by_facing(points, facing)
        except OrientationError:
            continue
        found.setdefault(tuple(points.index(point) for point in ordered), facing)
    return tuple(found.values())


def describe_facing(facing: tuple[int, int]) -> str:
    """The words of the list for a facing, such as can be written wherever the part is: ``faces left``."""
    return next(f"faces {side}" for side, way in _SIDES.items() if way == facing)


def dip_holes(first: int, last: int, left: str, right: str, notch_first: bool, board: str | None,
              span: Span) -> tuple[Hole, ...]:
    """The holes of a DIP in the order of its pins; ``notch_first`` where the notch is at the lower row number."""
    def hole(column: str, row: int) -> Hole:
        return Hole(column=column, row=row, text=f"{column}{row}", span=span, board=board)

    rows = range(first, last + 1)
    left_down = [hole(left, row) for row in rows]
    right_up = [hole(right, row) for row in reversed(rows)]
    if notch_first:
        return tuple(left_down + right_up)
    return tuple(right_up + left_down)


def button_holes(first: int, last: int, left: str, right: str, turned: bool, board: str | None,
                 span: Span) -> tuple[Hole, ...]:
    """The holes of a four-legged button in the order of its pins 1 2 3 4; pins 1 and 2 are one contact, 3 and 4 the
    other. Not turned, a contact joins the two legs in one row; turned, the two legs in one column."""
    def hole(column: str, row: int) -> Hole:
        return Hole(column=column, row=row, text=f"{column}{row}", span=span, board=board)

    if turned:
        return hole(left, first), hole(left, last), hole(right, first), hole(right, last)
    return hole(left, first), hole(right, first), hole(left, last), hole(right, last)
