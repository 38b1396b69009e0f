"""A coil whose current has nowhere to go when it is switched off."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.models import coil_henries
from checker.operating.operate import coils_of
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case, Mask
from checker.rules.limits import ROUNDING
from checker.rules.ratings import Rating, ratings_of
from checker.rules.regions import region_of
from parts_library.schema import Capacitor, Mosfet, Relay, SupplyKind, Switch

CLAMPED = 1.03
"""A clamp adds its own drop for microseconds: a rating that is passed by that little is not one that nothing guards."""


def find(case: Case) -> Iterator[Found]:
    """Voltages and clamp currents above a rating at the moment of switching off, with the peak and the energy."""
    if not case.mask("switch-off").any():
        return
    for key, coil, one, other in coils_of(case.circuit):
        found = _of_coil(case, key, coil, one, other)
        if found is not None:
            yield found


def _of_coil(case: Case, key: str, coil: int, one: str, other: str) -> Found | None:
    """The worst overstress that one coil causes when it is switched off, or a note where only a contact opens it."""
    mask = case.mask("switch-off") & np.array([(key, coil) in point.forced for point in case.operating.points])
    if not mask.any():
        return None
    worst: tuple[float, Rating, float, Point] | None = None
    for rating in ratings_of(case):
        if rating.key == key or rating.kind not in ("voltage", "reverse", "clamp", "surge"):
            continue
        top = case.worst(rating.values, mask)
        allowed = rating.limit * (CLAMPED if rating.unit == "V" else ROUNDING)
        if top is not None and top[0] > allowed and _is_new(case, rating, top[1]) and not _is_shared(rating, top, key, coil):
            over = top[0] / rating.limit
            if worst is None or over > worst[0]:
                worst = (over, rating, top[0], top[1])
    if worst is None:
        return _near_its_limit(case, key, one, other, mask) or _arc(case, key, coil, one, other, mask)
    _, rating, value, point = worst
    energy = coil_energy(case, key, point.forced[key, coil])
    part, stressed = case.bench.parts[key], case.bench.parts[rating.key]
    severity = "note" if _takes_avalanche(stressed, energy) else "damage"
    return Found(rule="no-clamp", severity=severity, span=part.span, case="peak", parts=(part.name, stressed.name),
                 points=(case.where(key, one), case.where(key, other)), facts={"of": rating.of},
                 weight=value / rating.limit,
                 evidence=(case.evidence(rating.quantity, rating.of, rating.unit, value, point, rating.limit),
                           case.evidence("current", part.name, "A", abs(point.forced[key, coil]), point),
                           case.evidence("energy", part.name, "J", energy, point)))


MOST_OF_IT = 0.5
"""Where a pin's own clamp takes less than this share of a coil's current, another clamp takes the coil's energy; what is left to
the pin lasts for less than a millisecond (common practice, no source)."""


def _is_shared(rating: Rating, top: tuple[float, Point], key: str, coil: int) -> bool:
    return rating.kind == "clamp" and top[0] < MOST_OF_IT * abs(top[1].forced[key, coil])


NEAR = 0.9
"""Share of a rating from which a peak that rests on an assumed inductance leaves no margin."""


def _near_its_limit(case: Case, key: str, one: str, other: str, mask: Mask) -> Found | None:
    """A note where the peak comes within a tenth of a rating that the steady states keep well, with an inductance that only the
    kind of part gives."""
    if not any(said.startswith(f"{case.name(key)}'s winding is taken as") for said in case.bench.assumed):
        return None
    steady = case.mask("steady")
    for rating in ratings_of(case):
        if rating.key == key or rating.kind != "voltage":
            continue
        top, before = case.worst(rating.values, mask), case.worst(rating.values, steady)
        if top is not None and NEAR * rating.limit < top[0] and (before is None or before[0] < NEAR * rating.limit):
            return Found(rule="no-clamp", severity="note", span=case.bench.parts[key].span, case="near",
                         parts=(case.name(key), case.name(rating.key)), points=(case.where(key, one), case.where(key, other)),
                         facts={"of": rating.of},
                         evidence=(case.evidence(rating.quantity, rating.of, rating.unit, *top, rating.limit),))
    return None


def _is_new(case: Case, rating: Rating, point: Point) -> bool:
    """True where the limit is kept as long as nothing is switched: switching off is then what breaks it."""
    steady = case.worst(rating.values, case.mask("steady"))
    return steady is None or steady[0] <= rating.limit * ROUNDING


def capacitance_at(case: Case, key: str, one: str, other: str) -> float:
    """Farads across a coil, or from one of its ends to a net that a source holds."""
    ends = {case.net(key, one), case.net(key, other)}
    held = {case.net(k, pin) for k, _ in case.parts(SupplyKind) for pin in ("+", "-")}
    total = 0.0
    for name, part in case.parts(Capacitor):
        nets = {case.net(name, pin) for pin in part.pins}
        if isinstance(part.entry, Capacitor) and nets & ends and nets <= ends | held and len(nets) == 2 \
                and not nets <= held:
            total += float(part.entry.farads or 0.0)
    return total


def coil_energy(case: Case, key: str, amps: float) -> float:
    """Joules in a coil, L * I² / 2."""
    return 0.5 * coil_henries(case.bench.parts[key].entry) * amps * amps


def _takes_avalanche(part: BenchPart, energy: float) -> bool:
    """A MOSFET with a stated avalanche energy takes a hundredth of it every time."""
    entry = part.entry
    return isinstance(entry, Mosfet) and entry.avalanche_energy is not None and energy <= entry.avalanche_energy / 100


ARC_VOLTS = 100.0
"""Above this an opening contact draws an arc (air breaks down from about 330 V over any gap; contacts erode from less)."""


def _arc(case: Case, key: str, coil: int, one: str, other: str, mask: Mask) -> Found | None:
    if capacitance_at(case, key, one, other) > 0.0:
        return None
    worst = case.worst(np.abs(case.volts(key, one, other)), mask)
    if worst is None or worst[0] < ARC_VOLTS:
        return None
    point = worst[1]
    contact = _contact(case, key, point.switched)
    if contact is None:
        return None
    part = case.bench.parts[key]
    energy = coil_energy(case, key, point.forced[key, coil])
    return Found(rule="no-clamp", severity="note", span=part.span, case="arc", parts=(part.name,),
                 points=(case.where(key, one), case.where(key, other)), facts={"switch": contact},
                 evidence=(case.evidence("energy", part.name, "J", energy, point),))


def _contact(case: Case, key: str, switched: str) -> str | None:
    """Whose contact opens a coil: that of the switch itself, or of a relay that what is switched drives."""
    near, _ = region_of(case, key)
    names = [part.name for other, part in case.parts(Switch, Relay) if other in near and other != key]
    return switched if switched in names else next(
        (name for name in names if isinstance(case.bench.parts[name.lower()].entry, Relay)), None)


EXPLANATION = """
# What it means
A coil (relay, motor, solenoid) keeps its current going when the transistor that drives it switches off. Without another
path its voltage rises until something breaks down. A diode across the coil, band toward plus, gives the current a path
and holds the voltage to 0.7 V above the supply.

