"""More volts across a part than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Capacitor, Controller, Led, LedGroup


def find(case: Case) -> Iterator[Found]:
    """Voltages above an absolute maximum, in the worst corner of every steady state; pins driven past their supply."""
    told = set()
    for rating in ratings_of(case):
        if rating.kind not in ("voltage", "reverse", "clamp") or _named_by_another_rule(case, rating):
            continue
        if (found := over_limit(case, rating, "too-much-voltage", "pin" if rating.kind == "clamp" else "part")):
            told.add(rating.of)
            yield found
    yield from _resting_too_high(case, told)
    yield from _out_of_range(case, told)


def _out_of_range(case: Case, told: set[str]) -> Iterator[Found]:
    """Supplies above the range in which a part is specified and below what destroys it: a note."""
    for rating in ratings_of(case):
        if rating.kind != "range" or rating.of in told:
            continue
        found = over_limit(case, rating, "too-much-voltage", "range")
        if found is not None and found.weight > OUT_OF_RANGE:
            yield found


def _resting_too_high(case: Case, told: set[str]) -> Iterator[Found]:
    """Pins of a board below 5 V that are let go and rest above their absolute maximum: a resistor on the way keeps the current
    small, and the limit is passed all the same."""
    for key, part in case.parts(Controller):
        entry = part.entry
        assert isinstance(entry, Controller)
        if float(entry.logic) > LOW_LOGIC:
            continue
        most = float(entry.logic) + float(entry.above_supply)
        for pin in (*entry.digital, *entry.analog):
            name = case.pin_name(key, pin)
            if (key, pin) not in case.circuit.touched or name in told:
                continue
            driven = np.array([point.state.get(name) in ("high", "low") for point in case.operating.points])
            worst = case.worst(case.volts(key, pin, "GND"), case.mask("nominal") & ~driven)
            if worst is not None and worst[0] > most * PAST:
                yield Found(rule="too-much-voltage", severity="damage", span=part.span, case="part", parts=(part.name,),
                            points=(name,), facts={"of": name}, weight=worst[0] / most,
                            evidence=(case.evidence("voltage", name, "V", *worst, most, values=case.volts(key, pin, "GND")),))


OUT_OF_RANGE = 1.05
"""Times the highest working voltage from which it is told: the usual tolerance of a supply is within what makers leave."""

LOW_LOGIC = 4.0
"""Volts of logic below which a board's pins do not stand 5 V."""

PAST = 1.03
"""Share above the absolute maximum from which a resting pin counts as past it: less is within the tolerance of the 3.3 V rail."""


def _named_by_another_rule(case: Case, rating: Rating) -> bool:
    entry = case.bench.parts[rating.key].entry
    return rating.kind == "reverse" and isinstance(entry, Led | LedGroup | Capacitor)

EXPLANATION = """
# What it means
More volts lie across a part than its maker allows. For each part there is a highest voltage: 5.5 V at the 5V pin of a
controller, 40 V between collector and emitter of a PN2222A, 16 V on a capacitor that says 16 V. This rule compares the
computed voltage with that limit, with the supply a little high (a fresh 9 V battery gives up to 9.6 V).

# Why it matters
Past the limit something inside breaks down, and the current then does the damage. A chip for 5 V on 9 V is usually gone
at once; a capacitor swells or bursts. The 5V pin of a controller leads straight to its chip and its USB port, while VIN
leads to a regulator that takes 7 to 12 V and makes 5 V of it.

# A list that has it
title "Tide tank: the float switch and its board"
board half
supply PACK 9V on L+ L-
part U1 controller-5v
part TIDE float-switch
wire L+3 to U1.5V
wire U1.GND to L-3
wire TIDE.1 to U1.D4
wire TIDE.2 to L-20
pin U1.D4 pullup
power U1 vin

# The same list mended
title "Tide tank: the float switch and its board"
board half
supply PACK 9V on L+ L-
part U1 controller-5v
part TIDE float-switch
wire L+3 to U1.VIN
wire U1.GND to L-3
wire TIDE.1 to U1.D4
wire TIDE.2 to L-20
pin U1.D4 pullup
power U1 vin

# How to check with a meter
Before the supply is joined to the board, measure the supply alone, in volts: red probe on plus, black probe on minus. Then
compare with the highest voltage of each part on that rail. Here 9 V may go to VIN, and 5 V at most to the pin 5V.

# Source
Highest supply voltage 6.0 V, working range up to 5.5 V: ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel,
August 2014, absolute maximum ratings. What too much voltage does to a capacitor: Precautions and Guidelines, Nippon
Chemi-Con, notes on surge voltage.
"""

RULE = Rule("too-much-voltage", "voltage", EXPLANATION, find)
