"""Chips without a capacitor at their supply."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Capacitor, Chip


def find(case: Case) -> Iterator[Found]:
    """One note for all chips with no capacitor between their supply and ground net."""
    bare = []
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        if not (entry.wants_decoupling and entry.supply and entry.ground) or not part.placed:
            continue
        nets = {case.net(key, entry.supply), case.net(key, entry.ground)}
        if len(nets) == 2 and not any({case.net(k, p) for p in cap.pins} == nets for k, cap in case.parts(Capacitor)):
            bare.append(key)
    if bare:
        part = case.bench.parts[bare[0]]
        yield Found(rule="no-decoupling", severity="note", span=part.span, case="chips",
                    parts=tuple(case.name(key) for key in bare))

EXPLANATION = """
# What it means
A chip has no small capacitor across its supply. Each time an output changes, the chip takes a gulp of current, some 10
mA to 50 mA for a few billionths of a second. Long wires are too slow for that, so the supply at the chip dips for a
moment; a capacitor next to it gives the gulp.

# Why it matters
It often works without, so it is only a note. When it does not, counters skip, outputs ring and faults come and go when
you touch a wire. 100 nF of any ceramic kind, with short legs, right at the plus and minus legs of each chip, is enough.
It is marked 104.

# A list that has it
title "Model signal: a lamp that goes out when the lever is pulled"
board half
supply PACK 5V on L+ L-
part U1 74HC04 across 10-16 notch row 10
part LEVER slide-switch in c22 c23 c24
part R1 330 in a11 a18
part LAMP led red in c18 c19 long c18
wire L+9 to j10
wire L-16 to a16
wire L-19 to a19
wire L+22 to a22
wire L-24 to a24
wire a23 to a10

# The same list mended
title "Model signal: a lamp that goes out when the lever is pulled"
board half
supply PACK 5V on L+ L-
part U1 74HC04 across 10-16 notch row 10
part LEVER slide-switch in c22 c23 c24
part R1 330 in a11 a18
part C1 100nF in L+10 L-10
part LAMP led red in c18 c19 long c18
wire L+9 to j10
wire L-16 to a16
wire L-19 to a19
wire L+22 to a22
wire L-24 to a24
wire a23 to a10

# How to check with a meter
A meter is too slow to see the dips. Power off, check by eye that each chip has its capacitor, and that both legs are in
the strips of the supply and the ground leg or in the rails beside them. Ohms between the rails must climb and end above
some kΩ: a capacitor is not a short.

# Source
0.01 µF to 0.1 µF close to the supply leg of each chip: FAQ, Is a decoupling capacitor required between VCC and GND?,
General-purpose Logic ICs, Toshiba.
"""

RULE = Rule("no-decoupling", "function", EXPLANATION, find)
