"""Currents through the springs of the breadboard and through thin jumpers, against what they stand.

Every jumper's share of its net's current comes from the small resistances inside the net. Looked at are points of steady
running in which everything else is within its limits: a short or an overload is told by itself, and the contact's
current is only what follows from it.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from checker.circuit.model import Conductor
from checker.operating.jumpers import flow_in_net
from checker.operating.points import Bools, Floats
from checker.rules.base import Found
from checker.rules.case import Case
from checker.rules.limits import ROUNDING
from checker.rules.ratings import ratings_of
from checker.seating.boards import RailPiece, Strip
from grammar.syntax_tree import Span
from parts_library.schema import Controller, SupplyKind

ADVISED_AMPS = 1.0
"""What is put through a breadboard's spring for long: 1 A (common practice, no source)."""

MOST_AMPS = 3.0
"""What a 2.54 mm spring or crimp contact is rated at when new: 3 A, from memory of makers' datasheets of crimp terminals for
2.54 mm housings with AWG 22 wire. With 10 to 50 mΩ a contact, 3 A are 0.1 to 0.5 W in a spring held by thermoplastic."""

SHORTED_SHARE = 0.5
"""A supply that is pulled below this share of its own voltage feeds a short."""


class Contact(Struct, frozen=True):
    """The most loaded place of a circuit: ``points`` as written, ``parts`` whose leg it is, amps, which point."""

    points: tuple[str, ...]
    parts: tuple[str, ...]
    span: Span
    amps: float
    number: int


def contact_currents(case: Case) -> Iterator[Found]:
    """The jumper or leg that puts the most current through a contact of the breadboard, where that is more than is advised;
    damage above what such contacts are rated at."""
    mask = case.mask("running") & case.mask("heat")
    through = _source_amps(case)
    if not (through[mask] > ADVISED_AMPS).any():
        return
    mask = mask & ~_told_otherwise(case)
    worst = max(_contacts(case, mask), key=lambda contact: contact.amps, default=None)
    if worst is None or worst.amps <= ADVISED_AMPS * ROUNDING:
        return
    burns = worst.amps > MOST_AMPS * ROUNDING
    limit = MOST_AMPS if burns else ADVISED_AMPS
    point = case.operating.points[worst.number]
    of = " to ".join(worst.points)
    yield Found(rule="too-much-current", severity="damage" if burns else "note", span=worst.span,
                case="contact" if burns else "contact-advised", parts=worst.parts, points=worst.points, facts={"of": of},
                evidence=(case.evidence("current", of, "A", worst.amps, point, limit),), weight=worst.amps / limit)


def _source_amps(case: Case) -> Floats:
    """Amps that all sources give and take at each point: no contact carries more than half of them."""
    total = np.zeros(len(case.operating.points))
    for key, part in case.parts(SupplyKind, Controller):
        for pin in part.pins:
            total += np.abs(case.amps(key, pin))
    return total / 2


def _told_otherwise(case: Case) -> Bools:
    """Points (P,) in which something else is passed or shorted, which has a finding of its own."""
    told: Bools = np.zeros(len(case.operating.points), dtype=bool)
    for rating in ratings_of(case):
        told |= rating.values > rating.limit * ROUNDING
    for key, part in case.parts(SupplyKind):
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        told |= np.abs(case.volts(key, "+", "-")) < SHORTED_SHARE * float(entry.voltage or 0.0)
    return told


def _contacts(case: Case, mask: Bools) -> Iterator[Contact]:
    if not mask.any():
        return
    for net, pins in case.circuit.pins_on.items():
        through = sum((np.abs(case.amps(key, pin)) for key, pin in pins), np.zeros(len(mask))) / 2
        number = int(np.where(mask, through, -1.0).argmax())
        if through[number] > ADVISED_AMPS:
            yield from _legs(case, pins, number)
            yield from _jumpers(case, net, number)


def _legs(case: Case, pins: tuple[tuple[str, str], ...], number: int) -> Iterator[Contact]:
    for key, pin in pins:
        part = case.bench.parts[key]
        if isinstance(case.circuit.conductor_of.get((key, pin)), Strip | RailPiece):
            yield Contact((case.where(key, pin),), (part.name,), part.span, abs(float(case.amps(key, pin)[number])), number)


def _jumpers(case: Case, net: int, number: int) -> Iterator[Contact]:
    wires: dict[frozenset[Conductor], tuple[tuple[str, str], Span]] = {
        frozenset(jumper.conductors): (jumper.ends, jumper.span) for jumper in case.circuit.jumpers}
    for one, other, amps in flow_in_net(case.operating, net, number).edges:
        ends = wires.get(frozenset((one, other)))
        if ends is not None and (isinstance(one, Strip | RailPiece) or isinstance(other, Strip | RailPiece)):
            yield Contact(ends[0], (), ends[1], abs(amps), number)
