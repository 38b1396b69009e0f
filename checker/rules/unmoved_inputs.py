"""Digital inputs that a switch or a coupler is to move and that read the same whatever it does: part of ``level-mismatch``."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.operating.points import Floats
from checker.rules.base import Found
from checker.rules.case import Case, Mask
from checker.rules.held import is_held
from parts_library.schema import Chip, Contact, Switch

MOST_RESISTORS = 3
"""Resistors between a contact and an input that it moves: a series resistor, and two of a filter (common practice, no source)."""

LED_PINS, LEAST_LED_AMPS = ("A", "K"), 5e-4
"""A coupler's LED, and the amps from which it counts as switched: couplers are rated from 0.5 or 1 mA up (from memory)."""


def unmoved_input(case: Case, key: str, pin: str, volts: Floats, low: Floats, high: Floats, margin: float) -> Iterator[Found]:
    """An input that a contact or a coupler is wired to but that stays within what it reads as low, or as high, in every nominal
    state."""
    mask = case.mask("nominal")
    mover = _mover_near(case, key, pin, mask) if mask.any() and not case.operating.plan.bounded else None
    if mover is None:
        return
    points = [point for point, used in zip(case.operating.points, mask, strict=True) if used]
    held = "pullup" in case.bench.role_of(key, pin) or all(is_held(case, key, pin, point) for point in points)
    if not held:
        return
    for level, stuck, least, limit in (("low", volts <= low + margin, False, high), ("high", volts >= high - margin, True, low)):
        worst = case.worst(volts, mask, least) if bool(stuck[mask].all()) else None
        if worst is not None:
            part = case.bench.parts[key]
            name = case.pin_name(key, pin)
            bound = float(limit[case.operating.points.index(worst[1])])
            yield Found(rule="level-mismatch", severity="fault", span=case.bench.roles.get((key, pin), ((), part.span))[1],
                        case="unmoved", parts=(part.name,), points=(name,), needs_whole_list=True,
                        facts={"level": level, "switch": case.name(mover), "other": "low" if least else "high"},
                        evidence=(case.evidence("voltage", name, "V", *worst, bound, not least),))
            return


def _mover_near(case: Case, key: str, pin: str, mask: Mask) -> str | None:
    """The first switch or coupler that moves and leads on from a net that the input reaches through resistors alone."""
    seen, border = set(), {case.net(key, pin)} - case.stiff
    for _ in range(MOST_RESISTORS + 1):
        seen |= border
        for net in sorted(border):
            for other, its in case.pins_on(net):
                if _moves(case, other, its, net, mask):
                    return other
        border = case.past_resistors(border) - seen - case.stiff
    return None


def _moves(case: Case, key: str, pin: str, net: int, mask: Mask) -> bool:
    """True for a contact that is set to both positions, and for the output of a coupler whose LED is switched."""
    entry = case.bench.parts[key].entry
    if isinstance(entry, Switch):
        positions = {point.state.get(case.name(key)) for point, used in zip(case.operating.points, mask, strict=True) if used}
        return len(positions) > 1 and any(contact.when and _leads(case, key, entry, contact, net) for contact in entry.contacts)
    if not isinstance(entry, Chip) or entry.type != "opto" or pin in LED_PINS:
        return False
    return any(float(np.ptp(case.amps(key, led)[mask])) > LEAST_LED_AMPS for led in LED_PINS if led in entry.pins)


def _leads(case: Case, key: str, entry: Switch, contact: Contact, net: int) -> bool:
    """True where a contact joins a net to another one that something else is on. Legs that are joined inside, as the twins of a
    button with four legs, are one."""
    sides = [_joined(case, key, entry, pin) for pin in contact.pins]
    if sides[0] & sides[1] or (sides[0] | sides[1]) & case.circuit.uncertain:
        return False
    return any(net in side for side in sides) and all(
        any(other != key for end in side for other, _ in case.pins_on(end)) for side in sides)


def _joined(case: Case, key: str, entry: Switch, pin: str) -> set[int]:
    """The nets of a leg and of those that are joined to it in every position."""
    pins = {pin}
    for contact in entry.contacts:
        if not contact.when and pins & set(contact.pins):
            pins |= set(contact.pins)
    return {case.net(key, each) for each in pins}
