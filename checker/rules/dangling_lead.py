"""A leg or a wire that ends where nothing else is."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.seating.boards import RailPiece, Strip
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole, Part
from parts_library.schema import Chip, LedGroup, Potentiometer, Relay, Stepper, Switch


def find(case: Case) -> Iterator[Found]:
    """Legs alone in their strip, and wire ends in an empty strip; pins that may stay open are spared."""
    for net, pins in case.circuit.pins_on.items():
        if net in case.circuit.uncertain:
            continue
        if len(pins) == 1 and _is_loose(case, net, pins[0]):
            key, pin = pins[0]
            part = case.bench.parts[key]
            yield Found(rule="dangling-lead", severity="fault", span=part.span, case="leg", parts=(part.name,),
                        points=(case.where(key, pin),), facts={"pin": pin}, needs_whole_list=True)
    yield from _loose_wires(case)
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        if not case.is_used(key):
            yield Found(rule="dangling-lead", severity="fault", span=part.span, case="unwired", parts=(part.name,),
                        needs_whole_list=True)


def _is_loose(case: Case, net: int, pin: tuple[str, str]) -> bool:
    key, name = pin
    if pin not in case.circuit.touched or any(isinstance(c, RailPiece) for c in case.circuit.members[net]):
        return False
    return not may_stay_open(case, key, name)


def may_stay_open(case: Case, key: str, pin: str) -> bool:
    """True for a pin that a correct circuit may leave unconnected."""
    part = case.bench.parts[key]
    entry = part.entry
    if part.is_controller or part.is_supply or isinstance(entry, Chip | LedGroup | Stepper):
        return True
    if isinstance(entry, Relay):
        return pin not in ("A1", "A2")
    if isinstance(entry, Potentiometer):
        return pin != "W"
    if isinstance(entry, Switch):
        used = {p for p in part.pins if len(case.pins_on(case.net(key, p))) > 1 or _on_rail(case, case.net(key, p))}
        partners = {p for contact in entry.contacts if not contact.when and pin in contact.pins for p in contact.pins}
        return bool(partners & used) or len(used) >= 2
    return False


def _on_rail(case: Case, net: int) -> bool:
    return any(isinstance(c, RailPiece) for c in case.circuit.members[net])


def _loose_wires(case: Case) -> Iterator[Found]:
    """Wires whose end is in a strip with no leg and no other wire."""
    legs = _leg_strips(case)
    for jumper in case.circuit.jumpers:
        for conductor, end in zip(jumper.conductors, jumper.ends):
            if isinstance(conductor, Strip) and conductor not in legs \
                    and case.circuit.conductors.degree(conductor) == 1 \
                    and case.circuit.net_of[conductor] not in case.circuit.uncertain:
                yield Found(rule="dangling-lead", severity="fault", span=jumper.span, case="wire", points=(end,),
                            parts=(), facts={"end": end}, needs_whole_list=True)


def _leg_strips(case: Case) -> set[Strip]:
    """The strips that a leg stands in."""
    strips = set()
    for seat in case.circuit.reading.seats.values():
        for spot in seat.legs.values():
            plan = plan_for(case.circuit.reading.plans, spot)
            if isinstance(spot, Hole) and plan is not None:
                strips.add(plan.strip(spot))
    for part in case.bench.parts.values():
        if not isinstance(part.statement, Part):
            for point in part.statement.terminals:
                plan = plan_for(case.circuit.reading.plans, point) if isinstance(point, Hole) else None
                if isinstance(point, Hole) and plan is not None:
                    strips.add(plan.strip(point))
    return strips

EXPLANATION = """
# What it means
A leg or a wire ends in a strip where nothing else is. Current needs a way round, and here the way stops in the
air. The wire went to row 23, the lamp's short leg stands in row 13.

# Why it matters
Nothing burns; nothing works either: 0 mA flow. The trouble is in what people do next, which is to change five
other things. A loose input of a chip is different: it picks up hum from the air and switches at random, some
thousand times a second.

# A list that has it
title "Greenhouse, heater lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c13 long c10
wire red L+5 to a5
wire black a23 to L-13

# The same list mended
title "Greenhouse, heater lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in b5 b10
part LED1 led red in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
With power off, set the meter to resistance and touch the leg and the end of the wire: open, where under 1 Ω
belong. With power on, measure from the minus rail along the way of the current. Where 9 V stand at one point and
nothing at the next that should be joined to it, the gap is between them.

# Source
Common practice, no source: a current flows only in a closed loop (Kirchhoff's current law).
"""

RULE = Rule("dangling-lead", "placement", EXPLANATION, find)
