"""A part whose legs are joined by a strip or a wire, so that no current passes through it."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Diode,
    Fuse,
    Inductor,
    Jfet,
    Led,
    Load,
    Mosfet,
    Regulator,
    Resistor,
    SensorResistor,
    Thyristor,
    Zener,
)

BRIDGEABLE = (Resistor, SensorResistor, Capacitor, Inductor, Diode, Zener, Led, Load, Fuse)


def find(case: Case) -> Iterator[Found]:
    """Two-legged parts with both legs in one net, and legs of a transistor or regulator that share a strip."""
    for key, part in case.parts():
        nets = [case.net(key, pin) for pin in part.pins if (key, pin) in case.circuit.touched]
        if isinstance(part.entry, BRIDGEABLE) and len(nets) == 2 and nets[0] == nets[1]:
            if not isinstance(part.entry, Fuse):
                yield _found(case, key, part, part.pins, "strip" if share_strip(case, key, *part.pins) else "wire")
        elif isinstance(part.entry, Bipolar | Mosfet | Jfet | Thyristor | Regulator):
            for number, one in enumerate(part.pins):
                for other in part.pins[number + 1:]:
                    if share_strip(case, key, one, other):
                        yield _found(case, key, part, (one, other), "legs")


def _found(case: Case, key: str, part: BenchPart, pins: tuple[str, ...], words: str) -> Found:
    return Found(rule="part-bridged", severity="fault", span=part.span, case=words, parts=(part.name,),
                 points=tuple(case.where(key, pin) for pin in pins), facts={"pins": " and ".join(pins)})


def share_strip(case: Case, key: str, one: str, other: str) -> bool:
    """True where two legs of a placed part stand in one strip."""
    seat = case.circuit.reading.seats.get(key)
    if seat is None:
        return False
    spots = [seat.legs.get(one), seat.legs.get(other)]
    strips = []
    for spot in spots:
        plan = plan_for(case.circuit.reading.plans, spot) if isinstance(spot, Hole) else None
        if isinstance(spot, Hole) and plan is not None:
            strips.append(plan.strip(spot))
    return len(strips) == 2 and strips[0] == strips[1]


EXPLANATION = """
# What it means
Both legs of a part are in one strip, or a wire joins them. The strip is metal of a few thousandths of an ohm, so
the current takes it and none passes through the part. Here the LED has both legs in row 10.

# Why it matters
A lamp that is bridged stays dark: it sees less than 0.001 V where it needs 2 to 3 V. A resistor that is bridged is
worse. What it was there to hold back then flows freely, and an LED that was to get 15 mA can get hundreds of
milliamps and die.

# A list that has it
title "Lighthouse model, lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led white in c10 e10 long c10
wire red L+5 to a5
wire black a13 to L-13

# The same list mended
title "Lighthouse model, lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led white in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
With power off, the meter set to resistance across the legs reads under 1 Ω for a bridged part, whatever it is. A
resistor alone reads its value. With power on, a bridged part has 0.00 V across it.

# Source
Building Gadgets: an Open Electronics Lab, Using a breadboard, Marlboro College, September 2012: the five holes of
a row are connected.
"""

RULE = Rule("part-bridged", "placement", EXPLANATION, find)
