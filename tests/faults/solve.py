"""Solves a set of elements for node voltages with scipy: straight, then by conductance steps, then by least squares."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.optimize import least_squares, root

from tests.faults.devices import Element

LEAK = 1e-8
"""Siemens from every node to the reference: an island or an open leg has a defined voltage and hardly a current."""

STEPS = (1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, LEAK)


class Unsolved(Exception):
    """No operating point was found; the case is left out of the counts, and counted as left out."""


def solve(elements: Sequence[Element], nodes: int, grounded: Sequence[int], start: np.ndarray | None = None) -> np.ndarray:
    """Volts of ``nodes`` nodes; those in ``grounded`` are tied to zero. Unsolved when every way fails."""
    tied = np.zeros(nodes)
    tied[list(grounded)] = 1.0

    def balance(v: np.ndarray, leak: float) -> np.ndarray:
        out = (leak + tied) * v
        for element in elements:
            element(v, out)
        return out

    first = np.zeros(nodes) if start is None else start
    found = _try(balance, first, LEAK)
    if found is not None:
        return found
    for begin in (np.zeros(nodes), np.full(nodes, 2.0)):
        guess = begin
        for leak in STEPS:
            step = root(balance, guess, args=(leak,), method="hybr", options={"xtol": 1e-12})
            guess = step.x
        found = _try(balance, guess, LEAK)
        if found is not None:
            return found
        fit = least_squares(balance, guess, args=(LEAK,), xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=300)
        found = _try(balance, fit.x, LEAK)
        if found is not None:
            return found
    raise Unsolved


def _try(balance: object, start: np.ndarray, leak: float) -> np.ndarray | None:
    step = root(balance, start, args=(leak,), method="hybr", options={"xtol": 1e-13})
    rest = np.abs(balance(step.x, leak)).max()  # type: ignore[operator]
    return step.x if rest < 3e-9 and np.abs(step.x).max() < 1e4 else None
