"""An LED that points the wrong way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import Chip, Controller, Led, LedGroup

# Makers state 5 V and test there with microamps of leakage; breakdown comes at several times as much. So the tolerance of
# a 5 V supply alone does not make a dark LED a dead one: the reverse rating is held against the nominal supply.

BLOCKED_VOLTS = 1.5
"""Reverse voltage from which a turned LED would light: below it no colour does."""

LIT_AMPS = 1e-4
"""Amps from which an LED shows light at all."""


def find(case: Case) -> Iterator[Found]:
    """LEDs that never light and block a voltage that would light them the other way; above the reverse rating damage."""
    for key, part in case.parts(Led):
        entry = part.entry
        assert isinstance(entry, Led)
        if {(key, ("A", "K")), (key, ("K", "A"))} & case.bridges:
            # one end leads nowhere: it follows the other through the junction's leakage, and nothing is blocked
            continue
        reverse = case.volts(key, "K", "A")
        worst = case.worst(reverse, case.mask("nominal"))
        if worst is not None and worst[0] > entry.reverse_voltage * 1.0005:
            yield _found(case, key, part, "damage", *worst, float(entry.reverse_voltage))
            continue
        nominal = case.worst(reverse, case.mask("nominal"))
        lit = case.worst(case.amps(key, "A"), case.mask("nominal"))
        if nominal is not None and lit is not None and nominal[0] > BLOCKED_VOLTS and lit[0] < LIT_AMPS:
            yield _found(case, key, part, "fault", *nominal, None)
    told = set()
    for rating in ratings_of(case):
        if rating.kind == "reverse" and isinstance(case.bench.parts[rating.key].entry, LedGroup):
            if (found := over_limit(case, rating, "led-reversed", "group", case.mask("nominal"))):
                told.add(rating.key)
                yield found
    yield from _dark_groups(case, told)
    yield from _dark_members(case, told)


def _dark_members(case: Case, told: set[str]) -> Iterator[Found]:
    """Single LEDs of a package that never light and are driven backwards, while others of it light: a leg is where another one
    belongs. What the program drives must be on both of its pins, so that a segment that stays dark on purpose is none."""
    mask = case.mask("nominal")
    for key, part in case.parts(LedGroup):
        entry = part.entry
        assert isinstance(entry, LedGroup)
        for member in entry.members if key not in told and mask.any() else ():
            ends = member.anode, member.cathode
            if not all((key, pin) in case.circuit.touched for pin in ends) or not _is_driven(case, key, member.anode):
                continue
            forward = case.volts(key, member.anode, member.cathode)
            backwards = case.worst(-forward, mask)
            if backwards is not None and backwards[0] > BLOCKED_VOLTS and float(forward[mask].max()) < LEAST_FORWARD:
                yield Found(rule="led-reversed", severity="fault", span=part.span, case="group", parts=(part.name,),
                            weight=backwards[0],
                            evidence=(case.evidence("reverse voltage", part.name, "V", *backwards),))
                break


LEAST_FORWARD = 1.0
"""Volts that no colour of LED lights at."""


def _is_driven(case: Case, key: str, pin: str) -> bool:
    """True where a controller's pin, or a chip's output, is on a net of the pin or behind a resistor."""
    net = case.net(key, pin)
    nets = {net, *case.past_resistors([net])}
    return any(isinstance(case.bench.parts[other].entry, Controller | Chip) for net in nets for other, _ in case.pins_on(net))


def _dark_groups(case: Case, told: set[str]) -> Iterator[Found]:
    """Groups of LEDs none of which ever lights, while one blocks what would light it the other way: the other common pin."""
    for key, part in case.parts(LedGroup):
        entry, mask = part.entry, case.mask("nominal")
        assert isinstance(entry, LedGroup)
        lit = max((float(np.abs(case.amps(key, pin))[mask].max(initial=0.0)) for pin in part.pins), default=0.0)
        ends = [(one.cathode, one.anode) for one in entry.members
                if not {(key, (one.anode, one.cathode)), (key, (one.cathode, one.anode))} & case.bridges]
        blocked = [worst for pins in ends if (worst := case.worst(case.volts(key, *pins), mask)) is not None]
        commons = [pin for pin in part.pins if sum(pin in (one.anode, one.cathode) for one in entry.members) > 1]
        if any((key, pin) not in case.circuit.touched or case.circuit.is_alone(case.net(key, pin)) for pin in commons):
            # what lies between two segments whose common pin is open says nothing of the way round
            continue
        if key not in told and lit < LIT_AMPS and blocked and max(blocked, key=lambda w: w[0])[0] > BLOCKED_VOLTS:
            value, point = max(blocked, key=lambda w: w[0])
            yield Found(rule="led-reversed", severity="fault", span=part.span, case="group", parts=(part.name,), weight=value,
                        evidence=(case.evidence("reverse voltage", part.name, "V", value, point),))


def _found(case: Case, key: str, part: BenchPart, severity: str, value: float, point: Point,
           limit: float | None) -> Found:
    return Found(rule="led-reversed", severity=severity, span=part.span, case=severity, parts=(part.name,),
                 points=(case.where(key, "A"), case.where(key, "K")), weight=value,
                 evidence=(case.evidence("reverse voltage", part.name, "V", value, point, limit),))

EXPLANATION = """
# What it means
An LED lights in one direction only. The longer leg, A, belongs to the plus side; the shorter leg, K, and the flat
of the rim to the minus side. Here the longer leg is at the minus side.

# Why it matters
At 4.5 V nothing happens: 0 mA, no light, and no harm. Above its 5 V reverse rating it can be hurt for good; on a 9
V supply a reversed LED sees all 9 V. Right way round, this one carries about 16 mA.

# A list that has it
title "Lighthouse model, lamp"
board half
supply PACK aa-pack-3 on L+ L-
part R1 150 in b5 b10
part LED1 led yellow in c10 c13 long c13
wire red L+5 to a5
wire black a13 to L-13

# The same list mended
title "Lighthouse model, lamp"
board half
supply PACK aa-pack-3 on L+ L-
part R1 150 in b5 b10
part LED1 led yellow in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
Diode test, power off: red probe on the longer leg, black on the shorter one. A red LED glows faintly and reads 1.6
to 2 V; blue and white may need more than the meter gives. Nothing in either direction means a dead LED, or one
that needs more than 3 V.

# Source
WP7113LSYCK/J3 T-1 3/4 (5mm) Solid State Lamp, DSAN8288, Kingbright, Rev. V.5B, January 2021: reverse voltage 5 V.
The longer leg is the anode: common practice, no source.
"""

RULE = Rule("led-reversed", "orientation", EXPLANATION, find)
