"""A hole that the board does not have."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
# What it means
The list puts a lead in a hole that this board does not have. A half board has rows 1 to 30, a mini board 17, a
full one 63; the columns are a to j, and a mini board has no rails. So either the row was read wrongly or the list
names another size of board.

# Why it matters
Nothing can be checked for a hole that is not there: as written the lamp gets 0 mA. On the real board the leg is in
some other row, and if that is a row of something else, it joins two points that should stay apart. That can be
harmless, or a short of several amps.

# A list that has it
title "Tide tank, full lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b20 b25
part LED1 led blue in c25 c32 long c25
wire red L+20 to a20
wire black a32 to L-28

# The same list mended
title "Tide tank, full lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b20 b25
part LED1 led blue in c25 c28 long c25
wire red L+20 to a20
wire black a28 to L-28

# How to check with a meter
Count from a printed number: most boards print every fifth row. With power off, the meter set to resistance and a short
wire in the hole next to the leg read under 1 Ω to whatever the leg is joined to. Do that once for each end.

# Source
Common practice, no source: boards of 17, 30 and 63 rows.
"""

RULE = Rule("outside-board", "placement", EXPLANATION)
