"""From datasheet figures to model parameters.

Pure functions; units are volts, amps and ohms. The exponential of a junction is I = saturation * (exp(V / slope) - 1)
with a series resistance. At 300 K the thermal voltage kT/q is 25.85 mV (CODATA 2018 k and q).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache, wraps
from math import exp, log, sqrt
from typing import TypeVar

from msgspec import Struct

from parts_library.schema import Amps, Bipolar, Forward, Mosfet, Spread

THERMAL_VOLTAGE = 0.025852
MARGIN_TO_BREAKDOWN = 1.15
"""Real breakdown over the rating: makers guarantee the rating on every part, so typical parts stand some 15 % more (common
practice, no source). It makes an overstressed junction show a voltage above its rating."""

DEFAULT_REVERSE_GAIN = Spread(min=4.0, typ=10.0, max=15.0)
"""Gain of a small silicon transistor with collector and emitter exchanged: from memory of measured small-signal types."""

LEAST_SERIES = 1e-3


class JunctionModel(Struct, frozen=True):
    """``saturation`` A, ``slope`` V (emission coefficient times thermal voltage), ``ohms`` in series."""

    saturation: float
    slope: float
    ohms: float

    def shifted(self, volts: float) -> JunctionModel:
        """The same junction with its forward voltage raised by ``volts`` at every current."""
        return JunctionModel(self.saturation * exp(-volts / self.slope), self.slope, self.ohms)


SILICON = JunctionModel(1e-14, THERMAL_VOLTAGE, 1.0)
"""A clamp or substrate diode inside a chip, 0.75 V at 20 mA with 1 Ω: from memory of CMOS input characteristics."""


@lru_cache(maxsize=512)
def junction_from(points: tuple[Forward, ...], most_emission: float = 4.0) -> JunctionModel:
    """A junction through one, two or three points of its forward characteristic, exact where physics allows.

    With three points slope and resistance are solved for; with two the resistance is what an ideal slope leaves; with one
    the slope is 1.8 thermal voltages and a tenth of the voltage above the knee is resistive."""
    ordered = sorted(points, key=lambda p: p.amps)
    first, last = ordered[0], ordered[-1]
    least, most = THERMAL_VOLTAGE, most_emission * THERMAL_VOLTAGE
    if len(ordered) >= 3:
        slope, ohms = _three_points(ordered)
        slope = min(max(slope, least), most)
        ohms = max(ohms, LEAST_SERIES)
    elif len(ordered) == 2:
        slope = 1.8 * THERMAL_VOLTAGE
        ratio = log(last.amps / first.amps)
        ohms = (last.volts - first.volts - slope * ratio) / (last.amps - first.amps)
        if ohms < LEAST_SERIES:
            ohms = LEAST_SERIES
            slope = min(max((last.volts - first.volts) / ratio, least), most)
    else:
        slope, ohms = 1.8 * THERMAL_VOLTAGE, max(0.04 * last.volts / last.amps, LEAST_SERIES)
    middle = ordered[len(ordered) // 2]
    saturation = middle.amps / max(exp(min((middle.volts - middle.amps * ohms) / slope, 600.0)) - 1.0, 1e-300)
    return JunctionModel(max(saturation, 1e-40), slope, ohms)


def _three_points(points: Sequence[Forward]) -> tuple[float, float]:
    """Slope and resistance from v = slope * ln(i) + ohms * i + constant through first, middle and last point."""
    a, b, c = points[0], points[len(points) // 2], points[-1]
    l1, l2 = log(b.amps / a.amps), log(c.amps / b.amps)
    i1, i2 = b.amps - a.amps, c.amps - b.amps
    v1, v2 = b.volts - a.volts, c.volts - b.volts
    determinant = l1 * i2 - l2 * i1
    if abs(determinant) < 1e-12:
        return v1 / l1, LEAST_SERIES
    return (v1 * i2 - v2 * i1) / determinant, (l1 * v2 - l2 * v1) / determinant


EntryType = TypeVar("EntryType")
ModelType = TypeVar("ModelType")


MOST_KNOWN = 2_000
"""Models that are remembered, the oldest forgotten first: a list's own values make new entries all the time."""


def _remembered(fit: Callable[[EntryType], ModelType]) -> Callable[[EntryType], ModelType]:
    """Fits each entry once; entries hold tables and cannot be keys themselves, so their identity is."""
    known: dict[int, tuple[EntryType, ModelType]] = {}

    @wraps(fit)
    def fitted(entry: EntryType) -> ModelType:
        if id(entry) not in known:
            if len(known) >= MOST_KNOWN:
                del known[next(iter(known))]
            known[id(entry)] = (entry, fit(entry))
        return known[id(entry)][1]

    return fitted


class BipolarModel(Struct, frozen=True):
    """Transport model: saturation current, knee of the gain, gains (min, typ, max) at low current both ways, series
    resistances of collector and base."""

    saturation: float
    slope: float
    knee: float
    gain: tuple[float, float, float]
    reverse_gain: tuple[float, float, float]
    collector_ohms: float
    base_ohms: float


