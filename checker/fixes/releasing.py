"""Candidates that let a chip go which one of its own inputs stops: that input moved to the chip's other rail, or joined to its
other half.

Input: the circuit and its findings; output: one candidate for each ``chip-stopped`` whose inputs lie on a wire of their own or
on nothing, and for each input of a timer that a capacitor holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.fixes.turning import exchange
from checker.fixes.tying import spot_on_rail
from checker.rules.base import Found
from checker.seating.boards import RailPiece
from grammar.syntax_tree import Pin, Point, Span, Wire
from parts_library.schema import Chip


def releasings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """One candidate a stopped chip: each of its guilty inputs goes to the rail at which the chip works."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.rule == "chip-stopped" else None
        if part is None or not isinstance(part.entry, Chip):
            continue
        key, draft, places, said = part.name.lower(), Draft(circuit.bench.tree.lines), Places(circuit), []
        rails = (("low", part.entry.supply), ("high", part.entry.ground))
        for pin, rail in ((name.split(".", 1)[1], rail) for side, rail in rails for name in one.facts[side].split()):
            to = _on_rail(circuit, places, circuit.pin_net[key, rail]) if rail else None
            words = _moved(circuit, draft, places, (key, pin), to) if to else None
            if words is None:
                break
            said.append(words)
        else:
            yield Candidate(say=" and ".join(said), edits=draft.edits(), effort=1.2, parts=(part.name,), points=one.points,
                            line=part.span.line)


def joined_halves(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A wire from an input of a timer that only a capacitor holds to the one that an oscillator joins to it."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.facts.get("other") else None
        if part is None or one.rule != "input-floating":
            continue
        places, key = Places(circuit), part.name.lower()
        ends = [places.spot_in_net(circuit.pin_net[key, pin]) for pin in (one.points[0].split(".", 1)[1], one.facts["other"])]
        if ends[0] is not None and ends[1] is not None:
            draft = Draft(circuit.bench.tree.lines).add_line(f"wire {ends[0]} to {ends[1]}")
            yield Candidate(say=f"add a wire from {ends[0]} to {ends[1]}", edits=draft.edits(), effort=1.2, parts=(part.name,),
                            points=one.points, line=part.span.line)


def exchanged_sides(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The leads at the low and the high side of a level shifter exchanged."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if (one.rule, one.case) == ("level-mismatch", "sides") else None
        if part is not None:
            draft = Draft(circuit.bench.tree.lines)
            exchange(circuit, draft, part.name.lower(), "LV", "HV")
            if draft.edits():
                yield Candidate(say=f"exchange the wires at {one.points[0]} and {one.points[1]}", edits=draft.edits(), effort=1.0,
                                parts=(part.name,), points=one.points, line=part.span.line)


def _on_rail(circuit: Circuit, places: Places, net: int) -> str | None:
    """A rail of the net, else a hole or a lead of it."""
    rails = [conductor for conductor in circuit.members[net] if isinstance(conductor, RailPiece)]
    return places.rail_spot(rails[0]) if rails else spot_on_rail(circuit, places, net)


def _moved(circuit: Circuit, draft: Draft, places: Places, pin: tuple[str, str], to: str) -> str | None:
    """Joins a pin to another place, in the words of the hand; None where more than one wire is at it."""
    ends = _ends_at(circuit, *pin)
    if not ends:
        spot = places.spot_in_net(circuit.pin_net[pin]) if circuit.is_alone(circuit.pin_net[pin]) else None
        if spot is None:
            return None
        draft.add_line(f"wire {spot} to {to}")
        return f"add a wire from {spot} to {to}"
    wire, end = ends[0]
    if len(ends) > 1:
        return None
    if len(wire.points) == 2:
        far = wire.points[0] if wire.points[1] is end else wire.points[1]
        draft.replace(far.span, to)
        return f"move the wire from {end.text} away from {far.text}, to {to}"
    draft.replace(_with_to(wire, end), "").add_line(f"wire {end.text} to {to}")
    return f"take the wire off {end.text}, and wire {end.text} to {to}"


def _ends_at(circuit: Circuit, key: str, pin: str) -> list[tuple[Wire, Point]]:
    """The ends of wires at a pin: its name, or holes of its strip."""
    own, name = circuit.conductor_of.get((key, pin)), circuit.bench.parts[key].name
    return [(wire, point) for wire in circuit.bench.wires for point in wire.points
            if (conductor_at(circuit, point) == own if own is not None else False)
            and (not isinstance(point, Pin) or point.part.lower() == name.lower())]


def _with_to(wire: Wire, end: Point) -> Span:
    """The span of a point of a wire with the "to" that joins it to its neighbour."""
    index = next(number for number, point in enumerate(wire.points) if point is end)
    if index:
        before = wire.points[index - 1].span
        return Span(before.end_line, before.end_column, end.span.end_line, end.span.end_column)
    after = wire.points[1].span
    return Span(end.span.line, end.span.column, after.line, after.column)
