"""How well predictions agree with what was seen, and what that makes of the hypotheses.

A reading is Gaussian about its prediction: its own width is the meter's tolerance and that of parts and contacts. What is the
same for a whole board, such as a tired battery, moves all its predictions together: each hypothesis keeps a belief about those
spreads, and every reading sharpens it. So a correct board with 5 % parts is explained, and one that was measured at its supply
is told from its neighbours the better. One reading in several hundred is a slip of the pen, so that none decides alone.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from checker.operating.points import Floats
from checker.tracing.instrument import SPREADS
from checker.tracing.model import Prediction, Probe, Seen

METER_SHARE, METER_DIGITS = 0.01, 2.0
"""Tolerance of a cheap digital multimeter: 1 % of the reading and two of its last digits (common practice, no source)."""

LAST_DIGIT = {"volts": (0.001, 0.01), "amps": (1e-5, 1e-4)}
"""The meter's own last digit, in volts and amps: as fine as the one that was given, within these (ranges of 2 V and 20 V, of
20 mA and 200 mA)."""

PARTS_SHARE = 0.02
"""Of every voltage and current: contacts, and resistors of which one is high and its neighbour low."""

CORNER_WIDTHS = 2.0
"""The end of a spread is so many standard deviations away: it is a limit, and seldom reached."""

LOOSE_VOLTS = 0.05
"""What a spot on which nothing holds a voltage picks up (common practice, no source)."""

UNKNOWN = {"volts": 3.0, "amps": 0.3}
SLIP_CHANCE, SLIP_RANGE = 0.003, {"volts": 10.0, "amps": 0.3}
"""A reading that is a slip of the pen could be anything within this range."""

STILL_BELIEVED = 4.5
"""A reading further off than this many widths says nothing about the spreads."""

_FULL = float(np.sqrt(2.0 * np.pi))


def own_width(prediction: Prediction, probe: Probe, value: float | None = None, digit: float = 0.01) -> float:
    """Standard deviation of one reading, in volts or amps, when the board's spreads are known; ``value`` is what was read."""
    if not prediction.known:
        return UNKNOWN[probe.kind]
    least, most = LAST_DIGIT[probe.kind]
    last = min(max(digit, least), most)
    meter = METER_SHARE * abs(prediction.nominal if value is None else value) + METER_DIGITS * last
    # a number given with fewer digits than the meter shows was rounded: evenly within half a digit
    rounding = digit / np.sqrt(12.0) if digit > most else 0.0
    loose = LOOSE_VOLTS if prediction.loose and probe.kind == "volts" else 0.0
    return float(np.sqrt(meter**2 + rounding**2 + (PARTS_SHARE * prediction.scale)**2 + loose**2))


class Belief:
    """What one hypothesis makes of the readings so far: the board's spreads (in standard deviations, Gaussian), the log of the
    likelihood, and how many widths off each reading is."""

    def __init__(self) -> None:
        self.mean: Floats = np.zeros(len(SPREADS))
        self.covariance: Floats = np.eye(len(SPREADS))
        self.log_likelihood = 0.0
        self.off: list[float] = []

    def expects(self, prediction: Prediction, probe: Probe, value: float | None = None,
                digit: float = 0.01) -> tuple[float, float]:
        """Mean and standard deviation of a reading, after those so far."""
        own = own_width(prediction, probe, value, digit)
        moves = _moves(prediction)
        return prediction.nominal + float(moves @ self.mean), float(np.sqrt(own**2 + moves @ self.covariance @ moves))

    def take(self, prediction: Prediction, seen: Seen) -> None:
        """One more reading."""
        if seen.probe.kind == "look":
            chance = prediction.nominal if seen.value else 1.0 - prediction.nominal
            self.log_likelihood += float(np.log(chance))
            self.off.append(float(np.sqrt(-2.0 * np.log(chance))))
            return
        # which way round a meter was put into a current is seldom told; voltages have their sign
        value = abs(seen.value) if seen.probe.kind == "amps" else seen.value
        mean, wide = self.expects(prediction, seen.probe, value, seen.digit)
        away = (value - mean) / wide
        bell = float(np.exp(-0.5 * min(abs(away), 30.0)**2)) / (wide * _FULL)
        self.log_likelihood += float(np.log((1.0 - SLIP_CHANCE) * bell + SLIP_CHANCE / SLIP_RANGE[seen.probe.kind]))
        self.off.append(abs(away))
        if abs(away) < STILL_BELIEVED:
            pull = self.covariance @ _moves(prediction)
            self.mean = self.mean + pull * (value - mean) / wide**2
            self.covariance = self.covariance - np.outer(pull, pull) / wide**2


def _moves(prediction: Prediction) -> Floats:
    return np.asarray(prediction.moves) / CORNER_WIDTHS if prediction.moves else np.zeros(len(SPREADS))


def posterior(priors: Sequence[float], beliefs: Sequence[Belief]) -> Floats:
    """The chance of each hypothesis: its prior times its likelihood, summing to 1."""
    logs = np.log(np.asarray(priors, dtype=float)) + np.array([belief.log_likelihood for belief in beliefs])
    shares = np.exp(logs - logs.max())
    return np.asarray(shares / shares.sum())
