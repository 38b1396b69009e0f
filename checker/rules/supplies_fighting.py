"""Two sources on one net that push current into each other."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Controller, Regulator, SupplyKind

LEAST_AMPS = 0.02
"""Below 20 mA a battery or module takes no harm from a neighbour (common practice, no source)."""

RECHARGEABLE = ("nimh", "nicd", "lead", "lead-acid", "lithium", "lipo", "li-ion")


def find(case: Case) -> Iterator[Found]:
    """Supplies that are made to absorb current, with supplies that are nominally equal five per cent apart."""
    seen: set[frozenset[str]] = set()
    for key, part in case.parts(SupplyKind):
        if case.net(key, "+") == case.net(key, "-"):
            continue
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        worst = case.worst(case.amps(key, "+"), case.mask("steady"))
        if worst is None or worst[0] <= LEAST_AMPS or _is_charging(case, key, entry):
            continue
        others = _others(case, key, worst[1])
        if (pair := frozenset(case.name(k) for k in (key, *others))) in seen:
            continue
        seen.add(pair)
        lithium = any(isinstance(e := case.bench.parts[k].entry, SupplyKind) and "li" in e.chemistry.lower()[:2]
                      for k in (key, *others))
        yield Found(rule="supplies-fighting", severity="danger" if lithium else "damage", span=part.span,
                    case="supplies", parts=tuple(case.name(k) for k in (key, *others)),
                    points=(case.where(key, "+"),), weight=worst[0],
                    evidence=(case.evidence("current", f"into {part.name}", "A", *worst, LEAST_AMPS),))
    for key, part in case.parts(Controller):
        yield from (f for f in _into_usb(case, key, part) if frozenset(f.parts) not in seen)


def _into_usb(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    """Current that an outside supply pushes through the 5V pin into a plugged USB port."""
    name = f"{part.name} USB"
    plugged = np.array([point.state.get(name, "plugged") == "plugged" for point in case.operating.points])
    power = case.bench.powers.get(key)
    if (power is not None and "usb" not in power.ways) or (key, "5V") not in case.circuit.touched:
        return
    into = case.amps(key, "5V") - 0.06
    worst = case.worst(into, case.mask("steady") & plugged)
    if worst is not None and worst[0] > LEAST_AMPS:
        others = [case.name(k) for k in _others(case, key, worst[1])]
        yield Found(rule="supplies-fighting", severity="damage", span=part.span, case="usb",
                    parts=(part.name, *others), points=(f"{part.name}.5V",), weight=worst[0],
                    evidence=(case.evidence("current", f"into {part.name}.5V", "A", *worst, LEAST_AMPS),))


def _is_charging(case: Case, key: str, entry: SupplyKind) -> bool:
    """A solar cell may charge cells that are made for it."""
    solar = any(isinstance(e := other.entry, SupplyKind) and e.chemistry == "solar" for _, other in case.parts())
    return solar and entry.chemistry.lower() in RECHARGEABLE[:4]


def _others(case: Case, key: str, point: Point) -> list[str]:
    """The sources that deliver where this one absorbs."""
    at = case.operating.points.index(point)
    others = [k for k, _ in case.parts(SupplyKind) if k != key and case.amps(k, "+")[at] < -LEAST_AMPS]
    return others or [k for k, _ in case.parts(Controller, Regulator) if k != key][:1]

EXPLANATION = """
# What it means
Two supplies of different voltage are joined at both ends. The stronger one pushes current backwards into the
weaker one. Even two supplies that both say 5 V are never quite equal: 4.9 V against 5.1 V is normal.

# Why it matters
Only the resistance inside them holds the current back: (9 V - 6 V) over about 2.3 Ω is more than 1 A. Cells that
are not made to be charged heat up, leak or burst; a regulator or a USB port that is fed backwards can be
destroyed. Joining only the minus rails is right, and safe: no current flows through a single wire.

# A list that has it
title "Greenhouse, two lamps"
board half
supply PACK aa-pack-4 on L+ L-
supply BLOCK 9v-block on R+ R-
part R1 330 in b5 b10
part LED1 led red in c10 c13 long c10
part R2 470 in g5 g10
part LED2 led green in h10 h13 long h10
wire red L+5 to a5
wire black a13 to L-13
wire red R+5 to j5
wire black j13 to R-13
wire black L-30 to R-30
wire red L+29 to R+29

# The same list mended
title "Greenhouse, two lamps"
board half
supply PACK aa-pack-4 on L+ L-
supply BLOCK 9v-block on R+ R-
part R1 330 in b5 b10
part LED1 led red in c10 c13 long c10
part R2 470 in g5 g10
part LED2 led green in h10 h13 long h10
wire red L+5 to a5
wire black a13 to L-13
wire red R+5 to j5
wire black j13 to R-13
wire black L-30 to R-30

# How to check with a meter
With both supplies off the board, set the meter to resistance and measure from plus rail to plus rail: under 1 Ω
says that they are joined. With the joining wire out and power on, each plus rail has to show its own voltage, here
6 V and 9 V, each against its own minus rail.

# Source
Useful information, battery care, Duracell: cells that are not marked rechargeable must not be charged, nor old and
new cells mixed: they may leak or rupture.
"""

RULE = Rule("supplies-fighting", "shorts", EXPLANATION, find)
