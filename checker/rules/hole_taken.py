"""Two leads in one hole."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
Two leads are in one hole. A hole has one spring clip for one wire of 0.4 to 0.7 mm. Every strip has five holes
that are joined inside, so the second lead has room beside the first.

# Why it matters
Two leads in one clip push each other out. One of them makes no contact, or only when somebody touches the board,
and the lamp flickers between 15 mA and nothing. A clip that has been forced open also stays loose for the next
wire.

# A list that has it
title "Bird feeder, door lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to b5
wire black a12 to L-12

# The same list mended
title "Bird feeder, door lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c12 long c10
wire red L+5 to a5
wire black a12 to L-12

# How to check with a meter
With power off, the meter set to resistance should read under 1 Ω from one lead to the other, and stay there while you
move the wire gently. A reading that jumps is a bad contact. With power on, more than 0.1 V between two leads of
one strip says the same.

# Source
Common practice, no source: one lead a hole, wire of about AWG 20 to 26.
"""

RULE = Rule("hole-taken", "placement", EXPLANATION)
