"""A source whose voltage falls below what hangs on it needs."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case, Mask
from parts_library.schema import Chip, Controller, Regulator, SupplyKind

SAGGED = 0.8
"""Share of its nominal voltage below which a loaded supply counts as sagging: from memory, 9 V blocks and AA cells count as
flat at about two thirds to four fifths of their nominal voltage."""

LEAST_OUT = 0.95
"""Share of its set voltage below which a regulator no longer regulates: the 7805 is held to 4.75 to 5.25 V (uA7800 datasheet,
Texas Instruments, SLVS056, electrical characteristics, over line and load)."""


def find(case: Case) -> Iterator[Found]:
    """A supply below four fifths of its nominal voltage under its running load; a chip fed below its minimum."""
    for key, part in case.parts(SupplyKind):
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        nominal = float(entry.voltage or 0.0)
        for mask, severity in (("nominal", "fault"), ("steady", "note")):
            worst = case.worst(case.volts(key, "+", "-"), case.mask(mask) & _not_spent(case), least=True)
            if worst is not None and worst[0] < SAGGED * nominal:
                yield Found(rule="supply-sags", severity=severity, span=part.span, case="supply", parts=(part.name,),
                            evidence=(case.evidence("voltage", part.name, "V", *worst, SAGGED * nominal, True),),
                            weight=nominal / max(worst[0], 0.01))
                break
    for key, part in case.parts(Chip):
        yield from _starved(case, key, part)
        yield from _second_supply(case, key, part)
    for key, part in case.parts(Controller):
        yield from _vin(case, key, part)
    for key, part in case.parts(Regulator):
        yield from _too_little_in(case, key, part)


def _too_little_in(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    """A fixed regulator that something hangs on and whose input is too low for its output."""
    entry = part.entry
    assert isinstance(entry, Regulator)
    nets = {pin: case.net(key, pin) for pin in ("IN", "OUT", "GND") if pin in part.pins}
    if entry.adjustable or entry.negative or len(nets) < 3 or not case.is_fed(key) or any(
            net in case.circuit.uncertain or case.circuit.is_alone(net) for net in nets.values()):
        return
    given, kept = case.volts(key, "IN", "GND"), case.volts(key, "OUT", "GND")
    mask = case.mask("nominal") & (kept < LEAST_OUT * float(entry.output)) & (given > 0.5)
    worst = case.worst(given, mask, least=True)
    needs = float(entry.output) + float(entry.dropout)
    if worst is not None and worst[0] < needs:
        yield Found(rule="supply-sags", severity="fault", span=part.span, case="regulator", parts=(part.name,),
                    points=(case.pin_name(key, "IN"),), facts={"output": f"{float(entry.output):g}"},
                    evidence=(case.evidence("voltage", case.pin_name(key, "IN"), "V", *worst, needs, True),
                              case.evidence("voltage", case.pin_name(key, "OUT"), "V",
                                            float(kept[case.operating.points.index(worst[1])]), worst[1])),
                    needs_whole_list=True)


def _vin(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    """A controller's VIN below the least that its regulator needs, or above what it takes for long."""
    entry = part.entry
    assert isinstance(entry, Controller)
    if (key, "VIN") not in case.circuit.touched or len(case.pins_on(case.net(key, "VIN"))) < 2:
        return
    volts = case.volts(key, "VIN", "GND")
    worst = case.worst(volts, case.mask("nominal"))
    if worst is None or worst[0] < 0.5:
        return
    low = case.worst(volts, case.mask("nominal"), least=True)
    if low is not None and 0.5 < low[0] < float(entry.vin_min) * 0.99:
        yield Found(rule="supply-sags", severity="fault", span=part.span, case="chip", parts=(part.name,),
                    points=(f"{part.name}.VIN",), needs_whole_list=True,
                    evidence=(case.evidence("voltage", f"{part.name}.VIN", "V", *low, float(entry.vin_min), True),))
    elif worst[0] > float(entry.vin_max) * 1.01:
        yield Found(rule="too-much-voltage", severity="note", span=part.span, case="part", parts=(part.name,),
                    points=(f"{part.name}.VIN",), facts={"of": f"{part.name}.VIN"},
                    evidence=(case.evidence("voltage", f"{part.name}.VIN", "V", *worst, float(entry.vin_max)),))


