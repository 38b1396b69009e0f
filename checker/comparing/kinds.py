"""Whether a part can stand for another: the same, an equivalent type, another value, another type.

Input: the entries of a part of the reference and of the given list. Output: None where they are as good as the same, or
an ``Unlike`` with what is different. A value is the same within the tolerance of the reference's part.
"""

from __future__ import annotations

from msgspec import Struct

from grammar import show_quantity
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Diode,
    Fuse,
    Inductor,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    SupplyKind,
    Switch,
    Thyristor,
    Zener,
)

ELECTROLYTIC_TOLERANCE = 0.2
"""Of capacitors whose tolerance nobody states: ±20 % (IEC 60062 letter M), common practice for aluminium electrolytics."""

COIL_TOLERANCE = 0.2
"""Of inductors and sensors whose tolerance nobody states: common practice, no source."""

RATED_TOLERANCE = 0.1
"""Two loads with rated volts and amps this near to each other do the same work: our choice."""

SUPPLY_TOLERANCE = 0.05
"""Supplies are nominally equal within ±5 %, as in the table of corners."""

ENOUGH_CURRENT = 0.8
"""Share of the reference's rated current that an equivalent type has at least: types sold for each other differ by that
(2N2222A 0.8 A or 0.6 A, by maker)."""

PLENTY = 2.0
"""Times the supply, from which more volts of a rating are no advantage: common practice, no source."""

COSTS = {"equivalent-type": 0.05, "value": 0.5, "type": 0.6}


class Unlike(Struct, frozen=True):
    """What is different: ``kind`` is a key of ``COSTS``; ``given`` and ``reference`` in words."""

    kind: str
    given: str
    reference: str


def unlike(reference: AnyEntry, given: AnyEntry, supply_volts: float) -> Unlike | None:
    """What is different about a given part; ``supply_volts`` is the sum of the reference's supplies, which says how much
    of a voltage rating is of use."""
    if not _same_job(reference, given):
        return Unlike("type", given.name, reference.name)
    for unit, wanted, found, tolerance in values(reference, given):
        if wanted and found and abs(found - wanted) > tolerance * abs(wanted) * (1.0 + 1e-9):
            return Unlike("value", show_quantity(found, unit), show_quantity(wanted, unit))
    if reference.name == given.name or not _has_type(reference):
        return None
    kind = "equivalent-type" if _as_strong(reference, given, supply_volts) else "type"
    return Unlike(kind, given.name, reference.name)


def values(reference: AnyEntry, given: AnyEntry) -> list[tuple[str, float | None, float | None, float]]:
    """The values that decide, with unit and tolerance: of the reference and of the given part, which are of one kind."""
    fields: tuple[tuple[str, str, float], ...] = ()
    if isinstance(reference, Resistor | Potentiometer):
        fields = (("ohm", "ohms", float(reference.tolerance)),)
    elif isinstance(reference, SensorResistor):
        fields = (("ohm", "ohms", COIL_TOLERANCE),)
    elif isinstance(reference, Capacitor):
        fields = (("F", "farads", ELECTROLYTIC_TOLERANCE),)
    elif isinstance(reference, Inductor):
        fields = (("H", "henries", COIL_TOLERANCE),)
    elif isinstance(reference, Zener):
        fields = (("V", "voltage", float(reference.tolerance)),)
    elif isinstance(reference, Load | Relay):
        fields = (("V", "voltage", RATED_TOLERANCE), ("A", "current", RATED_TOLERANCE))
    elif isinstance(reference, SupplyKind):
        fields = (("V", "voltage", SUPPLY_TOLERANCE),)
    elif isinstance(reference, Fuse):
        fields = (("A", "current", RATED_TOLERANCE),)
    elif isinstance(reference, Regulator):
        fields = (("V", "output", float(reference.tolerance)),)
    return [(unit, getattr(reference, name), getattr(given, name), tolerance) for unit, name, tolerance in fields]


def _same_job(reference: AnyEntry, given: AnyEntry) -> bool:
    """The same kind of part, made for the same."""
    if type(reference) is not type(given):
        return False
    jobs = {Bipolar: ("polarity", "darlington", "photo"), Mosfet: ("polarity",),
            Jfet: ("polarity",), Thyristor: ("two_way",), Diode: ("use",), Led: ("colour",),
            Capacitor: ("polarised",), Load: ("type", "one_way"), SensorResistor: ("low_when", "high_when"),
            Fuse: ("resets",), Regulator: ("adjustable", "negative"), Relay: ("pins",), LedGroup: ("name",)}
    if isinstance(reference, Switch) and isinstance(given, Switch):
        return _contacts(reference) == _contacts(given)
    return all(getattr(reference, field) == getattr(given, field) for field in jobs.get(type(reference), ()))


def _contacts(entry: Switch) -> tuple[object, ...]:
    """How many contacts are closed in each position: at rest first for what springs back, in any order for what stays."""
    closed = [sum(position in contact.when for contact in entry.contacts) for position in entry.positions]
    return (entry.momentary, tuple(closed if entry.momentary else sorted(closed)))


def _has_type(entry: AnyEntry) -> bool:
    """False where the name is no type that matters: resistors, supplies of the same voltage, buttons, loads."""
    return not isinstance(entry, Resistor | SupplyKind | Switch | Load | Relay | Potentiometer | Inductor | Fuse | Capacitor
                          | Led | SensorResistor)


def _as_strong(reference: AnyEntry, given: AnyEntry, supply_volts: float) -> bool:
    """True where every rating of the given type reaches the reference's, or is plenty for the supply."""
    for field in ("vceo", "vds", "vrrm"):
        wanted, found = getattr(reference, field, None), getattr(given, field, None)
        if wanted and (not found or found < min(wanted, max(PLENTY * supply_volts, 1.0))):
            return False
    for field in ("ic", "id", "current"):
        wanted, found = getattr(reference, field, None), getattr(given, field, None)
        if wanted and (not found or found < ENOUGH_CURRENT * wanted):
            return False
    if isinstance(reference, Mosfet) and isinstance(given, Mosfet):
        return given.threshold.max <= 1.25 * reference.threshold.max
    return isinstance(reference, Bipolar | Diode | Zener | Regulator)
