"""A name that is given twice."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
Two parts have the same name. The first one keeps it, the second cannot be placed in the circuit, because a wire to
"R1" could mean either. It happens when a line is copied for a second lamp and the name is not changed.

# Why it matters
The second resistor drops out of the sum, and with it the 15 mA that were meant to flow through it. On the real
board it is probably there and fine; but nobody has checked it, and a wrong value there would pass unseen. One name
for each part is also what lets another person find the part that is meant.

# A list that has it
title "Stage prop, pair of eyes"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c12 long c10
part R1 470 in b15 b20
part LED2 led red in c20 c22 long c20
wire L+5 to a5
wire L+15 to a15
wire a12 to L-12
wire a22 to L-22

# The same list mended
title "Stage prop, pair of eyes"
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
Nothing needs measuring. Count the parts on the board and the lines in the list: the numbers have to agree. With
power off and one leg lifted, each resistor reads its own value, here 470 Ω give or take 5 %.

# Source
IEC 81346-2 (letters for classes of parts, each item with a designation of its own; from memory).
"""

RULE = Rule("name-reused", "reading", EXPLANATION)
