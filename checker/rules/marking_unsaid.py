"""The list does not say which way a part faces, and it matters."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The list does not say which way a part faces, and it matters. An LED fits into its two holes either way round; only
the longer leg, or the flat of the rim, tells which leg is which. Both ways are computed, and they do not come out
alike.

# Why it matters
One way the LED carries about 16 mA and lights. The other way it carries nothing and blocks 4.5 V, which it can take;
on 9 V it would be above its 5 V limit. For a transistor, a chip or an electrolytic capacitor, the wrong way may
destroy it.

# A list that has it
title "Model signal, red aspect"
board half
supply PACK aa-pack-3 on L+ L-
part R1 150 in b5 b10
part LED1 led red in c10 c13
wire red L+5 to a5
wire black a13 to L-13

# The same list mended
title "Model signal, red aspect"
board half
supply PACK aa-pack-3 on L+ L-
part R1 150 in b5 b10
part LED1 led red in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
Look at the part: longer leg, flat, band, stripe or notch. Where the legs have been cut, use diode test with power
off: the LED reads 1.6 to 2 V or glows with the red probe on A, and does nothing the other way. Then add what you
saw to the list, such as "long c10".

# Source
WP7113LSYCK/J3 T-1 3/4 (5mm) Solid State Lamp, DSAN8288, Kingbright, Rev. V.5B, January 2021: reverse voltage 5 V.
The longer leg is the anode: common practice, no source.
"""

RULE = Rule("marking-unsaid", "orientation", EXPLANATION)
