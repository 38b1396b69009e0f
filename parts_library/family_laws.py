"""The laws of single families: a transistor has its legs, contacts join pins that exist, a chip names its own pins.

Input: one decoded entry. Output: the broken laws. They run in the order of ``laws.LAWS``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from parts_library.law import Broken, doubled_in, only_pins
from parts_library.logic import pins_of
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Contact,
    Controller,
    Diode,
    Jfet,
    Led,
    LedGroup,
    Mosfet,
    Package,
    Relay,
    Stepper,
    Switch,
    Thyristor,
    Zener,
)


def transistors_have_their_legs(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Transistors have their legs."""
    wanted = {"E", "B", "C"} if isinstance(entry, Bipolar) else {"G", "D", "S"} if isinstance(entry, Mosfet | Jfet) else set()
    if isinstance(entry, Thyristor):
        wanted = {"MT1", "MT2", "G"} if entry.two_way else {"A", "K", "G"}
    if isinstance(entry, Bipolar) and entry.photo:
        wanted = {"E", "C"}
    if missing := sorted(wanted - set(entry.pins)):
        yield Broken("pins", f"has no {missing[0]}", " ".join(entry.pins), " ".join(sorted(wanted)))


def diodes_name_their_anode_first(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Diodes name their anode first."""
    if isinstance(entry, Diode | Zener | Led) and entry.pins != ("A", "K"):
        yield Broken("pins", "of a diode are the anode, then the cathode", " ".join(entry.pins), "A K")


def polarised_parts_have_plus_and_minus(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Polarised parts have plus and minus."""
    if isinstance(entry, Capacitor) and entry.polarised and set(entry.pins) != {"+", "-"}:
        yield Broken("pins", "of a polarised capacitor are + and -", " ".join(entry.pins), "+ -")


def contacts_join_pins(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Contacts join pins."""
    contacts: tuple[Contact, ...] = getattr(entry, "contacts", ())
    positions = entry.positions if isinstance(entry, Switch) else ("released", "pulled-in")
    if not isinstance(entry, (Switch, Relay)):
        return
    for index, contact in enumerate(contacts):
        yield from only_pins(f"contacts[{index}].pins", contact.pins, entry)
        for position in contact.when:
            if position not in positions:
                yield Broken(f"contacts[{index}].when", f"'{position}' is no position", position, ", ".join(positions))
    if isinstance(entry, Switch) and (not positions or doubled_in(positions)):
        yield Broken("positions", "must name each position once", " ".join(positions), "distinct names")


def members_and_coils_name_pins(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Members and coils name pins."""
    if isinstance(entry, LedGroup):
        for index, member in enumerate(entry.members):
            yield from only_pins(f"members[{index}]", (member.anode, member.cathode), entry)
        for index, pair in enumerate(entry.joined):
            yield from only_pins(f"joined[{index}]", pair, entry)
    if isinstance(entry, Stepper):
        for index, coil in enumerate(entry.coils):
            yield from only_pins(f"coils[{index}]", coil, entry)
    if isinstance(entry, Controller):
        for field in ("digital", "analog", "pwm"):
            yield from only_pins(field, getattr(entry, field), entry)


def chips_name_their_pins(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Chips name their pins."""
    if not isinstance(entry, Chip):
        return
    for field in ("supply", "ground"):
        if (pin := getattr(entry, field)) is not None:
            yield from only_pins(field, (pin,), entry)
    for field in ("more_supplies", "more_grounds", "unused"):
        yield from only_pins(field, getattr(entry, field), entry)
    for index, group in enumerate(entry.inputs):
        yield from only_pins(f"inputs[{index}].pins", group.pins, entry)
        yield from only_pins(f"inputs[{index}].supply", (group.supply,) if group.supply else (), entry)
        yield from only_pins(f"inputs[{index}].switched_by", group.switched_by, entry)
    for index, drive in enumerate(entry.outputs):
        yield from only_pins(f"outputs[{index}].pins", drive.pins, entry)
        yield from only_pins(f"outputs[{index}].supply", (drive.supply,) if drive.supply else (), entry)
        yield from only_pins(f"outputs[{index}].set_by", (drive.set_by,) if drive.set_by else (), entry)
        for field, functions in (("follows", drive.follows), ("enabled_by", drive.enabled_by), ("held_by", drive.held_by)):
            pins = tuple(pin for function in functions for pin in pins_of(function))
            yield from only_pins(f"outputs[{index}].{field}", pins, entry)
        if drive.follows and len(drive.follows) != len(drive.pins):
            yield Broken(f"outputs[{index}].follows", f"names {len(drive.follows)} inputs for {len(drive.pins)} outputs",
                         str(len(drive.follows)), str(len(drive.pins)))
        if drive.one_at and drive.one_at == {"open-collector": "high", "high-side": "low"}.get(drive.style):
            yield Broken(f"outputs[{index}].one_at", f"is {drive.one_at}, which {drive.style} outputs are never", drive.style,
                         "a level that the outputs drive")
    for index, made in enumerate(entry.makes):
        yield from only_pins(f"makes[{index}]", (made.pin, made.source), entry)
    for index, stop in enumerate(entry.stops):
        yield from only_pins(f"stops[{index}].when", pins_of(stop.when), entry)
        yield from only_pins(f"stops[{index}].outputs", stop.outputs, entry)
    for index, amplifier in enumerate(entry.amplifiers):
        pins = (amplifier.output, amplifier.plus, amplifier.minus, amplifier.emitter or amplifier.output)
        yield from only_pins(f"amplifiers[{index}]", pins, entry)
    for pin in entry.separate:
        if pin not in entry.more_grounds:
            yield Broken("separate", f"'{pin}' is none of more_grounds", pin, " ".join(entry.more_grounds))
    yield from _limits_name_pins(entry)


def _limits_name_pins(entry: Chip) -> Iterator[Broken]:
    for index, limit in enumerate(entry.limits):
        named = tuple(name.replace("{n}", str(n)) for name in limit.of for n in range(1, limit.repeat + 1))
        yield from only_pins(f"limits[{index}].of", named, entry)
        wanted, value = (2, limit.volts) if limit.quantity == "voltage" else (1, limit.amps)
        if len(limit.of) != wanted or value is None:
            yield Broken(f"limits[{index}]", f"a {limit.quantity} limit has {wanted} pins and its value", str(len(limit.of)),
                         str(wanted))


# How many nodes each device of an equivalent circuit has (the order is that of schema.Element).
_NODES = {"resistor": 2, "diode": 2, "npn": 3, "pnp": 3, "nmos": 3, "pmos": 3, "source": 2, "transfer": 4}


def elements_have_their_nodes(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Elements have their nodes."""
    if not isinstance(entry, Chip):
        return
    for index, element in enumerate(entry.circuit):
        if len(element.nodes) != _NODES[element.device]:
            yield Broken(f"circuit[{index}].nodes", f"a {element.device} has {_NODES[element.device]} nodes",
                         str(len(element.nodes)), str(_NODES[element.device]))
