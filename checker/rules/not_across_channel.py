"""A chip or button that does not straddle the channel, so that its pins are joined."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.part_bridged import share_strip
from parts_library.schema import Chip, LedGroup, Switch


def find(case: Case) -> Iterator[Found]:
    """Chips with two pins in one strip; buttons whose two contacts share one."""
    for key, part in case.parts(Chip, Switch, LedGroup):
        if len(part.pins) < 4 or key not in case.circuit.reading.seats:
            continue
        entry = part.entry
        joined = [set(c.pins) for c in entry.contacts if not c.when] if isinstance(entry, Switch) else []
        for number, one in enumerate(part.pins):
            for other in part.pins[number + 1:]:
                if {one, other} not in joined and share_strip(case, key, one, other):
                    yield Found(rule="not-across-channel", severity="fault", span=part.span, case="pins",
                                parts=(part.name,), points=(case.where(key, one), case.where(key, other)),
                                facts={"pins": f"{one} and {other}"})
                    break
            else:
                continue
            break

EXPLANATION = """
# What it means
A chip or a button stands on one side of the channel in the middle of the board, instead of across it. The five
holes of a row on one side are one strip, so every two pins that face each other are joined. Here pin A of the
optocoupler is joined to C, and K to E.

# Why it matters
The two halves of an optocoupler are meant to share nothing; now current goes round it, 9 V minus what its lamp
takes, and the output does nothing. A chip whose supply pin faces an output can draw amps and burn. A button stands
closed for ever, pressed or not.

# A list that has it
title "Stage prop, isolated lamp"
board half
supply PACK 9V on L+ L-
part U2 PC817 across 10-11 b-e notch row 10
part R1 680 in c5 c10
part R2 470 in g11 g16
part LED1 led red in h16 h18 long h16
wire red L+5 to a5
wire black a11 to L-11
wire red L+9 to j10
wire black j18 to L-18

# The same list mended
title "Stage prop, isolated lamp"
board half
supply PACK 9V on L+ L-
part U2 PC817 across 10-11 notch row 10
part R1 680 in c5 c10
part R2 470 in g11 g16
part LED1 led red in h16 h18 long h16
wire red L+5 to a5
wire black a11 to L-11
wire red L+9 to j10
wire black j18 to L-18

# How to check with a meter
With power off, set the meter to resistance and touch two pins that face each other. Under 1 Ω says that a strip
joins them; across the channel they read open, or thousands of ohms. Pull a chip out evenly with a flat tool before
moving it, its pins bend easily.

# Source
Building Gadgets: an Open Electronics Lab, Using a breadboard, Marlboro College, September 2012: five joined holes
a row, the slot in the middle is for chips. Rows of pins 7.62 mm apart: JEDEC MS-001 (from memory).
"""

RULE = Rule("not-across-channel", "placement", EXPLANATION, find)
