"""A point that leads nowhere."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
A wire goes to a point that does not exist: a pin that the part does not have, or a part that the list does not
mention. A 5 V controller board has the pins D0 to D13 and A0 to A5; there is no D31. Most often two digits were
exchanged.

# Why it matters
As written, the wire ends in the air: 0 mA flow and the lamp stays dark. The danger is on the real board, where the
wire does go somewhere. If that somewhere is the 5V pin, the lamp is always on; if it is a pin of a sensor, 5 V
arrive where perhaps 3.3 V are allowed.

# A list that has it
title "Model signal, green aspect"
board half
part U1 controller-5v
part R1 220 in b15 b20
part LED1 led green in c20 c22 long c20
wire U1.D31 to a15
wire black a22 to L-22
wire black L-1 to U1.GND
pin U1.D13 output

# The same list mended
title "Model signal, green aspect"
board half
part U1 controller-5v
part R1 220 in b15 b20
part LED1 led green in c20 c22 long c20
wire U1.D13 to a15
wire black a22 to L-22
wire black L-1 to U1.GND
pin U1.D13 output

# How to check with a meter
Follow the wire with a finger from end to end and read the name printed beside the pin. With power off, the meter
set to resistance reads under 1 Ω from the pin to the row in which the wire ends. A different pin reads open, or some
thousands of ohms.

# Source
ATmega48A/PA/88A/PA/168A/PA/328/P datasheet, 8271, Atmel, Rev. H, 08/2014: the ports behind these pins. The names
D0 to D13 and A0 to A5 are common practice, no source.
"""

RULE = Rule("unknown-point", "reading", EXPLANATION)
