"""A load that is switched on only half, or a light too dim to see."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.loads import LEAST_SHARE, NOTHING, rated_amps
from checker.rules.ratings import ratings_of
from checker.rules.told_once import short_of_volts
from checker.rules.undervoltage import starved_by_volts
from parts_library.schema import Bipolar, Chip, Led, Load, Mosfet, Relay, SupplyKind

ENOUGH = 0.75
"""Share of its rated current at which a load works: from memory, relays must operate at 75 to 80 % of their voltage."""

FULL_DROP = 0.15
"""A switch that keeps more than this share of the supply to itself is not fully on (common practice, no source)."""

LEAST_DROP = 0.5
DARLINGTON_DROP = 1.5
LEAST_OF_SUPPLY = 0.1
"""Volts, and share of the highest supply, that a switch keeps at least when it is not fully on; a Darlington transistor keeps
up to 1.5 V fully on (saturation in the datasheets of BC517 and TIP122, from memory)."""

LEAST_LIGHT = 0.0004
LIGHT_SHARE = 0.05
"""Amps below which an indicator LED is hardly seen in a lit room: a fifth of a low-current LED's 2 mA. Where a transistor keeps
the rest, dimness is not meant, and a twentieth of what the LED is specified at counts, 1 mA for one of 20 mA (from memory)."""


def find(case: Case) -> Iterator[Found]:
    """Loads whose best nominal state gives them too little, because a transistor in series keeps the rest to itself (in the
    weak corner only, a note) or for any other reason; LEDs that are hardly seen."""
    told = set()
    for key, part in case.parts(Load, Relay):
        if not case.is_used(key):
            continue
        if key in (load for load, _ in too_small(case).values()):
            told.add(key)
            continue
        for mask, severity in (("nominal", "fault"), ("weak", "note")):
            if (found := _starved(case, key, part, mask, severity)) is not None:
                yield found
                if severity == "fault":
                    told.add(key)
                break
    yield from starved_by_volts(case, told)
    yield from _couplers(case)
    short = {member for _, members in short_of_volts(case) for member in members}
    for key, part in case.parts(Led):
        assert isinstance(part.entry, Led)
        if key in short:
            continue
        best = case.worst(case.amps(key, "A"), case.mask("nominal"))
        if best is None or best[0] < NOTHING:
            continue
        half_on = _switch_in_series(case, key, case.operating.points.index(best[1]), best[0]) is not None
        least = max(LEAST_LIGHT, LIGHT_SHARE * float(part.entry.usual_current) if half_on else 0.0)
        if best[0] < least:
            yield Found(rule="weak-drive", severity="fault", span=part.span, case="dim", parts=(part.name,),
                        evidence=(case.evidence("current", part.name, "A", *best, least, True, case.amps(key, "A")),))


def _couplers(case: Case) -> Iterator[Found]:
    """Couplers with a logic or triac output whose LED is switched on and gets less than that output needs."""
    for key, part in case.parts(Chip):
        assert isinstance(part.entry, Chip)
        needs = part.entry.led_needs
        best = case.worst(case.amps(key, "A"), case.mask("nominal")) if needs is not None else None
        if best is not None and needs is not None and NOTHING < best[0] < needs:
            yield Found(rule="weak-drive", severity="fault", span=part.span, case="coupler", parts=(part.name,),
                        evidence=(case.evidence("current", part.name, "A", *best, float(needs), True, case.amps(key, "A")),))


def _starved(case: Case, key: str, part: BenchPart, mask: str, severity: str) -> Found | None:
    pins = part.load_pins[:2]
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
                 points=(case.where(other, pin),),
                 facts={"load": part.name, "switch": its.name, **_following(case, key, other, at)},
                 evidence=(case.evidence("current", part.name, "A", best[0], best[1], wanted, True, amps),
                           case.evidence("voltage", its.name, "V", drop, best[1], values=amps),
                           case.evidence("power", its.name, "W", power, best[1], limit, values=amps)))


def too_small(case: Case) -> dict[str, tuple[str, float]]:
    """Transistors that carry more than they stand for a load that is made for more than that: key to the load's key and rated
    amps. That they get hot and that the load starves is one cause with it, and ``too-much-current`` tells it."""
    if "too-small" not in case.kept:
        found = {}
        for rating in ratings_of(case):
            if rating.kind == "current" and rating.pins in (("C",), ("D",)) and isinstance(
                    case.bench.parts[rating.key].entry, Bipolar | Mosfet):
                worst = case.worst(rating.values, case.mask("steady"))
                load = _largest_load(case, rating.key) if worst is not None and worst[0] > rating.limit else None
                if load is not None and load[1] > rating.limit:
                    found[rating.key] = load
        case.kept["too-small"] = found
    kept: dict[str, tuple[str, float]] = case.kept["too-small"]
    return kept


def _largest_load(case: Case, switch: str) -> tuple[str, float] | None:
    """The load with the most rated amps on a leg of a transistor that is on no source."""
    nets = {case.net(switch, pin) for pin in case.bench.parts[switch].pins} - case.stiff
    loads = [(key, rated_amps(part)) for key, part in case.parts(Load, Relay)
             if nets & {case.net(key, pin) for pin in part.load_pins[:2]}]
    return max(loads, key=lambda load: load[1], default=None)


def _following(case: Case, key: str, switch: str, at: int) -> dict[str, str]:
    """For an NPN or N-channel transistor above its load: its output leg and its control, which that leg can only follow."""
    entry = case.bench.parts[switch].entry
    if not isinstance(entry, Bipolar | Mosfet) or not entry.polarity.startswith("n"):
        return {}
    control, top, out = ("B", "C", "E") if isinstance(entry, Bipolar) else ("G", "D", "S")
    above = case.net(switch, out) in {case.net(key, pin) for pin in case.bench.parts[key].load_pins[:2]}
    spare = float(case.operating.volts_at(switch, top)[at] - case.operating.volts_at(switch, control)[at])
    if not above or case.net(switch, out) in case.stiff or spare < LEAST_DROP:
        return {}
    names = {"B": "base", "G": "gate", "E": "emitter", "S": "source", "C": "collector", "D": "drain"}
    return {"out": names[out], "control": names[control], "top": names[top]}


def _switch_in_series(case: Case, key: str, at: int, amps: float) -> tuple[str, str, float] | None:
    """The transistor or driver that carries the load's current, at whichever end the load is, and drops more than its share of
    the voltage."""
    supply = max((float(case.volts(other, "+", "-")[at]) for other, _ in case.parts(SupplyKind)), default=5.0)
    for other, part in case.parts(Bipolar, Mosfet):
        least = DARLINGTON_DROP if isinstance(part.entry, Bipolar) and part.entry.darlington else LEAST_DROP
        pins = ("C", "E") if isinstance(part.entry, Bipolar) else ("D", "S")
        carried = [float(abs(case.amps(other, pin)[at])) for pin in pins]
        drop = float(abs(case.volts(other, *pins)[at]))
        load_pins = case.bench.parts[key].load_pins[:2]
        across = float(abs(case.volts(key, load_pins[0], load_pins[1])[at]))
        if min(abs(each - amps) for each in carried) < 0.25 * amps and drop > max(
                FULL_DROP * (drop + across), LEAST_OF_SUPPLY * supply, least):
            return other, pins[0], drop
    return None

EXPLANATION = """
# What it means
A load gets current, but too little to do its work, because the transistor in its way is only half on (or an LED is too
dim to see, under 0.4 mA). To switch a load fully, a bipolar transistor wants about a tenth to a twentieth of the load's
current at its base.

