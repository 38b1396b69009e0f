"""The derivatives of a batch's equations as something that can be solved: one matrix a member.

Node 0 keeps its place and is never solved. ``Matrix`` is what the iteration asks of one; here it is dense, `sparse` has
the other form, for members that share their wiring.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any, Self

import numpy as np

from .limits import ROUNDING_UNITS
from .stack import Bools, Floats

EPSILON = float(np.finfo(np.float64).eps)


class Matrix(ABC):
    """What the iteration asks of the matrices (one a member) of its equations."""

    @abstractmethod
    def solved(self, wanted: Floats) -> tuple[Floats, Bools]:
        """matrix x = wanted (B, N) for every member, node 0 left at 0 V; and which members (B,) are singular (their x
        is 0)."""

    @abstractmethod
    def sizes(self, members: Any = slice(None)) -> Floats:
        """The sum of magnitudes in every row (B, N), of these members."""

    @abstractmethod
    def held(self, siemens: Floats | float) -> Matrix:
        """The same with a conductance, one a member (B,) or one for all, from every node to node 0."""

    @abstractmethod
    def take(self, keep: Any) -> Self:
        """The members ``keep``."""

    @abstractmethod
    def chosen(self, yes: Bools, other: Self) -> Self:
        """These members where ``yes`` (B,), else those of ``other``."""

    @abstractmethod
    def dense(self) -> Floats:
        """As an array (B, N, N) whose row and column 0 mean nothing."""


class Dense(Matrix):
    """Matrices held as one array (B, N, N)."""

    def __init__(self, values: Floats) -> None:
        self.values = values

    def solved(self, wanted: Floats) -> tuple[Floats, Bools]:
        return solved(self.values, wanted)

    def sizes(self, members: Any = slice(None)) -> Floats:
        sums: Floats = np.abs(self.values[members]).sum(axis=2)
        return sums

    def held(self, siemens: Floats | float) -> Dense:
        values, diagonal = self.values.copy(), np.arange(self.values.shape[1])
        values[:, diagonal, diagonal] += np.reshape(siemens, (-1, 1))
        return Dense(values)

    def take(self, keep: Any) -> Dense:
        return Dense(self.values[keep])

    def chosen(self, yes: Bools, other: Dense) -> Dense:
        return Dense(np.where(yes[:, None, None], self.values, other.values))

    def dense(self) -> Floats:
        return self.values


def solved(matrix: Floats, wanted: Floats) -> tuple[Floats, Bools]:
    """matrix x = wanted for every member, node 0 left at 0 V; and which members (B,) are singular (their x is 0)."""
    inner, right = matrix[:, 1:, 1:], wanted[:, 1:, None]
    singular = np.zeros(len(matrix), dtype=bool)
    solution = np.zeros_like(wanted)
    try:
        solution[:, 1:] = np.linalg.solve(inner, right)[..., 0]
    except np.linalg.LinAlgError:
        inner, singular = _loosened(inner)
        solution[~singular, 1:] = np.linalg.solve(inner[~singular], right[~singular])[..., 0]
    return solution, singular


def _loosened(inner: Floats) -> tuple[Floats, Bools]:
    """Matrices that are singular only because a leakage was lost in rounding get it back, within rounding; and which
    members are singular all the same."""
    singular: Bools = np.asarray(np.linalg.slogdet(inner)[0] == 0.0)
    loose = inner.copy()
    diagonal = np.arange(inner.shape[1])
    loose[:, diagonal, diagonal] *= 1.0 + (ROUNDING_UNITS * EPSILON) * singular[:, None]
    singular[singular] = np.linalg.slogdet(loose[singular])[0] == 0.0
    return loose, singular
