"""A line that could not be read."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A line of the list is not written in a way that can be understood. Here R1 stands in rows 5 and 10, but a row has
ten holes in two strips: without a column letter it could be either side of the channel. Every other line is read
and checked all the same, and the report says what could not be looked at.

# Why it matters
A line that is not read is a part that is not checked. A 470 Ω resistor that is missing from the sum is the
difference between 15 mA through the lamp and far too much. For that reason a list with an unread line is never
called clear, whatever the rest looks like.

# A list that has it
title "Tide tank, level lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in 5 10
part LED1 led green in c10 c12 long c10
wire red L+5 to a5
wire black a12 to L-12

# The same list mended
title "Tide tank, level lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led green in c10 c12 long c10
wire red L+5 to a5
wire black a12 to L-12

# How to check with a meter
Nothing needs measuring: the board may well be right and only the list wrong. Look at the part, find the column
letter above the hole and the row number beside it, and write both. If the hole is hard to see, set the meter to
resistance with power off: two points of one strip read under 1 Ω.

# Source
Common practice, no source: columns a to j, rows numbered from the top.
"""

RULE = Rule("syntax", "reading", EXPLANATION)
