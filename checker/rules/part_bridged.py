"""A part whose legs are joined by a strip or a wire, so that no current passes through it."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Diode,
    Fuse,
    Inductor,
    Led,
    Load,
    Mosfet,
    Regulator,
    Resistor,
    SensorResistor,
    Zener,
)

BRIDGEABLE = (Resistor, SensorResistor, Capacitor, Inductor, Diode, Zener, Led, Load, Fuse)


def find(case: Case) -> Iterator[Found]:
    """Two-legged parts with both legs in one net, and legs of a transistor or regulator that share a strip."""
    for key, part in case.parts():
        nets = [case.net(key, pin) for pin in part.pins if (key, pin) in case.circuit.touched]
        if isinstance(part.entry, BRIDGEABLE) and len(nets) == 2 and nets[0] == nets[1]:
            if not isinstance(part.entry, Fuse):
                yield _found(case, key, part, part.pins, "strip" if share_strip(case, key, *part.pins) else "wire")
        elif isinstance(part.entry, Bipolar | Mosfet | Regulator):
            for number, one in enumerate(part.pins):
                for other in part.pins[number + 1:]:
                    if share_strip(case, key, one, other):
                        yield _found(case, key, part, (one, other), "legs")


def _found(case: Case, key: str, part: BenchPart, pins: tuple[str, ...], words: str) -> Found:
    return Found(rule="part-bridged", severity="fault", span=part.span, case=words, parts=(part.name,),
                 points=tuple(case.where(key, pin) for pin in pins), facts={"pins": " and ".join(pins)})


def share_strip(case: Case, key: str, one: str, other: str) -> bool:
    """True where two legs of a placed part stand in one strip."""
    seat = case.circuit.reading.seats.get(key)
    if seat is None:
        return False
    spots = [seat.legs.get(one), seat.legs.get(other)]
    strips = []
    for spot in spots:
        plan = plan_for(case.circuit.reading.plans, spot) if isinstance(spot, Hole) else None
        if isinstance(spot, Hole) and plan is not None:
            strips.append(plan.strip(spot))
    return len(strips) == 2 and strips[0] == strips[1]


EXPLANATION = """
"""

RULE = Rule("part-bridged", "placement", EXPLANATION, find)
