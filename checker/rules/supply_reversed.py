"""A supply with plus and minus exchanged."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
Plus and minus of the supply are exchanged: the red lead is in the minus rail. Every part that has a direction is
then the wrong way round at once. Lead colours help only if the person who made the lead kept to them.

# Why it matters
What follows depends on the parts. Each LED here blocks 9 V and can take 5 V the wrong way. An electrolytic capacitor
heats and may burst, a chip conducts through its inner diodes with hundreds of milliamps to several amps and is
gone in a second.

# A list that has it
title "Stage prop, pair of lamps"
board half
supply PACK 9V on L- L+
part R1 470 in b5 b10
part LED1 led red in c10 c12 long c10
part R2 470 in b15 b20
part LED2 led red in c20 c22 long c20
wire L+5 to a5
wire L+15 to a15
wire a12 to L-12
wire a22 to L-22

# The same list mended
title "Stage prop, pair of lamps"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c12 long c10
part R2 470 in b15 b20
part LED2 led red in c20 c22 long c20
wire L+5 to a5
wire L+15 to a15
wire a12 to L-12
wire a22 to L-22

# How to check with a meter
Measure at the rails before anything else is plugged in: meter at DC volts, red probe in L+, black in L-. It has to
read +9 V; a minus sign means that the leads are exchanged. Do the same with every battery box and every plug-in
supply that you have not used before.

# Source
Reverse voltage of an LED, 5 V: WP7113LSYCK/J3 Solid State Lamp, DSAN8288, Kingbright, Rev. V.5B, January 2021. Red
is plus: common practice, no source.
"""

RULE = Rule("supply-reversed", "orientation", EXPLANATION)
