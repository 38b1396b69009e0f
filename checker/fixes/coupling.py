"""Candidates that put a capacitor between an amplifier's output and a loudspeaker.

Input: the circuit and a finding; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, free_name
from checker.rules.base import Found
from checker.seating.boards import Strip
from grammar.syntax_tree import Pin, Wire
from parts_library.schema import Chip, Load

USUAL_CAPACITOR = "220uF"
"""What datasheets of small amplifiers draw before 8 ohm (from memory)."""


def coupled(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """The capacitor that keeps the resting voltage of an amplifier's output from a loudspeaker."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    if part is None or not isinstance(part.entry, Load | Chip):
        return
    for key, its in circuit.bench.parts.items():
        if not isinstance(its.entry, Load) or its.entry.type != "speaker":
            continue
        for pin in its.pins:
            net = circuit.pin_net[key, pin]
            outputs = [other for other, at in circuit.pins_on[net] if at.upper().startswith("OUT")
                       and isinstance(circuit.part(other).entry, Chip)]
            if outputs and {key, outputs[0]} & {part.name.lower()}:
                yield from _before(circuit, key, pin)


def _before(circuit: Circuit, key: str, pin: str) -> Iterator[Candidate]:
    """The capacitor in the wire of a loudspeaker's lead: its plus at the amplifier."""
    name, lead = free_name(circuit, "C"), f"{circuit.part(key).name}.{pin}"
    for wire in circuit.bench.wires:
        mine = next((point for point in wire.points if isinstance(point, Pin) and point.text.lower() == lead.lower()), None)
        if len(wire.points) == 2 and mine is not None:
            yield from _in_wire(circuit, wire, name, lead)


def _in_wire(circuit: Circuit, wire: Wire, name: str, lead: str) -> Iterator[Candidate]:
    far = next(point for point in wire.points if point.text.lower() != lead.lower())
    draft, places = Draft(circuit.bench.tree.lines), Places(circuit)
    strip = conductor_at(circuit, far)
    if isinstance(strip, Strip):
        free = places.free_strip(strip)
        own, its = (places.free_in(free), places.free_in(free)) if free is not None else (None, None)
        if own is None or its is None:
            return
        draft.replace(far.span, its).add_line(f"part {name} {USUAL_CAPACITOR} in {far.text} {own} plus {far.text}")
        say = f"put {name} ({USUAL_CAPACITOR}) from {far.text} to {own}, plus at {far.text}, and the wire of {lead} to {its}"
    elif isinstance(far, Pin):
        draft.replace(far.span, f"{name}.-").add_line(f"part {name} {USUAL_CAPACITOR}").add_line(f"wire {far.text} to {name}.+")
        say = f"put {name} ({USUAL_CAPACITOR}) between {far.text} and {lead}, plus at {far.text}"
    else:
        return
    yield Candidate(say=say, edits=draft.edits(), effort=1.15, parts=(lead.split(".")[0],), points=(far.text,),
                    line=wire.span.line)
