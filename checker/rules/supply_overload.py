"""A source asked for more current than it gives."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import ROUNDING, over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import SupplyKind

LIMIT_REACHED = 0.99
"""An electronic limit counts as reached from here; the source is then no longer a voltage source."""


def find(case: Case) -> Iterator[Found]:
    """Outputs of controllers and regulators above their rating (damage), supplies above theirs or in their limit (fault; a
    note where only a start or a stall does it: they then sag for a moment)."""
    for rating in ratings_of(case):
        if rating.kind == "supply" and (found := over_limit(case, rating, "supply-overload", "output")):
            yield found
    for key, part in case.parts(SupplyKind):
        most, words = _most(part)
        if most is None or case.net(key, "+") == case.net(key, "-"):
            continue
        worst = case.worst(-case.amps(key, "+"), case.mask("steady"))
        reached = most * (LIMIT_REACHED if words == "limit" else ROUNDING)
        if worst is not None and worst[0] > reached:
            nominal = case.worst(-case.amps(key, "+"), case.mask("nominal"))
            settled = nominal is not None and nominal[0] > reached
            value, point = nominal if settled and nominal is not None else worst
            yield Found(rule="supply-overload", severity="fault" if settled else "note",
                        span=part.span, case=words, parts=(part.name,), points=(f"{part.name}.+",),
                        evidence=(case.evidence("current", part.name, "A", value, point, most),), weight=value / most)


def _most(part: BenchPart) -> tuple[float | None, str]:
    entry = part.entry
    assert isinstance(entry, SupplyKind)
    if part.limit is not None:
        return part.limit, "limit"
    if entry.rated is not None:
        return float(entry.rated), "rated"
    if entry.limit is not None:
        return float(entry.limit), "limit" if entry.limit_by == "electronics" else "fuse"
    return None, ""

EXPLANATION = """
# What it means
A source has to give more current than it is made for. The 5V pin of a controller on USB gives about 400 mA, its 3V3 pin
50 mA, a 9 V block about 300 mA for any length of time, a USB port 500 mA. The sum of all that hangs on it counts,
motors at the moment of starting too.

# Why it matters
The voltage falls, the controller starts over again and again, and the small regulator or fuse on its board overheats.
Two lights of 300 mA make 600 mA, half as much again as the 5V pin gives. A supply of their own for the loads, with its
minus joined to GND, lets the controller only steer them.

# A list that has it
title "Stage prop: the treasure chest lights up"
board half
part U1 controller-5v
part GLOW lamp-module 5V 300mA
part COINS lamp-module 5V 300mA
wire U1.5V to L+1
wire U1.GND to L-1
wire GLOW.+ to L+10
wire GLOW.- to L-10
wire COINS.+ to L+20
wire COINS.- to L-20

# The same list mended
title "Stage prop: the treasure chest lights up"
board half
part U1 controller-5v
part GLOW lamp-module 5V 300mA
part COINS lamp-module 5V 300mA
supply PLUG 5V limit 1A on L+ L-
wire U1.GND to L-1
wire GLOW.+ to L+10
wire GLOW.- to L-10
wire COINS.+ to L+20
wire COINS.- to L-20

# How to check with a meter
Measure the current of each load alone, with the meter at 10 A in series with its plus lead, and add up. While all runs,
measure the volts from 5V to GND: under 4.75 V the source is too weak. Put the red plug of the meter back into the volt
socket afterwards.

# Source
500 mA from a computer's port, 4.75 V to 5.25 V: Universal Serial Bus Specification, Revision 2.0, sections 7.2.1 and
7.3.2, April 2000 (from memory). The 400 mA that remain for the 5V pin, and the 300 mA of a 9 V block: common practice,
no source.
"""

RULE = Rule("supply-overload", "current", EXPLANATION, find)
