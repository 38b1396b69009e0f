"""A point that can be understood in two ways."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A point of the list can be understood in two ways. Here a wire goes to "LED1.K", but LED1 is on the board, and
which hole its K leg is in depends on how it was turned. The same question comes up where a hole reads like a
controller's pin: d9 is a hole, D9 a pin.

# Why it matters
If the two ways lead to different strips, one is right and the other may carry nothing, or 9 V where 0 V belong. If
the LED is really the other way round, its K is in c10: 27 mA then flow from the resistor straight to minus, past a
lamp that stays dark. The list is read in the likelier way, and the report asks so that you look.

# A list that has it
title "Bird feeder, night lamp"
board half
supply PACK 6V on L+ L-
part R1 220 in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to a5
wire black LED1.K to L-12

# The same list mended
title "Bird feeder, night lamp"
board half
supply PACK 6V on L+ L-
part R1 220 in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to a5
wire black b12 to L-12

# How to check with a meter
With power off, set the meter to resistance. Put one probe on the bare end of the wire and the other on a short
wire in the hole that you mean: under 1 Ω says that they are one point. For an LED use diode test: it reads 1.6 to
2 V (red) with the red probe on A, and nothing turned round.

# Source
Common practice, no source: the longer leg is A, the flat of the rim is at K.
"""

RULE = Rule("ambiguous-point", "reading", EXPLANATION)
