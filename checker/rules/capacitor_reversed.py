"""A polarised capacitor with its plus leg at the lower voltage."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import Capacitor


def find(case: Case) -> Iterator[Found]:
    """Polarised capacitors that see more reverse voltage than they stand."""
    for rating in ratings_of(case):
        if rating.kind == "reverse" and isinstance(case.bench.parts[rating.key].entry, Capacitor):
            if (found := over_limit(case, rating, "capacitor-reversed", "part")):
                yield found

EXPLANATION = """
# What it means
An electrolytic capacitor has a plus and a minus leg. The stripe runs down the side of the minus leg, and the plus
leg is longer on a new part. Here the stripe is toward plus. (On a tantalum drop the bar or + marks the plus leg.)

# Why it matters
Its insulation is a film thinner than a thousandth of a millimetre that holds in one direction only. From about 1 V
the wrong way the film dissolves, current flows, the liquid inside boils. It vents with a bang or bursts, sometimes
minutes later; keep your face away. A tantalum capacitor can burn with a flame.

# A list that has it
title "Bird feeder, supply smoothing"
board half
supply PACK 9V on L+ L-
part C1 100uF 16V in e15 e17 stripe e15
part R1 470 in b5 b10
part LED1 led green in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13
wire red L+15 to a15
wire black a17 to L-17

# The same list mended
title "Bird feeder, supply smoothing"
board half
supply PACK 9V on L+ L-
part C1 100uF 16V in e15 e17 stripe e17
part R1 470 in b5 b10
part LED1 led green in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13
wire red L+15 to a15
wire black a17 to L-17

# How to check with a meter
Power off, and wait until it is discharged. Look for the stripe first. Then, with the capacitor out and power on,
measure the two rows where it goes: the row for the leg without the stripe has to be the higher one. One that has
been reversed is not to be trusted again, throw it away.

# Source
Cautions When Using Aluminum Dielectric Capacitors, ELNA: wrong polarity opens the pressure valve. 1 V as a limit:
from memory.
"""

RULE = Rule("capacitor-reversed", "orientation", EXPLANATION, find)
