"""The colour bands say another value than the list."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The list states one value, and the colour bands that it gives say another. Yellow violet black gold is 4, 7, no
zero: 47 Ω. Yellow violet brown gold is 4, 7, one zero: 470 Ω. One of the two statements is wrong, and only a look
at the part can say which.

# Why it matters
At 9 V a red LED takes about 2 V and the resistor the other 7 V. With 470 Ω that gives 15 mA, a good light. With 47
Ω it would be 150 mA, where the LED can take 30 mA: a flash, then never again. Black and brown, or red and orange,
are easily confused under a warm lamp.

# A list that has it
title "Greenhouse, frost lamp"
board half
supply PACK 9V on L+ L-
part R1 470 bands yellow violet black gold in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to a5
wire black a12 to L-12

# The same list mended
title "Greenhouse, frost lamp"
board half
supply PACK 9V on L+ L-
part R1 470 bands yellow violet brown gold in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to a5
wire black a12 to L-12

# How to check with a meter
Lift one leg of the resistor out of the board, set the meter to resistance and measure across it, without touching
both probes with your fingers. 470 Ω with a gold band reads 446 to 494 Ω, 47 Ω reads 44.6 to 49.4 Ω. Believe the
meter, not the colours.

# Source
IEC 60062:2016, Marking codes for resistors and capacitors, IEC: colours for figures, multiplier and tolerance.
"""

RULE = Rule("value-contradicts-bands", "function", EXPLANATION)
