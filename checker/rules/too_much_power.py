"""More watts in a part than it can shed."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from checker.rules.weak_drive import too_small


def find(case: Case) -> Iterator[Found]:
    """Power above the rating in the worst corner of steady running, or with a motor stalled at nominal values."""
    for rating in ratings_of(case):
        if rating.kind == "power" and rating.key not in too_small(case) and (
                found := over_limit(case, rating, "too-much-power", "part", case.mask("heat"))):
            yield found

EXPLANATION = """
# What it means
A part turns more electrical power into heat than it can pass on to the air. Power is volts times amps: 5 V across 47 Ω
drives 106 mA, and that makes 0.53 W. The small resistors of a kit are made for 0.25 W, a TO-92 transistor for about 0.6
W.

# Why it matters
Above its rating a part gets too hot to touch, changes its value, browns the board and in the end fails. A quarter-watt
resistor at half a watt reaches well over 150 °C. The cure is a bigger part (a power resistor for 1 W or 5 W), a higher
resistance, or less voltage.

# A list that has it
title "Bird feeder: a resistor that keeps the seed dry"
board half
supply PACK 5V on L+ L-
part WARM 47 in c10 c18
part LAMP led green in c24 c25 long c24
part R1 330 in b20 b24
wire L+10 to a10
wire L-18 to a18
wire L+20 to a20
wire L-25 to a25

# The same list mended
title "Bird feeder: a resistor that keeps the seed dry"
board half
supply PACK 5V on L+ L-
part WARM power resistor 47 in c10 c18
part LAMP led green in c24 c25 long c24
part R1 330 in b20 b24
wire L+10 to a10
wire L-18 to a18
wire L+20 to a20
wire L-25 to a25

# How to check with a meter
Power off: measure the resistor on resistance, 47 Ω here. Power on: measure the volts across it, then square the volts and
divide by the ohms. 5 V squared is 25, over 47 it is 0.53 W; compare with what the part is sold for. Do not test it with
a finger.

# Source
Rating of 0.25 W at 70 °C for the usual carbon film resistor, falling to nothing at 155 °C: CFR series datasheet, Yageo
(from memory). Power as volts times amps is Joule's law.
"""

RULE = Rule("too-much-power", "current", EXPLANATION, find)