def _not_spent(case: Case) -> Mask:
    return np.array([point.corner.supply >= 0 and point.corner.skew == 0 for point in case.operating.points])


def _starved(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    entry = part.entry
    assert isinstance(entry, Chip)
    if not (entry.supply and entry.ground and entry.supply_min):
        return
    nets = [case.net(key, pin) for pin in (entry.supply, entry.ground)]
    if not case.is_used(key) or any(case.circuit.is_alone(net) or net in case.circuit.uncertain for net in nets):
        return
    worst = case.worst(case.volts(key, entry.supply, entry.ground), case.mask("nominal"))
    if worst is not None and -0.3 < worst[0] < float(entry.supply_min) * 0.99:
        yield Found(rule="supply-sags", severity="fault", span=part.span, case="chip", parts=(part.name,),
                    points=(case.pin_name(key, entry.supply),),
                    evidence=(case.evidence("voltage", case.pin_name(key, entry.supply), "V", *worst,
                                            float(entry.supply_min), True),), needs_whole_list=True)


APART = 0.3
"""Volts by which AVCC may differ from VCC (ATmega48A/PA/88A/PA/168A/PA/328/P datasheet, 8271, Atmel, Rev. H, ADC)."""


def _second_supply(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    """A second supply pin of a microcontroller that stands well below the first one: both are one inside."""
    entry = part.entry
    assert isinstance(entry, Chip)
    if entry.type != "microcontroller" or not (entry.supply and entry.ground):
        return
    first = case.volts(key, entry.supply, entry.ground)
    for pin in entry.more_supplies:
        net = case.net(key, pin)
        if (key, pin) not in case.circuit.touched or case.circuit.is_alone(net) or net in case.circuit.uncertain:
            continue
        volts = case.volts(key, pin, entry.ground)
        worst = case.worst(volts, case.mask("nominal") & (volts < first - APART - LEAST_MISS), least=True)
        if worst is not None:
            name = case.pin_name(key, pin)
            least = float(first[case.operating.points.index(worst[1])]) - APART
            yield Found(rule="supply-sags", severity="fault", span=part.span, case="chip", parts=(part.name,), points=(name,),
                        evidence=(case.evidence("voltage", name, "V", *worst, least, True),), needs_whole_list=True)


LEAST_MISS = 0.05
"""Volts below which a bound counts as met: a drop in a wire or in a filter's resistor."""


EXPLANATION = """
# What it means
Every supply has some resistance inside. The current of the load drops part of the voltage there: 400 mA through 5 Ω
lose 2 V. This rule speaks when less than four fifths of the stated voltage is left, or less than a chip needs to work.

# Why it matters
A motor on a sagging battery crawls, a relay chatters, and a controller on the same battery starts over. Inside
resistance is about 0.15 Ω for a fresh AA cell and 1.7 Ω for a fresh 9 V block, and several times that for old ones. At
1 A a 9 V block has lost 1.7 V already. Fresh cells, bigger cells or a wall adapter help.

# A list that has it
title "Lighthouse model: the turning motor"
board half
supply PACK 6V 5ohm on L+ L-                # four old AA cells
part TURN motor 6V 400mA stall 800mA
part S1 switch
wire L+10 to S1.1
wire S1.2 to TURN.1
wire TURN.2 to L-10

# The same list mended
title "Lighthouse model: the turning motor"
board half
supply PACK 6V 0.6ohm on L+ L-              # four fresh AA cells
part TURN motor 6V 400mA stall 800mA
part S1 switch
wire L+10 to S1.1
wire S1.2 to TURN.1
wire TURN.2 to L-10

# How to check with a meter
Measure the volts of the pack with nothing on it, then with the motor running. 6.0 V falling to 4.5 V at 0.3 A means 1.5
V over 0.3 A, so 5 Ω inside. A good pack of four AA cells keeps above 5.5 V here.

# Source
Inside resistance of a 9 V block, about 1.7 Ω: MN1604 alkaline 9 V battery datasheet, Duracell. Of an AA cell, 0.15 to
0.3 Ω: Battery Internal Resistance, technical bulletin, Energizer, 2005 (from memory).
"""

RULE = Rule("supply-sags", "current", EXPLANATION, find)
