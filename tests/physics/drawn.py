"""Random circuits of parts of the library: whatever could be plugged in out of a drawer, with sense or without.

Each list has one to three supplies and three to nine parts drawn over all families alike; every pin goes to one of a few named
nodes. In every other list two-legged parts bridge neighbouring nodes and the first supply holds the outer ones, so that currents
flow as in a circuit that was meant; in the rest each pin lands anywhere.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from checker.circuit.model import Circuit
from checker.survey import wire_up
from parts_library import Library
from parts_library.schema import (
    AnyEntry,
    Capacitor,
    Controller,
    Fuse,
    Inductor,
    Load,
    Potentiometer,
    Relay,
    Resistor,
    SupplyKind,
)

VOLTS = ("3V", "5V", "6V", "9V", "12V", "24V")
VALUES = ("47", "220", "470", "1k", "4k7", "10k", "100k", "100nF", "47uF")
RATED: dict[type, tuple[str, ...]] = {
    Capacitor: ("10uF 25V", "1uF 50V"), Fuse: ("500mA", "2A"), Inductor: ("1mH", "100mH"),
    Load: ("5V 60mA", "12V 300mA"), Potentiometer: ("1k", "10k", "100k"), Relay: ("12V",),
    Resistor: ("10", "330"),
}
"""What has to be said beside the name of a kind that has no ratings of its own."""
PINS_MOST = 40


def drawn_circuits(seed: int, count: int, library: Library) -> list[Circuit]:
    """``count`` circuits, the same for the same seed and library."""
    chance = random.Random(seed)
    families = _families(library)
    return [wire_up(drawn_list(chance, families), library).circuits[0] for _ in range(count)]


def drawn_list(chance: random.Random, families: Sequence[Sequence[AnyEntry]]) -> str:
    """One list, without any hole."""
    nodes = [f"@n{number}" for number in range(chance.randint(3, 8))]
    meant = chance.random() < 0.5
    lines = []
    for number in range(chance.randint(1, 3)):
        ends = (nodes[0], nodes[-1]) if meant and not number else tuple(chance.sample(nodes, 2))
        lines += [f"supply S{number} {chance.choice(VOLTS)}", f"wire S{number}.+ to {ends[0]}", f"wire S{number}.- to {ends[1]}"]
    for number in range(chance.randint(3, 9)):
        lines += _part(f"X{number}", chance, families, nodes, meant)
    return "\n".join(lines)


def _part(name: str, chance: random.Random, families: Sequence[Sequence[AnyEntry]], nodes: list[str], meant: bool) -> list[str]:
    if chance.random() < 0.3:
        said = chance.choice(VALUES)
        name = name.replace("X", "C" if said.endswith("F") else "R")
        pins: tuple[str, ...] = ("+", "-") if said.endswith("uF") else ("1", "2")
    else:
        entry = chance.choice(chance.choice(families))
        said, pins = f"{entry.name} {chance.choice(RATED.get(type(entry), ('',)))}", entry.pins
    places = chance.choices(nodes, k=len(pins))
    if meant and len(pins) == 2:
        at = chance.randrange(len(nodes) - 1)
        places = nodes[at:at + 2]
    return [f"part {name} {said}", *(f"wire {name}.{pin} to {place}" for pin, place in zip(pins, places, strict=True))]


def _families(library: Library) -> list[list[AnyEntry]]:
    """The entries of each kind that have pins to wire, largest boards left out."""
    families: dict[type, list[AnyEntry]] = {}
    for entry in library.entries.values():
        if 2 <= len(getattr(entry, "pins", ())) <= PINS_MOST and not isinstance(entry, SupplyKind | Controller):
            families.setdefault(type(entry), []).append(entry)
    return list(families.values())
