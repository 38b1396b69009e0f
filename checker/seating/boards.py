"""Breadboards: which holes are joined by the board itself.

A strip is five holes of one row on one side of the channel. Rails run along the sides; a split rail is two pieces.
Positions are in holes of 2.54 mm: x grows from column a to j (the channel is as wide as a narrow DIP, 3 holes from e
to f), y grows with the row.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from msgspec import Struct

from grammar.syntax_tree import Hole, Rail

ROWS = {"mini": 17, "half": 30, "full": 63}
LAST_ROW_OF_FIRST_PIECE = {"half": 15, "full": 31}
COLUMNS = "abcdefghij"
CHANNEL_WIDTH = 3.0
RAIL_X = {"L": -3.0, "R": 13.0}


class Strip(Struct, frozen=True, order=True):
    """Five joined holes: ``half`` is "a" for columns a-e, "f" for f-j."""

    board: str
    row: int
    half: str

    def __str__(self) -> str:
        return f"row {self.row} {'a-e' if self.half == 'a' else 'f-j'}"


class RailPiece(Struct, frozen=True, order=True):
    """One conductor of a rail: ``piece`` is 0 for the whole or the first piece, 1 for the second."""

    board: str
    side: str
    sign: str
    piece: int

    def __str__(self) -> str:
        return f"{self.side}{self.sign}"


class BoardPlan(Struct, frozen=True):
    """One board as it is looked at: its size and whether its rails are split."""

    name: str
    size: str
    split: bool

    @property
    def rows(self) -> int:
        return ROWS[self.size]

    @property
    def has_rails(self) -> bool:
        return self.size != "mini"

    def has_hole(self, hole: Hole) -> bool:
        return 1 <= hole.row <= self.rows and hole.column in COLUMNS

    def has_rail(self, rail: Rail) -> bool:
        return self.has_rails and (rail.row is None or 1 <= rail.row <= self.rows)

    def strip(self, hole: Hole) -> Strip:
        return Strip(self.name, hole.row, "a" if hole.column <= "e" else "f")

    def rail_piece(self, rail: Rail) -> RailPiece:
        row = rail.row or 1
        piece = int(self.split and row > LAST_ROW_OF_FIRST_PIECE[self.size])
        return RailPiece(self.name, rail.side, rail.sign, piece)


Plans: TypeAlias = Mapping[str, BoardPlan]
"""The boards of one reading, by their names in lower case."""


def plan_for(plans: Plans, point: Hole | Rail) -> BoardPlan | None:
    """The board that a point is on; a point without a board's name is on the only one, or on the one without a name."""
    key = (point.board or "").lower()
    if key in plans:
        return plans[key]
    return next(iter(plans.values())) if not key and len(plans) == 1 else None


def position(point: Hole | Rail) -> tuple[float, float]:
    """Where a hole is, (x, y) in holes of 2.54 mm."""
    if isinstance(point, Rail):
        return RAIL_X[point.side] + (0.0 if point.sign == "+" else 1.0), float(point.row or 1)
    index = COLUMNS.index(point.column)
    return index + (CHANNEL_WIDTH - 1.0 if index >= 5 else 0.0), float(point.row)


def name_of(point: Hole | Rail) -> str:
    """The canonical spelling: ``a12``, ``L+12``, ``POWER:a12``."""
    prefix = f"{point.board}:" if point.board else ""
    if isinstance(point, Rail):
        return f"{prefix}{point.side}{point.sign}{point.row or ''}"
    return f"{prefix}{point.column}{point.row}"
