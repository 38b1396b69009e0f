"""Solves a set of elements for node voltages: Newton's method with short steps, then with a leak that is made smaller by steps.

Derivatives are differences of each element's own currents. Voltages in, voltages out; an answer counts only if the currents of
every node add up to nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tests.faults.devices import Element

LEAK = 1e-11
"""Siemens from every node to the reference: an island has a defined voltage, and legs hang by what their part leaks."""

LEAKS = (1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, LEAK)
NUDGE = 1e-6
STEP = 0.5
"""Volts that a node moves in one step at most (a third of its voltage where that is more)."""


class Unsolved(Exception):
    """No operating point was found; the case is left out of the counts, and counted as left out."""


def solve(elements: Sequence[Element], nodes: int, reference: int) -> np.ndarray:
    """Volts of ``nodes`` nodes, the reference at zero. Unsolved when every way fails."""
    found, good = newton(elements, np.zeros(nodes), reference, LEAK, 80)
    if good:
        return found
    for begin, shorter in ((0.0, 1.0), (3.0, 1.0), (0.0, 0.1)):
        guess = np.full(nodes, begin)
        for leak in LEAKS:
            guess, good = newton(elements, guess, reference, leak, 150, shorter)
        if good:
            return guess
    raise Unsolved


def newton(elements: Sequence[Element], start: np.ndarray, reference: int, leak: float, most: int,
           shorter: float = 1.0) -> tuple[np.ndarray, bool]:
    """The voltages after at most so many steps (each cut to ``STEP`` times ``shorter``), and whether the currents balance."""
    v = start.copy()
    for _ in range(most):
        rest, slopes = _balance(elements, v, reference, leak)
        try:
            step = np.linalg.solve(slopes, -rest)
        except np.linalg.LinAlgError:
            return v, False
        longest = shorter * np.maximum(STEP, np.abs(v) / 3.0)
        v = v + np.clip(step, -longest, longest)
        if np.abs(step).max() < 1e-7:
            return v, bool(np.abs(_balance(elements, v, reference, leak)[0]).max() < 1e-8)
    return v, False


def _balance(elements: Sequence[Element], v: np.ndarray, reference: int, leak: float) -> tuple[np.ndarray, np.ndarray]:
    """Amps that leave each node, and their derivatives by every voltage."""
    rest, slopes = leak * v, np.diag(np.full(len(v), leak))
    rest[reference] += v[reference]
    slopes[reference, reference] += 1.0
    for element in elements:
        here = [float(v[node]) for node in element.nodes]
        amps = element.flow(*here)
        for row, node in enumerate(element.nodes):
            rest[node] += amps[row]
        for column, moved in enumerate(element.nodes):
            there = here.copy()
            there[column] += NUDGE
            for node, after, before in zip(element.nodes, element.flow(*there), amps):
                slopes[node, moved] += (after - before) / NUDGE
    return rest, slopes