@_remembered
def bipolar_model(entry: Bipolar) -> BipolarModel:
    """The model of a transistor from its datasheet points."""
    slope = THERMAL_VOLTAGE
    on = entry.vbe_on
    default = 1.3 if entry.darlington else 0.68
    volts, amps = (on.volts, on.amps) if on is not None else (default, min(entry.ic / 10.0, 0.1))
    if entry.darlington:
        # two drops in series, the first transistor carrying less by the second one's gain
        volts = (volts + THERMAL_VOLTAGE * log(max(_gain_curve(entry)[0][1], 2.0) ** 0.5)) / 2.0
    peak, knee = _gain_curve(entry)
    saturation = amps * _base_charge(amps, knee) * exp(-volts / slope)
    reverse = entry.reverse_gain or DEFAULT_REVERSE_GAIN
    collector, base = _series_resistances(entry, slope, saturation, peak, knee)
    return BipolarModel(saturation, slope, knee, peak, (reverse.min, reverse.typ, reverse.max), collector, base)


def _base_charge(collector_amps: float, knee: float) -> float:
    """q_b of the Gummel-Poon model at a collector current: Ic = If/qb with qb = (1 + sqrt(1 + 4 If/knee)) / 2."""
    return 1.0 + collector_amps / knee if knee < float("inf") else 1.0


def _gain_curve(entry: Bipolar) -> tuple[tuple[float, float, float], float]:
    """Low-current gains (min, typ, max) and the knee current above which they fall, from the datasheet's points."""
    least = {g.ic: g.min for g in entry.gain if g.min is not None}
    typical = [g.typ for g in entry.gain if g.typ is not None]
    most = [g.max for g in entry.gain if g.max is not None]
    if not least:
        centre = max(typical or most or [100.0])
        least = {Amps(entry.ic / 10.0): centre * 0.6}
    peak_at = max(least, key=lambda ic: (least[ic], ic))
    peak = least[peak_at]
    knee = _knee(least)
    if knee == float("inf"):
        # where only one gain is guaranteed, the typical ones say where it falls
        knee = _knee({g.ic: g.typ for g in entry.gain if g.typ is not None})
    low = peak * _base_charge(peak_at, knee)
    high = max(most) if most else (max(typical) * 1.8 if typical else low * 3.0)
    high = max(high, peak) * low / peak
    middle = max(typical) * low / peak if typical else sqrt(low * high)
    return (low, min(max(middle, low), max(high, middle)), high), knee


def _knee(gains: dict[Amps, float]) -> float:
    """The current at which gain has fallen to a half, from gains at currents; infinity where they do not fall."""
    if not gains:
        return float("inf")
    peak_at = max(gains, key=lambda ic: (gains[ic], ic))
    beyond = [ic for ic in gains if ic > peak_at and gains[ic] < gains[peak_at]]
    if not beyond:
        return float("inf")
    far = max(beyond)
    ratio = gains[peak_at] / gains[far]
    # gain falls as 1 / (1 + ic/knee): through the peak and the farthest point
    knee = (far - ratio * peak_at) / (ratio - 1.0) if far > ratio * peak_at else far / max(ratio - 1.0, 1e-3)
    # guaranteed minima are no curve: above its peak the gain may fall, at the peak itself it has fallen by a quarter
    return max(knee, 3.0 * peak_at)


def _series_resistances(entry: Bipolar, slope: float, saturation: float, gain: tuple[float, float, float],
                        knee: float) -> tuple[float, float]:
    """Collector and base resistance that bring the model to the datasheet's saturation voltages."""
    collector, base = 0.05 * 0.5 / max(entry.ic, 1e-3), 20.0 * 0.2 / max(entry.ic, 1e-3)
    base = min(max(base, 0.05), 60.0)
    for point in entry.saturation:
        vce = point.vce if point.vce is not None else 0.7 * point.vce_max if point.vce_max is not None else None
        if vce is not None:
            drive = gain[1] * point.ib / (point.ic * _base_charge(point.ic, knee))
            ideal = THERMAL_VOLTAGE * log((1.0 + 1.0 / 10.0 + 1.0 / 10.0 * point.ic / point.ib) / max(
                1.0 - 1.0 / max(drive, 1.05), 0.03))
            if entry.darlington:
                ideal += 0.65
            collector = max((vce - ideal) / point.ic, 1e-3)
    return collector, base


class ChannelModel(Struct, frozen=True):
    """Square law: ``transconductance`` A/V² with each of the thresholds (min, typ, max), ``ohms`` in series."""

    transconductance: tuple[float, float, float]
    threshold: tuple[float, float, float]
    ohms: float


@_remembered
def channel_model(entry: Mosfet) -> ChannelModel:
    """The model of a MOSFET from its on-resistance at the lowest gate voltage that the datasheet states, and the
    resistance that does not depend on the gate from the highest."""
    rows = sorted(entry.on_resistance, key=lambda row: row.vgs)
    low = rows[0]
    ohms_low = low.ohms if low.ohms is not None else low.ohms_max
    overdrive = max(low.vgs - entry.threshold.typ, 0.3)
    rest = 0.3 * (rows[-1].ohms if rows[-1].ohms is not None else rows[-1].ohms_max)
    channel = max(ohms_low - rest, 0.3 * ohms_low)
    threshold = (float(entry.threshold.min), float(entry.threshold.typ), float(entry.threshold.max))
    typical = 1.0 / (channel * overdrive)
    # a part with the highest threshold still keeps the on-resistance that is guaranteed
    guaranteed = max((1.0 / ((row.ohms_max - rest) * (row.vgs - threshold[2])) for row in rows
                      if row.ohms_max > rest and row.vgs > threshold[2]), default=typical)
    return ChannelModel((typical, typical, max(typical, guaranteed)), threshold, max(ohms_low - channel, 1e-4))
