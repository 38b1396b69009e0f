"""Legs that are farther apart than they can be bent."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The two holes of a part are farther apart than its legs reach. From c12 to c29 is 17 rows of 2.54 mm, 43 mm in all;
the legs of an LED reach about 30 mm when they are spread flat. The part cannot stand as the list says, so one of
the holes is written wrongly, or a wire has been left out of the list.

# Why it matters
No amps are at stake until the true hole is known; then anything may be. A leg that is stretched to the limit
stands at an angle, touches its neighbours, and springs out of the hole: the lamp's 15 mA come and go. Bare legs
that lie across other rows can also short them.

# A list that has it
title "Model signal, lamp at the far end"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b12
part LED1 led red in c12 c29 long c12
wire red L+5 to a5
wire black a29 to L-29

# The same list mended
title "Model signal, lamp at the far end"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b12
part LED1 led red in c12 c14 long c12
wire red L+5 to a5
wire black a14 to L-14

# How to check with a meter
Look first: which row is each leg really in? With power off, the meter set to resistance reads under 1 Ω from the leg
to a short wire in the row that you believe it is in. No reading means another row.

# Source
Common practice, no source: holes 2.54 mm apart. Length of legs: about 25 to 30 mm on a new part (from memory).
"""

RULE = Rule("leads-do-not-reach", "placement", EXPLANATION)
