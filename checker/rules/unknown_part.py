"""A part that the library does not know."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The list names a part that the library does not know: a misspelt number, one digit too many, or a part that nobody
has entered yet. 1N40001 has a zero too many; the nearest that is known is 1N4001. The part counts as unknown, and
so does everything that depends on it.

# Why it matters
Two numbers that look alike can be very different parts. A 1N4001 carries 1 A and blocks 50 V; a 1N4148, a small
glass diode, carries 0.2 A and dies where the other stays cool. What is not known cannot be compared with its
limits, so the list is not cleared.

# A list that has it
title "Greenhouse, door lamp"
board half
supply PACK 9V on L+ L-
part D1 1N40001 in b5 b10 band b10
part R1 390 in c10 c15
part LED1 led green in d15 d17 long d15
wire red L+5 to a5
wire black a17 to L-17

# The same list mended
title "Greenhouse, door lamp"
board half
supply PACK 9V on L+ L-
part D1 1N4001 in b5 b10 band b10
part R1 390 in c10 c15
part LED1 led green in d15 d17 long d15
wire red L+5 to a5
wire black a17 to L-17

# How to check with a meter
Read the number on the part itself under a good light: it often stands in two lines, with the maker's mark between.
A diode tells you that it is one: in diode test, red probe on the end without the band and black on the band, it
reads 0.5 to 0.7 V, and nothing the other way round.

# Source
1N4001/L - 1N4007/L 1.0A Rectifier, DS28002, Diodes Incorporated, Rev. E-2: 1 A, 50 V for the 1N4001. 1N4148: 0.2 A
(from memory).
"""

RULE = Rule("unknown-part", "reading", EXPLANATION)
