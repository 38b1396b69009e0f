"""A value that makes no sense where it stands."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A value makes no sense where it stands. "104" on a small capacitor is a code: 10 followed by four zeros, counted in
picofarads, so 100 000 pF or 100 nF. Written as a plain number it could be 104 of anything. Other cases are 470 V
on a resistor, a supply of 0 V, a tolerance of 80 %.

# Why it matters
A value that is a thousand times off changes everything that is computed from it. 100 nF smooths the lamp's supply
for some millionths of a second; 100 µF for some thousandths, and it must be put in the right way round. The
checker asks rather than guess.

# A list that has it
title "Lighthouse model, smoothed lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led yellow in c10 c12 long c10
part C1 104 in d10 d12
wire red L+5 to a5
wire black a12 to L-12

# The same list mended
title "Lighthouse model, smoothed lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led yellow in c10 c12 long c10
part C1 code 104 in d10 d12
wire red L+5 to a5
wire black a12 to L-12

# How to check with a meter
Many meters have a range for capacitors: take the part out of the board, short its legs for a moment, and measure.
100 nF may read 80 to 120 nF. A resistor is measured with one leg lifted; what the circuit adds in parallel can
only make it read lower.

# Source
IEC 60062:2016, Marking codes for resistors and capacitors, IEC: codes of two significant figures and a number of
zeros.
"""

RULE = Rule("bad-value", "reading", EXPLANATION)
