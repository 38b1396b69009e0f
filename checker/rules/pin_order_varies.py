"""The type is sold in more than one pin order, and it matters."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
This type is sold with its legs in more than one order. A 2N2222A in plastic is E, B, C from most makers and C, B,
E from others, under the number P2N2222A; the P is easily lost on the way into a drawer. Every order is computed,
and here they do not all come out safe.

# Why it matters
In the one order the motor gets its 100 mA. In the other, emitter and collector are exchanged: at 9 V the joint
between emitter and base, made for 6 V, breaks down, and the transistor heats without being driven. At 5 V it would
only be weak, which is harder to notice.

# A list that has it
title "Tide tank, gate motor"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 470 in b11 b16
part Q1 2N2222A in c10 c11 c12 flat faces a
part GATE motor 9V 100mA stall 300mA
part D1 1N4001 in d12 d20 band d20
wire red L+18 to g18
wire black a10 to L-10
wire GATE.1 to b12
wire GATE.2 to b20
wire red a20 to L+20

# The same list mended
title "Tide tank, gate motor"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 470 in b11 b16
part Q1 2N2222A in c10 c11 c12 flat faces a as E B C measured
part GATE motor 9V 100mA stall 300mA
part D1 1N4001 in d12 d20 band d20
wire red L+18 to g18
wire black a10 to L-10
wire GATE.1 to b12
wire GATE.2 to b20
wire red a20 to L+20

# How to check with a meter
Out of the board, diode test, red probe on the middle leg, black on each outer leg: the slightly higher reading, by
some hundredths of a volt at most, is the emitter. A socket marked hFE is surer: 100 to 300 in the right order,
about 10 or less in the wrong one. Then write what you found, such as "as E B C measured".

# Source
P2N2222A Amplifier Transistors, NPN Silicon, P2N2222A/D, ON Semiconductor, Rev. 7, January 2013: order C B E.
PN2222A/MMBT2222A/PZT2222A NPN General Purpose Amplifier, Fairchild Semiconductor, Rev. 1.0.0, February 2009: order
E B C.
"""

RULE = Rule("pin-order-varies", "orientation", EXPLANATION)
