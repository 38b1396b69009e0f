"""The points at which one circuit is solved: a state of everything that can be switched, in a corner, in a phase.

``Points`` holds them as columns: each spread and each variable is an array with one element a point, so that a part's
model is written once and evaluated for all points together.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from checker.operating.corners import Corner

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
State = dict[str, str]


class Point(Struct, frozen=True):
    """One operating point. ``state`` maps each variable to its option; ``phase`` is "steady", "reset" or "switch-off";
    ``forced`` maps a coil (part, index) to the current in amps that it still carries at switch-off, ``henries`` is its
    inductance, and ``held`` maps a capacitor to the volts to which it is charged when the ringing is over. ``restless`` names
    what does not stay as it is in this state, so that the circuit only passes through it (of nominal points)."""

    state: State
    corner: Corner
    phase: str = "steady"
    forced: dict[tuple[str, int], float] = {}
    henries: float = 0.0
    held: dict[str, float] = {}
    switched: str = ""
    restless: tuple[str, ...] = ()


class Points:
    """The columns of a sequence of points."""

    def __init__(self, points: Sequence[Point]) -> None:
        self.points = tuple(points)
        self.count = len(self.points)
        corners = [point.corner for point in self.points]
        self._columns = {name: np.array([getattr(corner, name) for corner in corners], dtype=np.int64)
                         for name in ("supply", "resistor", "gain", "threshold", "skew")}
        self.stalled: Bools = np.array([corner.stalled for corner in corners], dtype=bool)
        # many points share a state, which is then looked at once
        unique = {id(point.state): point.state for point in self.points}
        number = {key: i for i, key in enumerate(unique)}
        self._states = tuple(unique.values())
        self._state_of = np.array([number[id(point.state)] for point in self.points], dtype=np.intp)
        self._options: dict[str, NDArray[np.str_]] = {}
        self._is: dict[tuple[str, str], Bools] = {}
        self._sources = 0
        self.switching = any(point.forced for point in self.points)

    def spread(self, name: str, low: float, nominal: float, high: float) -> Floats | float:
        """The value of a spread quantity at each point; a plain number where it does not spread."""
        if low == nominal == high:
            return nominal
        return np.choose(self._columns[name] + 1, (low, nominal, high)).astype(float)

    def source_sign(self) -> NDArray[np.int64]:
        """The sign of the next source's spread: its corner's, or with a skew the first one's against all others'."""
        first = self._sources == 0
        self._sources += 1
        skew = self._columns["skew"]
        return np.where(skew != 0, skew if first else -skew, self._columns["supply"]).astype(np.int64)

    def is_in(self, variable: str, option: str) -> Bools:
        """Where a variable has an option."""
        key = (variable, option)
        if key not in self._is:
            if variable not in self._options:
                self._options[variable] = np.array([state.get(variable, "") for state in self._states])
            self._is[key] = np.asarray(self._options[variable] == option)[self._state_of]
        return self._is[key]

    def ringing(self, part: str) -> tuple[Floats, Floats]:
        """For a capacitor at each point: inductance of the coil that is switched off (NaN where none is), and its volts."""
        henries = np.array([point.henries or np.nan for point in self.points])
        return henries, np.array([point.held.get(part, 0.0) for point in self.points])

    def has(self, variable: str) -> bool:
        return any(variable in state for state in self._states)

    def forced(self, part: str, coil: int) -> Floats:
        """The current that a coil is made to carry at each point; NaN where it is free."""
        return np.array([point.forced.get((part, coil), np.nan) for point in self.points])


def where(condition: Bools, yes: float | Floats, no: float | Floats) -> Floats:
    """numpy.where, typed."""
    return np.where(condition, yes, no).astype(float)
