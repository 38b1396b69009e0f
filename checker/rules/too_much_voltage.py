"""More volts across a part than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Capacitor, Led, LedGroup


def find(case: Case) -> Iterator[Found]:
    """Voltages above an absolute maximum, in the worst corner of every steady state; pins driven past their supply."""
    for rating in ratings_of(case):
        if rating.kind not in ("voltage", "reverse", "clamp") or _named_by_another_rule(case, rating):
            continue
        if (found := over_limit(case, rating, "too-much-voltage", "pin" if rating.kind == "clamp" else "part")):
            yield found


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
Before the supply is joined to the board, measure the supply alone, in volts: red tip on plus, black tip on minus. Then
compare with the highest voltage of each part on that rail. Here 9 V may go to VIN, and 5 V at most to the pin 5V.

# Source
Highest supply voltage 6.0 V, working range up to 5.5 V: ATmega48A/PA/88A/PA/168A/PA/328/P data sheet 8271H, Atmel,
August 2014, absolute maximum ratings. What too much voltage does to a capacitor: Precautions and Guidelines, Nippon
Chemi-Con, notes on surge voltage.
"""

RULE = Rule("too-much-voltage", "voltage", EXPLANATION, find)
