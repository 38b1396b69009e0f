"""A lead one row off the strip where it belongs."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A lead is one row off. The wire is in a14, the LED's leg in row 13, and two rows that lie side by side are not
joined. The holes are 2.54 mm apart, so this is the commonest slip of all.

# Why it matters
Mostly nothing happens: 0 mA, a dark lamp. If the next row belongs to something else, the lead joins two points
that should be apart, and anything from a faint glow to a short of several amps can follow. The checker names the
row because looking for one wrong hole among hundreds costs hours.

# A list that has it
title "Tide tank, pump lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led green in c10 c13 long c10
wire red L+5 to a5
wire black a14 to L-13

# The same list mended
title "Tide tank, pump lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led green in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
With power off, set the meter to resistance. Probe the leg itself and the bare end of the wire, not the holes:
under 1 Ω if they share a strip, open if they do not. Then count the row again from the nearest printed number.

# Source
Common practice, no source: holes 2.54 mm (0.1 inch) apart.
"""

RULE = Rule("next-strip", "placement", EXPLANATION)
