"""Candidates for a part whose legs share a strip: one leg goes to a free strip, and with it what belongs to that leg.

Input: the circuit and a finding part-bridged; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.ends import End, ends_of, put
from checker.fixes.places import Places, holes_of
from checker.rules.base import Found
from checker.seating.boards import Strip, name_of
from grammar.syntax_tree import Hole, MarkAt, Part, Pin
from parts_library.schema import Chip

MOST_LEGS = 2
"""With two other ends in the strip it is plain that each of them belongs to one leg; with more, only wires are tried."""


def unbridged(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """One leg of the part and one other end of its strip, moved to a free strip together."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    statement = part.statement if part is not None else None
    if part is None or not isinstance(statement, Part):
        return
    if not part.placed:
        yield from _lead_elsewhere(circuit, part)
    yield from _leg_to_open_pins(circuit, part.name, statement)
    for leg in holes_of(statement):
        strip = conductor_at(circuit, leg)
        others = [end for end in ends_of(circuit) if end.statement is not statement and isinstance(end.point, Hole)
                  and conductor_at(circuit, end.point) == strip]
        for end in others:
            if not end.part or len(others) <= MOST_LEGS:
                yield from _together(circuit, part.name, statement, leg, end)


MOST_PLACES = 6
"""Nets that a lead is tried at: those that the parts in its strip lead to."""


def _lead_elsewhere(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """For a part off the board with both leads in one strip: one of them at the other end of what stands in that strip."""
    key = part.name.lower()
    for net in {circuit.pin_net[key, pin] for pin in part.pins}:
        beside = {other for other, _ in circuit.pins_on[net]} - {key}
        nets = dict.fromkeys(circuit.pin_net[other, pin] for other in sorted(beside) if not circuit.part(other).is_supply
                             for pin in circuit.part(other).pins)
        for wire in circuit.bench.wires:
            names_part = any(isinstance(point, Pin) and point.part.lower() == key for point in wire.points)
            for point in wire.points if names_part and len(wire.points) == 2 else ():
                conductor = conductor_at(circuit, point)
                if not isinstance(point, Hole) or conductor not in circuit.members[net]:
                    continue
                for to in _spots(circuit, [other for other in nets if other != net][:MOST_PLACES]):
                    draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
                    yield Candidate(say=f"move the wire's end at {name_of(point)} to {to}", edits=draft.edits(), effort=1.3,
                                    cause="part-bridged", parts=(part.name,), points=(name_of(point), to), line=wire.span.line)


def _spots(circuit: Circuit, nets: Sequence[int]) -> Iterator[str]:
    """A free place in each net that has more than one pin, on the board."""
    for net in nets:
        spot = Places(circuit).spot_in_net(net) if not circuit.is_alone(net) else None
        if spot is not None and "." not in spot:
            yield spot


def _leg_to_open_pins(circuit: Circuit, name: str, statement: Part) -> Iterator[Candidate]:
    """One leg at a pin of a chip that drives, or lights, and that nothing reaches yet: there it may belong."""
    for strip in _open_strips(circuit)[:MOST_PLACES]:
        for leg in holes_of(statement)[-1:]:
            to = Places(circuit).free_in(strip)
            if to is not None:
                draft = Draft(circuit.bench.tree.lines)
                put(draft, End(leg, statement, ""), to)
                yield Candidate(say=f"move {name}'s leg at {name_of(leg)} to {to}", edits=draft.edits(), effort=1.3,
                                cause="part-bridged", parts=(name,), points=(name_of(leg), to), line=statement.span.line)


def _open_strips(circuit: Circuit) -> list[Strip]:
    """The strips in which only a chip's output stands, or a leg of an optocoupler."""
    strips = []
    for (key, pin), strip in circuit.conductor_of.items():
        entry = circuit.part(key).entry
        if isinstance(entry, Chip) and isinstance(strip, Strip) and circuit.is_alone(circuit.pin_net[key, pin]) and (
                (entry.type == "opto" and pin in ("A", "K", "C", "E")) or any(pin in output.pins for output in entry.outputs)):
            strips.append(strip)
    return strips


def _together(circuit: Circuit, name: str, statement: Part, leg: Hole, end: End) -> Iterator[Candidate]:
    old = conductor_at(circuit, leg)
    places = Places(circuit)
    strip = places.free_strip(old) if isinstance(old, Strip) else None
    own, its = (places.free_in(strip), places.free_in(strip)) if strip is not None else (None, None)
    if own is None or its is None:
        return
    draft = Draft(circuit.bench.tree.lines)
    for point, to, part in ((leg, own, statement), (end.point, its, end.statement)):
        draft.replace(point.span, to)
        for mark in part.marks if isinstance(part, Part) else ():
            if isinstance(mark, MarkAt) and isinstance(mark.point, Hole) and name_of(mark.point) == name_of(point):
                draft.replace(mark.point.span, to)
    words = end.words.replace("the wire's end at", "the wire from").replace(" wire's end at", " wire from")
    yield Candidate(say=f"move {name}'s leg from {name_of(leg)} to {own}, and {words} to {its}", edits=draft.edits(),
                    effort=2.0 if not end.part else 2.1, cause="part-bridged", parts=(name,), points=(name_of(leg), own),
                    line=statement.span.line)
