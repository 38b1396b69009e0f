"""A rail that stops in the middle of the board."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
On many boards each long rail is two pieces that meet in the middle without touching. Often the printed line has a
gap there too, but not always. What is plugged in beyond the gap is not connected to the supply at the other end;
here the + rail stops at row 15 and the wire starts at row 20.

# Why it matters
Beyond the gap the rail has no supply: 0 V instead of 9 V and 0 mA through the lamp. With several parts it is worse
to find. Half of the circuit works, and a chip that gets its signals but no supply feeds itself through its inputs,
badly, with a few milliamps.

# A list that has it
title "Model signal, lamp at the far end"
board half rails split
supply PACK 9V on L+1 L-1
part R1 470 in b20 b24
part LED1 led red in c24 c27 long c24
wire red L+20 to a20
wire black a27 to L-27
wire black L-15 to L-16

# The same list mended
title "Model signal, lamp at the far end"
board half rails split
supply PACK 9V on L+1 L-1
part R1 470 in b20 b24
part LED1 led red in c24 c27 long c24
wire red L+20 to a20
wire black a27 to L-27
wire black L-15 to L-16
wire red L+15 to L+16

# How to check with a meter
With power off, set the meter to resistance and put a short wire in each end of the same rail: under 1 Ω says that
it runs through, open says that it is split. Do it once for all four rails of a new board and write down the
result. With power on, the full 9 V have to stand at both ends.

# Source
Building Gadgets: an Open Electronics Lab, Using a breadboard, Marlboro College, September 2012: larger boards
often have a break in the middle of the rails.
"""

RULE = Rule("rail-gap", "placement", EXPLANATION)