# Why it matters
The 70 mA of a small relay's coil drive a PN2222A past its 40 V, every time it switches off. The energy is small, about
0.2 mJ, so it may live for hours or weeks and then fail shorted, with the relay on for good. The spike also makes a
controller nearby start over. A 1N4001 takes 1 A and costs a few cents.

# A list that has it
title "Greenhouse: the vent relay"
board half
supply PACK 5V on L+ L-
part U1 controller-5v
part K1 relay-5v
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 470 in e11 e16
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire K1.A1 to L+18
wire K1.A2 to a12

# The same list mended
title "Greenhouse: the vent relay"
board half
supply PACK 5V on L+ L-
part U1 controller-5v
part K1 relay-5v
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 470 in e11 e16
part D1 1N4001 in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire K1.A1 to L+18
wire K1.A2 to a12

# How to check with a meter
Power off, meter on the diode test: red probe on the transistor's side of the coil, black probe on the plus side. With the
diode in place it reads 0.5 to 0.7 V or the lower voltage of the coil itself; lift one coil lead to read the diode
alone. Tips the other way round must read nothing (OL), else the diode is the wrong way.

# Source
Coil suppression with a diode: application note 13C3264, The application of relay coil suppression with DC relays, TE
Connectivity (from memory). The 40 V: PN2222A/MMBT2222A/PZT2222A datasheet, Fairchild Semiconductor, Rev. 1.0.0,
February 2009.
"""

RULE = Rule("no-clamp", "inductive", EXPLANATION, find)
