"""Candidates that hold a floating pin with a resistor to plus or to minus.

Input: the circuit and a finding; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, free_name
from checker.operating.chips import logic_pin
from checker.rules.base import Found
from parts_library.schema import Controller, Switch


def _switched_to(circuit: Circuit, key: str, pin: str, rails: list[str]) -> str | None:
    """The rail that a switch joins the pin to: the pull has to go to the other one."""
    net = circuit.pin_net[key, pin]
    for other, its in circuit.pins_on[net]:
        if isinstance(entry := circuit.bench.parts[other].entry, Switch):
            for contact in entry.contacts:
                far = circuit.pin_net[other, contact.pins[0] if contact.pins[1] == its else contact.pins[1]]
                for rail in rails:
                    if contact.when and its in contact.pins and far == circuit.pin_net[key, rail]:
                        return rail
    return None


def pulls(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """A 10 kΩ (bus: 4.7 kΩ) resistor from a floating pin to the supply or the ground of what reads it."""
    part = circuit.bench.part(found.parts[0])
    point = found.points[0] if found.points else ""
    if part is None or "." not in point:
        return
    key, pin = part.name.lower(), point.split(".", 1)[1]
    entry = part.entry
    rails = [logic_pin(entry), "GND"] if isinstance(entry, Controller) else [p for p in (getattr(entry, "supply", None), getattr(
        entry, "ground", None)) if p]
    if pin == "G":
        rails = ["S"]
    value = "4k7" if found.rule == "no-pull-up" else "10k"
    if found.rule == "no-pull-up":
        rails = rails[:1]
    elif len(rails) == 2 and (side := _switched_to(circuit, key, pin, rails)) is not None:
        rails = [rail for rail in rails if rail != side]
    for rail in rails:
        places = Places(circuit)
        one = places.spot_in_net(circuit.pin_net[key, pin])
        other = places.spot_in_net(circuit.pin_net[key, rail])
        if one is None or other is None:
            continue
        name = free_name(circuit, "R")
        draft = Draft(circuit.bench.tree.lines)
        if "." in one or "." in other:
            draft.add_line(f"part {name} {value}").add_line(f"wire {name}.1 to {one}")
            draft.add_line(f"wire {name}.2 to {other}")
        else:
            draft.add_line(f"part {name} {value} in {one} {other}")
        way = "up" if rail not in ("GND", "S") and rail != getattr(entry, "ground", None) else "down"
        does = f"it pulls the pin {way}"
        if pin == "G":
            does = f"it holds the gate at the source, so that {part.name} stays off"
        yield Candidate(say=f"add {name} ({value}) from {one} to {other}: {does}", edits=draft.edits(),
                        effort=3.0, parts=(part.name,), line=part.span.line)
