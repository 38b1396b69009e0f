"""A regulator turned round, or with two legs exchanged."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The regulator is turned round, so that its input and its output are exchanged. Seen with the printed side toward
you and the legs down, a 7805 has IN, GND, OUT from left to right. Here 9 V come in at OUT, and the lamp hangs on
IN.

# Why it matters
A regulator only works one way. Fed at its output it passes the 9 V on through its inner paths, less about 1 V, and
regulates nothing: 8 V where 5 V should be is the end of a controller or a 5 V sensor, and the LED gets 27 to
32 mA, where 30 are allowed. Those inner paths are not made for the current and can be spoilt for good.

# A list that has it
title "Greenhouse, 5 V for the lamp"
board half
supply PACK 9V on L+ L-
part V1 7805 in c5 c6 c7 front faces j
part C1 330nF in d5 d6
part C2 100nF in e6 e7
part R1 220 in a7 a12
part LED1 led red in c12 c14 long c12
wire red L+5 to a5
wire black a6 to L-6
wire black a14 to L-14

# The same list mended
title "Greenhouse, 5 V for the lamp"
board half
supply PACK 9V on L+ L-
part V1 7805 in c5 c6 c7 front faces a
part C1 330nF in d5 d6
part C2 100nF in e6 e7
part R1 220 in a7 a12
part LED1 led red in c12 c14 long c12
wire red L+5 to a5
wire black a6 to L-6
wire black a14 to L-14

# How to check with a meter
Before anything hangs on the output: power on, meter at DC volts, black probe on the minus rail. IN has to read the
supply, 7 V or more; OUT has to read 4.8 to 5.2 V. If OUT shows the supply's voltage, unplug it and turn it round.

# Source
LM78XX / LM78XXA 3-Terminal 1 A Positive Voltage Regulator, Fairchild Semiconductor, Rev. 1.3.1, 2006: order IN GND
OUT. Harm from an output above the input: LM340 and LM7805 datasheet, SNOSBT0, Texas Instruments (from memory).
"""

RULE = Rule("regulator-legs-swapped", "orientation", EXPLANATION)
