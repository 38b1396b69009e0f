"""Candidates that lead a coil's feed past the relay's own contact, which takes it away as soon as the relay pulls in.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.rules.base import Found
from grammar.syntax_tree import Pin, Point


def bypassings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The wire's end at the contact that opens, moved to where that contact gets its voltage."""
    for one in found:
        if one.rule != "never-settles" or one.case != "own":
            continue
        (key, near), (_, far) = (point.lower().split(".", 1) for point in one.points[:2])
        pins = {pin.lower(): pin for pin in circuit.part(key).pins}
        own = circuit.conductor_of.get((key, pins[near]))
        for wire in circuit.bench.wires:
            ends = [point for point in wire.points if conductor_at(circuit, point) == own]
            to = _feed(circuit, key, pins[far], ends[0]) if len(ends) == 1 and len(wire.points) > 1 else None
            if to is not None:
                draft = Draft(circuit.bench.tree.lines).replace(ends[0].span, to)
                yield Candidate(say=f"move the wire's end from {ends[0].text} to {to}", edits=draft.edits(), effort=1.3,
                                parts=one.parts, points=(ends[0].text, to), line=wire.span.line)


def _feed(circuit: Circuit, key: str, pin: str, end: Point) -> str | None:
    """How to write a connection to what feeds a contact: as the wire there names it, or a free hole."""
    net = circuit.pin_net[key, pin]
    if not isinstance(end, Pin):
        return Places(circuit).spot_in_net(net)
    others = [point.text for wire in circuit.bench.wires for point in wire.points
              if isinstance(point, Pin) and point.part.lower() != key
              and (conductor := conductor_at(circuit, point)) is not None and circuit.net_of.get(conductor) == net]
    return others[0] if others else f"{circuit.part(key).name}.{pin}"
