"""A load that is switched on only half, or a light too dim to see."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.loads import LEAST_SHARE, NOTHING, rated_amps
from parts_library.schema import Bipolar, Led, Load, Mosfet, Relay

ENOUGH = 0.75
"""Share of its rated current at which a load works: from memory, relays must operate at 75 to 80 % of their voltage."""

FULL_DROP = 0.15
"""A switch that keeps more than this share of the supply to itself is not fully on (common practice, no source)."""

LEAST_LIGHT = 0.0004
"""Amps below which an indicator LED is hardly seen in a lit room: a fifth of a low-current LED's 2 mA, from memory."""


def find(case: Case) -> Iterator[Found]:
    """Loads whose best nominal state gives them too little while a transistor in series keeps the rest to itself; in the
    weak corner only, a note."""
    for key, part in case.parts(Load, Relay):
        if not case.is_used(key):
            continue
        for mask, severity in (("nominal", "fault"), ("weak", "note")):
            if (found := _starved(case, key, part, mask, severity)) is not None:
                yield found
                break
    for key, part in case.parts(Led):
        best = case.worst(case.amps(key, "A"), case.mask("nominal"))
        if best is not None and 2e-5 <= best[0] < LEAST_LIGHT:
            yield Found(rule="weak-drive", severity="fault", span=part.span, case="dim", parts=(part.name,),
                        evidence=(case.evidence("current", part.name, "A", *best, LEAST_LIGHT, True),))


def _starved(case: Case, key: str, part: BenchPart, mask: str, severity: str) -> Found | None:
    pins = ("A1", "A2") if "A1" in part.pins else part.pins[:2]
    wanted = rated_amps(part)
    amps = np.abs(case.amps(key, pins[0]))
    best = case.worst(amps, case.mask(mask))
    if best is None or not LEAST_SHARE * wanted <= best[0] < ENOUGH * wanted or best[0] < NOTHING:
        return None
    at = case.operating.points.index(best[1])
    switch = _switch_in_series(case, key, at, best[0])
    if switch is None:
        return None
    other, pin, drop = switch
    power = float(case.power(other)[at])
    its = case.bench.parts[other]
    limit = its.entry.max_power if its.entry is not None else None
    return Found(rule="weak-drive", severity=severity, span=its.span, case="switch", parts=(its.name, part.name),
                 points=(case.where(other, pin),), facts={"load": part.name, "switch": its.name},
                 evidence=(case.evidence("current", part.name, "A", best[0], best[1], wanted, True),
                           case.evidence("voltage", its.name, "V", drop, best[1]),
                           case.evidence("power", its.name, "W", power, best[1], limit)))


def _switch_in_series(case: Case, key: str, at: int, amps: float) -> tuple[str, str, float] | None:
    """The transistor or driver that carries the load's current and drops more than its share of the voltage."""
    for other, part in case.parts(Bipolar, Mosfet):
        pins = ("C", "E") if isinstance(part.entry, Bipolar) else ("D", "S")
        carried = float(abs(case.amps(other, pins[0])[at]))
        drop = float(abs(case.volts(other, *pins)[at]))
        load_pins = ("A1", "A2") if "A1" in case.bench.parts[key].pins else case.bench.parts[key].pins[:2]
        across = float(abs(case.volts(key, load_pins[0], load_pins[1])[at]))
        if abs(carried - amps) < 0.25 * amps and drop > FULL_DROP * (drop + across):
            return other, pins[0], drop
    return None

EXPLANATION = """
"""

RULE = Rule("weak-drive", "function", EXPLANATION, find)
