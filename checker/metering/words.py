"""Readings in words: what to expect, what the range is called, how another value shows."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor, isinf, log10

from checker.metering.dead import UNPLUGGED
from checker.metering.meter import LEADS_OHMS, RANGES, READS_WITHIN
from grammar import show_quantity

SHORT_OHMS = 5.0
"""Below this a path that should have resistance counts as a short (common practice, no source)."""

JOINED_OHMS = 1.0
"""What is joined reads less: leads, jumpers and contacts (common practice, no source)."""

VAGUE = 8.0
"""A band that is so many times as wide as its low end says no more than that end."""

DIODE_SLACK = 0.05
"""Volts by which a junction may differ from its model on another meter's current: 60 mV a decade and half a decade either way,
and its temperature."""


def widened(kind: str, low: float, high: float) -> tuple[float, float]:
    """A band with what the meter itself may be off."""
    if kind == "ohms":
        return (low if isinf(low) else low * (1 - READS_WITHIN)), high * (1 + READS_WITHIN) + LEADS_OHMS
    return max(low - DIODE_SLACK, 0.0), high + DIODE_SLACK


def expected(kind: str, value: float, low: float, high: float) -> str:
    """``about 220 Ω (205 to 236 Ω)``; the band is as computed, without the meter's share."""
    if kind == "ohms" and high < JOINED_OHMS:
        return f"under {show_quantity(JOINED_OHMS, 'ohm')}"
    if isinf(low):
        return "OL"
    low, high = widened(kind, low, high)
    unit = "ohm" if kind == "ohms" else "V"
    if isinf(high):
        return f"anything over {_round(low, unit, floor)}"
    if kind == "ohms" and high > VAGUE * low:
        return f"anything over {_round(low, unit, floor)}"
    if kind == "diode" and high < 0.2:
        return f"under {_round(high, unit)}"
    return band_in_words(value, low, high, unit)


def band_in_words(value: float, low: float, high: float, unit: str) -> str:
    """``about 220 Ω (200 to 240 Ω)``: two digits, the ends rounded outward."""
    ends = [_round(low, unit, floor), _round(high, unit, ceil)]
    if ends[0].split(" ")[-1] == ends[1].split(" ")[-1]:
        ends[0] = ends[0].split(" ")[0]
    return f"about {_round(value, unit)} ({ends[0]} to {ends[1]})"


def _round(value: float, unit: str, how: Callable[[float], int] = round) -> str:
    """Two digits, as much as a tolerance allows to mean."""
    if value <= 0 or isinf(value):
        return show_quantity(value, unit)
    step = 10.0 ** (floor(log10(value)) - 1)
    return show_quantity(how(round(value / step, 6)) * step, unit)


def short_below(low: float) -> float:
    """Ohms below which a path counts as a short whose least resistance is ``low``: half of it at most, as a single digit."""
    if isinf(low) or low >= 2 * SHORT_OHMS:
        return SHORT_OHMS
    half = max(low / 2, 2 * LEADS_OHMS)
    step = 10.0 ** floor(log10(half))
    return min(floor(half / step) * step, SHORT_OHMS)


def shows(kind: str, value: float, short: float = SHORT_OHMS) -> str:
    """Another value, as it is named in a list of what it would mean; under ``short`` ohms it is a short."""
    if isinf(value):
        return "OL"
    if kind == "ohms":
        return f"under {show_quantity(short, 'ohm')}" if value < short else f"about {_round(value, 'ohm')}"
    return "under 0.1 V" if value < 0.1 else f"about {_round(value, 'V')}"


HOLDS = {"pressed": "hold {name} pressed", "closed": "{name} closed", "open": "{name} open",
         "unplugged": "pull {name}'s leads out for it, and put them back after"}


def hold_in_words(name: str, option: str) -> str:
    """What the hand does meanwhile: ``hold S1 pressed``; "" for nothing."""
    if option == UNPLUGGED and "." in name:
        return f"pull the wire out of {name} for it, and put it back after"
    return HOLDS.get(option, "{name} " + option).format(name=name) if name else ""


def range_in_words(kind: str, value: float, high: float) -> str:
    """The range for a right value, in words that hold for every dial: meters of 2000 counts have 200 Ω and 2 kΩ, of 4000 counts
    400 Ω and 4 kΩ, of 6000 counts 600 Ω and 6 kΩ."""
    if kind == "diode":
        return ""
    most = value if isinf(high) else high
    if isinf(most):
        return "the highest range"
    return "the lowest range" if most < LOWEST_OHMS else f"the lowest range over {_round(most, 'ohm', ceil)}"


LOWEST_OHMS = RANGES[0].full / 2
"""The lowest range of every meter shows as much: 200 Ω is the lowest of those that are found (common practice, no source)."""

NEARLY_NOTHING = 0.15


def volts_range(most: float) -> str:
    """The one range for all readings with power on, of which ``most`` is the highest."""
    return f"a range over {_round(most, 'V', ceil)}"


def volts_expected(value: float, low: float, high: float) -> str:
    """``9 V (8.4 V to 9.7 V)``, ``under 0.3 V``."""
    if max(abs(low), abs(high)) < 2 * NEARLY_NOTHING:
        return f"under {_round(max(abs(low), abs(high), NEARLY_NOTHING), 'V')}"
    if low < NEARLY_NOTHING:
        return f"about {show_volts(value)} (up to {show_volts(high)})"
    return f"about {show_volts(value)} ({show_volts(low).removesuffix(' V')} to {show_volts(high)})"


def volts_show(value: float) -> str:
    """Another voltage; a minus is said."""
    return "about 0 V" if abs(value) < NEARLY_NOTHING else f"about {show_volts(value)}"


def show_volts(value: float) -> str:
    """Volts to a tenth from 1 V up, else to a hundredth."""
    return show_quantity(round(value, 1 if abs(value) >= 1 else 2), "V")
