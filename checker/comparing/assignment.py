"""Assignments: which of these goes with which of those at the least cost together.

Input: a square matrix of costs. Output: for each row its column. The way over shortest augmenting paths with potentials
(Kuhn 1955, Munkres 1957; Jonker and Volgenant 1987), one row at a time, with NumPy for the inner loop.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Matrix = NDArray[np.float64]


def assign(costs: Matrix) -> list[int]:
    """The column of each row of a square matrix; the sum of their costs is the least there is."""
    size = len(costs)
    row_price, column_price = np.zeros(size + 1), np.zeros(size + 1)
    row_of = np.zeros(size + 1, dtype=np.int64)  # row of each column, 1-based; 0 where it is free
    for row in range(1, size + 1):
        row_of[0] = row
        column, way = 0, np.zeros(size + 1, dtype=np.int64)
        least, used = np.full(size + 1, np.inf), np.zeros(size + 1, dtype=bool)
        while row_of[column] != 0:
            used[column] = True
            reduced = costs[row_of[column] - 1] - row_price[row_of[column]] - column_price[1:]
            better = ~used[1:] & (reduced < least[1:])
            least[1:][better] = reduced[better]
            way[1:][better] = column
            open_ones = np.where(used, np.inf, least)
            following = int(np.argmin(open_ones[1:])) + 1
            step = open_ones[following]
            row_price[row_of[used]] += step
            column_price[used] -= step
            least[~used] -= step
            column = following
        while column:
            row_of[column] = row_of[way[column]]
            column = int(way[column])
    found = [0] * size
    for column in range(1, size + 1):
        found[row_of[column] - 1] = column - 1
    return found
