"""A chip whose supply reaches it backwards."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import Chip


def find(case: Case) -> Iterator[Found]:
    """Chips and modules whose ground stands above their supply, regulators whose input stands below their ground."""
    for rating in ratings_of(case):
        if rating.kind == "chip-reversed" and (found := over_limit(case, rating, "chip-reversed", "part")):
            amps = case.worst(np.abs(case.amps(rating.key, rating.pins[0])), case.mask("steady"))
            current = () if amps is None else (case.evidence("current", rating.of, "A", *amps),)
            yield Found(rule=found.rule, severity=found.severity, span=found.span, case=found.case, parts=found.parts,
                        points=found.points, facts=found.facts, evidence=(*found.evidence, *current),
                        weight=found.weight)
    yield from _references(case)
    yield from _shunts(case)


FORWARD_AMPS = 5e-5
"""Amps that a shunt reference has to pass the wrong way in every state: less is leakage."""


def _shunts(case: Case) -> Iterator[Found]:
    """References and sensors that hold a voltage as a zener does, and conduct the other way in every state."""
    mask = case.mask("nominal")
    for key, part in case.parts(Chip) if mask.any() else ():
        for element in getattr(part.entry, "circuit", ()):
            if element.device != "diode" or element.breakdown is None or not set(element.nodes) <= set(part.pins):
                continue
            anode, cathode = element.nodes
            forward = case.amps(key, anode)
            least = case.worst(forward, mask, least=True)
            if least is not None and least[0] > FORWARD_AMPS:
                held = case.volts(key, anode, cathode)
                yield Found(rule="chip-reversed", severity="fault", span=part.span, case="shunt", parts=(part.name,),
                            points=(case.where(key, cathode), case.where(key, anode)), needs_whole_list=True,
                            facts={"held": f"{float(element.breakdown):.3g}"},
                            evidence=(case.evidence("voltage", f"{part.name} {anode} to {cathode}", "V",
                                                    float(held[case.operating.points.index(least[1])]), least[1]),))


REGULATES = 1e-3
"""Amps that a TL431 wants through its cathode to regulate: 1 mA at most (TL431 data sheet, Texas Instruments, SLVS543, minimum
cathode current, from memory)."""

ABOVE = 0.2


def _references(case: Case) -> Iterator[Found]:
    """Adjustable shunt references that regulate nothing in any state: REF stands above the cathode, and next to no current goes
    into that."""
    for key, part in case.parts(Chip):
        if getattr(part.entry, "type", "") != "reference" or set(part.pins) != {"REF", "A", "K"}:
            continue
        nets = [case.net(key, pin) for pin in part.pins]
        mask = case.mask("nominal")
        unsure = any(case.circuit.is_alone(net) or net in case.circuit.uncertain for net in nets)
        if unsure or len(set(nets)) < 3 or not mask.any():
            continue
        least = case.worst(case.volts(key, "REF", "K"), mask, least=True)
        most = float(case.amps(key, "K")[mask].max())
        if least is not None and least[0] > ABOVE and most < REGULATES:
            yield Found(rule="chip-reversed", severity="fault", span=part.span, case="reference", parts=(part.name,),
                        points=tuple(case.where(key, pin) for pin in ("REF", "K")), needs_whole_list=True,
                        evidence=(case.evidence("voltage", f"{part.name} REF-K", "V", *least),))

EXPLANATION = """
# What it means
The chip sits the wrong way round, so that plus reaches its ground pin and minus its supply pin. The notch, or a
dot beside pin 1, shows the end where counting starts. On an eight-pin LM358 ground is pin 4 and supply pin 8,
exactly opposite: half a turn exchanges them.

# Why it matters
Every chip has diodes inside from ground to supply, which normally block. Turned round they conduct, and nothing
but the supply limits the current: close to 8 A here, in a case that can shed about half a watt. The case gets too
hot to touch within seconds. Now and then a chip survives; do not count on it.

# A list that has it
title "Lighthouse model, dusk lamp"
board half
supply PACK 9V on L+ L-
part U2 LM358 across 10-13 notch row 13
part LDR1 ldr in b12 L+12
part R1 10k in c12 L-12
part R2 470 in c10 c16
part LED1 led red in d16 d18 long d16
part C1 100nF in g10 d13
wire d10 to d11
wire red L+9 to h10
wire black a13 to L-13
wire black a18 to L-18

# The same list mended
title "Lighthouse model, dusk lamp"
board half
supply PACK 9V on L+ L-
part U2 LM358 across 10-13 notch row 10
part LDR1 ldr in b12 L+12
part R1 10k in c12 L-12
part R2 470 in c10 c16
part LED1 led red in d16 d18 long d16
part C1 100nF in g10 d13
wire d10 to d11
wire red L+9 to h10
wire black a13 to L-13
wire black a18 to L-18

# How to check with a meter
With the chip out and power on, meter at DC volts, black probe on the minus rail: the hole for the supply pin has
to read 9 V, the hole for the ground pin 0 V. Count the pins from the notch: down the left side, up the right. If a
chip has been in backwards, put a bench supply's limit at 50 mA for the next try.

# Source
LM358, LM258, LM2904 Single Supply Dual Operational Amplifiers, LM358/D, ON Semiconductor, Rev. 11, August 2002:
pin 4 is VEE/ground, pin 8 is VCC.
"""

RULE = Rule("chip-reversed", "orientation", EXPLANATION, find)
