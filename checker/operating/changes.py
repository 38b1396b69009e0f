"""Which pairs of solved points are one act of switching, and which of them turn a coil off.

Input: the points of one circuit and its variables, without those that the circuit decides. A pair is one act where one
variable differs, or where all pins of a controller become inputs at once (a reset).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
from numpy.typing import NDArray

from checker.operating.points import Bools, Floats, Point

MOST_BEFORE = 48
"""States from which a coil's switching off is looked at: those with the most current."""

LEAST_COIL_AMPS = 1e-4
"""A coil that carries less is not switched off worth looking at."""

LEAST_LOSS = 0.5
"""Share of its current that a coil loses where it is switched off."""

Rows = NDArray[np.intp]


class Changes:
    """The states of the points as numbers: ``options`` (P, variables)."""

    def __init__(self, names: Sequence[str], points: Sequence[Point]) -> None:
        self.names = tuple(names)
        numbers: dict[str, int] = {"input": 0}
        known: dict[int, list[int]] = {}
        for point in points:
            if id(point.state) not in known:
                known[id(point.state)] = [numbers.setdefault(point.state[name], len(numbers)) for name in self.names]
        table = np.array([known[id(point.state)] for point in points], dtype=np.int16)
        self.options = table.reshape(len(points), len(self.names))
        self.resets: Bools = np.array([point.phase == "reset" for point in points], dtype=bool)

    def switching_off(self, rows: Rows, amps: Floats, near: Collection[str] | None = None) -> dict[str, tuple[int, int]]:
        """What switches a coil off that carries ``amps`` (P,): for each variable (or "reset") the pair of points, among
        ``rows``, with the largest loss of current. ``near`` are the variables that matter to the coil, None means all."""
        columns = np.array([i for i, name in enumerate(self.names) if near is None or name in near], dtype=np.intp)
        best: dict[str, tuple[int, int]] = {}
        most: dict[str, float] = {}
        size = np.abs(amps)
        for before in sorted(rows.tolist(), key=lambda row: -float(size[row]))[:MOST_BEFORE]:
            if size[before] < LEAST_COIL_AMPS:
                break
            loss = size[before] - size[rows]
            after = rows[loss >= LEAST_LOSS * size[before]]
            for row, name in self._acts(before, after, columns):
                lost = float(size[before] - size[row])
                if lost > most.get(name, 0.0):
                    best[name], most[name] = (before, row), lost
        return best

    def _acts(self, before: int, after: Rows, columns: Rows) -> list[tuple[int, str]]:
        """Those points of ``after`` that are one act away, with what is switched."""
        options = self.options[np.ix_(after, columns)]
        differs = options != self.options[before, columns]
        single = (differs.sum(axis=1) == 1) & (self.resets[after] == self.resets[before])
        acts = [(int(after[i]), self.names[columns[int(differs[i].argmax())]]) for i in np.flatnonzero(single)]
        if not self.resets[before]:
            # number 0 is "input"
            reset = self.resets[after] & ~single & ((options == 0) | ~differs).all(axis=1)
            acts += [(int(row), "reset") for row in after[reset]]
        return sorted(acts)
