"""A diode with its band at the wrong end."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A diode lets current pass from the plain end to the band, and not back. Across a motor, its band belongs to the
plus side: there it waits, and only takes over the moment the switch opens. Here the band is on the minus side, so
it conducts all the time.

# Why it matters
In that direction a diode drops about 1 V, however much flows. It is a short across the supply as soon as the
switch closes: about 8 A from four AA cells, where a 1N4001 is made for 1 A. The diode burns, and the switch or the
transistor before it often goes with it. Afterwards the motor has no clamp either.

# A list that has it
title "Greenhouse, water pump"
board half
supply PACK aa-pack-4 on L+ L-
part S1 switch in a5 a7
part PUMP motor 6V 150mA stall 600mA
part D1 1N4001 in b7 b12 band b12
wire red L+5 to b5
wire PUMP.1 to c7
wire PUMP.2 to c12
wire black a12 to L-12

# The same list mended
title "Greenhouse, water pump"
board half
supply PACK aa-pack-4 on L+ L-
part S1 switch in a5 a7
part PUMP motor 6V 150mA stall 600mA
part D1 1N4001 in b7 b12 band b7
wire red L+5 to b5
wire PUMP.1 to c7
wire PUMP.2 to c12
wire black a12 to L-12

# How to check with a meter
Power off, take one of the motor's wires off, set the meter to diode test. Red probe on the plus rail's side of the
diode, black on the other: no reading is right. 0.5 to 0.7 V there means that it is the wrong way round. 0.00 V
both ways means that it has died as a short.

# Source
1N4001/L - 1N4007/L 1.0A Rectifier, DS28002, Diodes Incorporated, Rev. E-2: 1 A average, the band is the cathode.
"""

RULE = Rule("diode-reversed", "orientation", EXPLANATION)
