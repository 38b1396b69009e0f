"""A transistor turned round, or sold with its legs in another order."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Bipolar

LEAST_AMPS = 1e-3
BACKWARDS_VOLTS = 0.005
"""A saturated transistor drops some 20 mV backwards too; less than this could be either way round."""


def find(case: Case) -> Iterator[Found]:
    """Transistors that carry their load's current from emitter to collector: through their reverse gain they may work at a
    low voltage. What it does to the load is told by the other rules; that it is so is a note."""
    for key, part in case.parts(Bipolar):
        entry = part.entry
        assert isinstance(entry, Bipolar)
        if entry.darlington or not {"C", "E"} <= set(part.pins):
            continue
        sign = 1.0 if entry.polarity == "npn" else -1.0
        amps = sign * case.amps(key, "E")
        backwards = sign * case.volts(key, "E", "C") > BACKWARDS_VOLTS
        worst = case.worst(np.where(backwards, amps, 0.0), case.mask("nominal"))
        if worst is not None and worst[0] > LEAST_AMPS:
            yield Found(rule="transistor-legs-swapped", severity="note", span=part.span, case="reverse-gain",
                        parts=(part.name,), points=(case.where(key, "C"), case.where(key, "E")),
                        facts={"limit": f"{entry.vebo:g}"},
                        evidence=(case.evidence("current", case.pin_name(key, "E"), "A", *worst),))


EXPLANATION = """
# What it means
The transistor is turned round, or its legs are in another order than the list needs. Seen with the flat toward you
and the legs down, a PN2222A has E, B, C from left to right. Turned by half a turn the base stays in the middle,
and emitter and collector are exchanged.

# Why it matters
It may seem to work. A transistor runs backwards too, with a gain of about 10 instead of 100 to 300, and up to 5 V
or so the motor turns, weakly. At 9 V the joint between emitter and base, made for 6 V, breaks down. The motor then
runs without the button, the transistor passes its 150 °C, and it is slowly spoilt.

# A list that has it
title "Tide tank, sluice motor"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 470 in b11 b16
part Q1 PN2222A in c10 c11 c12 flat faces j
part GATE motor 9V 100mA stall 300mA
part D1 1N4001 in d12 d20 band d20
wire red L+18 to g18
wire black a10 to L-10
wire GATE.1 to b12
wire GATE.2 to b20
wire red a20 to L+20

# The same list mended
title "Tide tank, sluice motor"
board half
supply PACK 9V on L+ L-
part S1 button across 16-18
part R1 470 in b11 b16
part Q1 PN2222A in c10 c11 c12 flat faces a
part GATE motor 9V 100mA stall 300mA
part D1 1N4001 in d12 d20 band d20
wire red L+18 to g18
wire black a10 to L-10
wire GATE.1 to b12
wire GATE.2 to b20
wire red a20 to L+20

# How to check with a meter
Out of the board, diode test. Red on the middle leg: a good NPN transistor reads 0.6 to 0.7 V to each of the outer
legs, and nothing between those two. The leg with the slightly higher reading is the emitter. A socket marked hFE
says it at once: 100 and more the right way, about 10 or less with the legs exchanged.

# Source
PN2222A/MMBT2222A/PZT2222A NPN General Purpose Amplifier, Fairchild Semiconductor, Rev. 1.0.0, February 2009: order
E B C, emitter-base voltage 6 V. Gain the wrong way round: from memory.
"""

RULE = Rule("transistor-legs-swapped", "orientation", EXPLANATION, find)
