"""A bus line that nothing pulls up."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.input_floating import is_held


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
                break

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
A pull-up of about 5 kΩ, the idle line is high: DS18B20 Programmable Resolution 1-Wire Digital Thermometer data sheet,
Maxim (Dallas Semiconductor), section 1-Wire Bus System. For I2C: Understanding the I2C Bus, SLVA704, Texas Instruments,
June 2015, section 1.1.2.
"""

RULE = Rule("no-pull-up", "function", EXPLANATION, find)
