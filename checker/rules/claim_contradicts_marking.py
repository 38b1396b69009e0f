"""The pins that the list claims are not those that the marking shows."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The list says which pin is in which hole, and it says which way the flat faces; the two do not fit. With the flat
toward column a, a PN2222A has E in the row with the lowest number, and the list claims C. One of the statements is
wrong, so both are computed, and the report asks you to look.

# Why it matters
If the flat is as written, all is well and the LED gets 15 mA. If the pins are as claimed, emitter and collector
are exchanged. Then more than the 6 V that it is made for stand across the joint between emitter and base, and the
transistor wears out. The numbers cannot decide it; your eyes can.

# A list that has it
title "Stage prop, horn lamp"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 4k7 in b11 b16
part Q1 PN2222A in c10 c11 c12 flat faces a as C B E
part R2 470 in b12 b20
part LED1 led red in c20 c22 long c22
wire red L+18 to g18
wire black a10 to L-10
wire red a22 to L+22

# The same list mended
title "Stage prop, horn lamp"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 4k7 in b11 b16
part Q1 PN2222A in c10 c11 c12 flat faces a as E B C
part R2 470 in b12 b20
part LED1 led red in c20 c22 long c22
wire red L+18 to g18
wire black a10 to L-10
wire red a22 to L+22

# How to check with a meter
Hold the part with the flat toward you and read its number. Out of the board, in diode test with the red probe on
the middle leg, the outer leg with the slightly higher reading is the emitter. When you have measured, write
"measured" after the claim, and it counts.

# Source
PN2222A/MMBT2222A/PZT2222A NPN General Purpose Amplifier, Fairchild Semiconductor, Rev. 1.0.0, February 2009: order
E B C, emitter-base voltage 6 V.
"""

RULE = Rule("claim-contradicts-marking", "orientation", EXPLANATION)
