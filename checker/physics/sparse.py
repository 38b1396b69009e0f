"""Matrices of members that share their wiring: only the entries that can be anything but 0, the batch last.

Elimination goes level by level through a `Plan` without looking for large pivots, and what it gives is put to the test: a
member whose equations are not met to near rounding is solved again densely, with pivots.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from .elimination import Level, Plan
from .limits import LINEAR_RELATIVE
from .matrix import Matrix, solved
from .stack import Bools, Floats, Ints
from .sums import Sums


class Pattern(NamedTuple):
    """Where the entries (E,) are: ``rows`` and ``columns`` of nodes 1... counted from 0; ``diagonal`` (N - 1,) the entries on
    it; ``plan`` how it is eliminated,
    ``by_row`` adds up what is at the entries."""

    nodes: int
    rows: Ints
    columns: Ints
    diagonal: Ints
    plan: Plan
    by_row: Sums


class Sparse(Matrix):
    """Matrices as their ``entries`` (E, B)."""

    def __init__(self, pattern: Pattern, entries: Floats) -> None:
        self.pattern, self.entries = pattern, entries

    def solved(self, wanted: Floats) -> tuple[Floats, Bools]:
        with np.errstate(all="ignore"):
            return self._solved(wanted)

    def _solved(self, wanted: Floats) -> tuple[Floats, Bools]:
        right = np.ascontiguousarray(wanted.T[1:])
        x = _eliminated(self.pattern.plan, self.entries, right)
        solution = np.zeros_like(wanted)
        singular = np.zeros(len(wanted), dtype=bool)
        missed, doubtful = self._missed(x, right)
        if len(doubtful):
            # once more for what is missed; and with pivots where that does not help
            some = self.take(doubtful)
            x[:, doubtful] -= _eliminated(self.pattern.plan, some.entries, missed[:, doubtful])
            _, bad = some._missed(x[:, doubtful], right[:, doubtful])
            if len(bad):
                dense = some.take(bad).dense()
                found, singular[doubtful[bad]] = solved(dense, wanted[doubtful[bad]])
                x[:, doubtful[bad]] = found[:, 1:].T
        solution[:, 1:] = x.T
        return solution, singular

    def _missed(self, x: Floats, right: Floats) -> tuple[Floats, Ints]:
        """By how much (N - 1, B) the equations are missed, and the members in which that is more than rounding, or no
        number."""
        pattern = self.pattern
        missed = pattern.by_row.of(self.entries * x[pattern.columns]) - right
        # a part of the magnitudes is enough for nearly all
        near = np.abs(right) + np.abs(self.entries[pattern.diagonal] * x)
        doubtful = np.flatnonzero(~(np.abs(missed) <= LINEAR_RELATIVE * near).all(axis=0))
        if len(doubtful):
            near = np.abs(right[:, doubtful])
            near += Sums(pattern.rows, len(right)).of(np.abs(self.entries[:, doubtful] * x[pattern.columns][:, doubtful]))
            doubtful = doubtful[~(np.abs(missed[:, doubtful]) <= LINEAR_RELATIVE * near).all(axis=0)]
        return missed, doubtful

    def sizes(self, members: Any = slice(None)) -> Floats:
        pattern, entries = self.pattern, self.entries[:, members]
        result = np.zeros((entries.shape[1], pattern.nodes))
        # what a row has in column 0 makes up for the rest of it
        sums = Sums(pattern.rows, pattern.nodes - 1)
        result[:, 1:] = (sums.of(np.abs(entries)) + np.abs(sums.of(entries))).T
        return result

    def held(self, siemens: Floats | float) -> Sparse:
        entries = self.entries.copy()
        entries[self.pattern.diagonal] += siemens
        return Sparse(self.pattern, entries)

    def take(self, keep: Any) -> Sparse:
        return Sparse(self.pattern, self.entries[:, keep])

    def chosen(self, yes: Bools, other: Sparse) -> Sparse:
        return Sparse(self.pattern, np.where(yes, self.entries, other.entries))

    def dense(self) -> Floats:
        whole = np.zeros((self.entries.shape[1], self.pattern.nodes, self.pattern.nodes))
        whole[:, self.pattern.rows + 1, self.pattern.columns + 1] = self.entries.T
        return whole


def _eliminated(plan: Plan, entries: Floats, right: Floats) -> Floats:
    """Solutions (n, B) without any pivoting outside the core; not numbers where a pivot is 0."""
    work = np.zeros((plan.slots, entries.shape[1]))
    work[:len(entries)] = entries
    work[plan.filled:plan.filled + plan.size] = right
    inverses = [_forward(level, work) for level in plan.levels]
    x = np.empty_like(right)
    if len(plan.core):
        x[plan.core] = _core(work[plan.core_slots].transpose(2, 0, 1), work[plan.filled + plan.core].T).T
    for level, inverse in zip(reversed(plan.levels), reversed(inverses), strict=True):
        known = level.back.of(work[level.row] * x[level.row_node])
        x[level.pivots] = (work[plan.filled + level.pivots] - known) * inverse
    return x


def _forward(level: Level, work: Floats) -> Floats:
    """Eliminates a level's nodes in place; gives 1 / pivot (p, B)."""
    inverse: Floats = 1.0 / work[level.diagonals]
    column = work[level.column] * inverse[level.column_of]
    work[level.targets] -= level.into.of(column[level.left] * work[level.right])
    return inverse


def _core(matrix: Floats, wanted: Floats) -> Floats:
    """matrix x = wanted (B, m) with pivots; not numbers where it is singular."""
    try:
        return np.asarray(np.linalg.solve(matrix, wanted[..., None])[..., 0], dtype=np.float64)
    except np.linalg.LinAlgError:
        singular = np.linalg.slogdet(matrix)[0] == 0.0
        regular = np.where(singular[:, None, None], np.eye(matrix.shape[1]), matrix)
        return np.where(singular[:, None], np.nan, np.linalg.solve(regular, wanted[..., None])[..., 0])
