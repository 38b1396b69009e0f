"""A bus line that nothing pulls up."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.operating.chips import logic_pin
from checker.operating.consistent import at_supply
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.held import is_held
from grammar.syntax_tree import Span
from parts_library.schema import Controller, Resistor


def find(case: Case) -> Iterator[Found]:
    """Controller pins with the role bus whose released line nothing holds high."""
    for (key, pin), (roles, span) in case.bench.roles.items():
        if "bus" not in roles or "pullup" in roles or (key, pin) not in case.circuit.touched:
            continue
        for point in case.operating.points:
            if point.phase == "steady" and point.state.get(case.pin_name(key, pin)) == "released" \
                    and point.corner.name == "nominal":
                if not is_held(case, key, pin, point):
                    yield Found(rule="no-pull-up", severity="fault", span=span, case="bus", parts=(case.name(key),),
                                points=(case.pin_name(key, pin),), needs_whole_list=True)
                else:
                    yield from _never_high(case, key, pin, span)
                break


def _never_high(case: Case, key: str, pin: str, span: Span) -> Iterator[Found]:
    """A line that something holds, but below what reads as high in every nominal state in which the pin lets it go."""
    entry = case.bench.parts[key].entry
    if not isinstance(entry, Controller):
        return
    name = case.pin_name(key, pin)
    released = np.array([point.state.get(name) == "released" for point in case.operating.points]) & case.mask("nominal")
    supply = case.volts(key, logic_pin(entry), "GND")
    best = case.worst(case.volts(key, pin, "GND"), released & (supply > POWERED))
    if best is None:
        return
    needed = float(at_supply(entry.high_min, supply)[case.operating.points.index(best[1])])
    if best[0] < needed * SHORT_OF:
        yield Found(rule="no-pull-up", severity="fault", span=span, case="low", parts=(case.name(key),), points=(name,),
                    facts={"resistor": _to_minus(case, key, pin, best[1])}, needs_whole_list=True,
                    evidence=(case.evidence("voltage", name, "V", *best, needed, True),))


SHORT_OF = 0.98
"""What misses the level by less is below what the models can tell."""

POWERED = 2.5
"""Volts from which a board counts as fed: below it no controller runs."""


def _to_minus(case: Case, key: str, pin: str, point: Point) -> str:
    """The name of a resistor from the line to something at 0 V, or ""."""
    at = case.operating.points.index(point)
    for other, its in case.pins_on(case.net(key, pin)):
        if isinstance(case.bench.parts[other].entry, Resistor):
            end = "2" if its == "1" else "1"
            if abs(float(case.operating.volts_at(other, end)[at] - case.operating.volts_at(key, "GND")[at])) < 0.1:
                return case.name(other)
    return ""

EXPLANATION = """
# What it means
A bus line (I2C, one-wire) has parts on it that can only pull it down to 0 V. To go high they let go, and a resistor to
plus must lift it. Without this resistor the line never gets high, or only by chance.

# Why it matters
The program finds no sensor, or reads the same wrong value each time (a DS18B20 then often shows 85 or -127 degrees).
One resistor for the whole line is enough: 4.7 kΩ to plus costs about 1 mA while the line is low. Many ready-made
modules carry theirs on board.

# A list that has it
title "Tide tank: the water thermometer"
board half
part U1 controller-5v
part TEMP DS18B20 in c10 c11 c12 flat faces a
wire U1.GND to L-1
wire U1.5V to L+1
wire L-10 to a10
wire L+12 to a12
wire U1.D2 to a11
pin U1.D2 bus

# The same list mended
title "Tide tank: the water thermometer"
board half
part U1 controller-5v
part TEMP DS18B20 in c10 c11 c12 flat faces a
part R1 4k7 in e11 L+11
wire U1.GND to L-1
wire U1.5V to L+1
wire L-10 to a10
wire L+12 to a12
wire U1.D2 to a11
pin U1.D2 bus

# How to check with a meter
Power off: measure the ohms from the line (strip 11) to plus (strip 12). 4.7 kΩ is right, OL means that none is there.
Power on and nothing sent: the line must rest at 5 V, or 3.3 V on a 3.3 V board.

# Source
A pull-up of about 5 kΩ, the idle line is high: DS18B20 Programmable Resolution 1-Wire Digital Thermometer datasheet,
Maxim (Dallas Semiconductor), section 1-Wire Bus System. For I2C: Understanding the I2C Bus, SLVA704, Texas Instruments,
June 2015, section 1.1.2.
"""

RULE = Rule("no-pull-up", "function", EXPLANATION, find)
