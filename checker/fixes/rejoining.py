"""Candidates that take one lead from ground to plus: of a pull resistor that pulls the wrong way, of an array's common.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit, Conductor
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.joining import grounds_of
from checker.fixes.places import Places
from checker.operating.chips import logic_pin
from checker.rules.base import Found
from checker.seating.boards import RailPiece
from parts_library.schema import Controller, Resistor

PULL_RULES = ("no-pull-up", "level-mismatch")


def rejoinings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be taken to plus against the findings."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.parts else None
        if one.rule in PULL_RULES and part is not None and isinstance(part.entry, Controller):
            net = circuit.pin_net[part.name.lower(), logic_pin(part.entry)]
            for key, pin in _pulls_down(circuit, one):
                yield from _to_plus(circuit, key, pin, Places(circuit).spot_in_net(net) or f"{part.name}.{logic_pin(part.entry)}")
        if one.rule == "never-switches" and "clamp" in one.facts and part is not None:
            net_or_none = _coil_plus(circuit, one)
            spot = Places(circuit).spot_in_net(net_or_none) if net_or_none is not None else None
            if spot is not None:
                yield from _to_plus(circuit, part.name.lower(), one.facts["clamp"].partition(".")[2], spot)


def _pulls_down(circuit: Circuit, found: Found) -> Iterator[tuple[str, str]]:
    """The resistors at the pin of a finding whose other end is on a ground, with that end."""
    points = {point.lower() for point in found.points}
    grounds = set(grounds_of(circuit))
    for (key, pin), net in circuit.pin_net.items():
        if f"{key}.{pin}".lower() in points:
            for other, its in circuit.pins_on[net]:
                far = "2" if its == "1" else "1"
                if isinstance(circuit.part(other).entry, Resistor) and circuit.pin_net[other, far] in grounds:
                    yield other, far


def _coil_plus(circuit: Circuit, found: Found) -> int | None:
    """The net at which the load of a finding meets a supply's plus."""
    load = circuit.bench.part(found.facts.get("load", ""))
    nets = [circuit.pin_net[load.name.lower(), pin] for pin in load.pins] if load is not None else []
    return next((net for net in nets if any(circuit.part(key).is_supply and pin == "+"
                                            for key, pin in circuit.pins_on[net])), None)


def _to_plus(circuit: Circuit, key: str, pin: str, spot: str) -> Iterator[Candidate]:
    """The other end of the one wire at a pin, moved to ``spot``."""
    own: Conductor | None = circuit.conductor_of.get((key, pin))
    name = circuit.part(key).name
    for wire in circuit.bench.wires:
        ends = [(point, conductor_at(circuit, point)) for point in wire.points]
        if len(ends) != 2 or own is None or isinstance(own, RailPiece) or own not in [conductor for _, conductor in ends]:
            continue
        far = next((point for point, conductor in ends if conductor != own), None)
        if far is not None:
            draft = Draft(circuit.bench.tree.lines).replace(far.span, spot)
            yield Candidate(say=f"move the wire from {name}.{pin} to {spot}: it is on {far.text} now", edits=draft.edits(),
                            effort=1.3, parts=(name,), points=(far.text, spot), line=wire.span.line)