# Why it matters
Here the base gets 4.3 V over 47 kΩ, which is 0.09 mA, and with a gain of some 200 the motor gets 20 mA of its 100 mA.
It hums and does not turn, while the transistor keeps nearly 5 V to itself and gets warm. With 330 Ω the base gets 12 mA
and the transistor keeps only 0.1 V.

# A list that has it
title "Bird feeder: the seed stirrer"
board half
supply PACK 6V on L+ L-
part U1 controller-5v
part STIR motor 6V 100mA stall 300mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 47k in e11 e16
part D1 1N4001 in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire STIR.1 to b12
wire STIR.2 to L+20

# The same list mended
title "Bird feeder: the seed stirrer"
board half
supply PACK 6V on L+ L-
part U1 controller-5v
part STIR motor 6V 100mA stall 300mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
part D1 1N4001 in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire STIR.1 to b12
wire STIR.2 to L+20

# How to check with a meter
Power on, load switched on: measure the volts from collector to emitter, strips 12 and 10 here. Under 0.3 V the
transistor is fully on. Several volts mean that it is not: then measure the volts across the base resistor and divide by
its ohms for the base current.

# Source
Saturation is given at a base current of a tenth: 0.3 V at most at 150 mA with 15 mA into the base, P2N2222A Amplifier
Transistors datasheet, ON Semiconductor, Rev. 7, January 2013 (figures from memory).
"""

RULE = Rule("weak-drive", "function", EXPLANATION, find)
