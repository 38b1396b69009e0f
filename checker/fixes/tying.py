"""Wires that hold the inputs of a chip which nothing is joined to.

Input: a finding of ``input-floating`` that names them and where each rests; output one candidate that ties them all."""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.rules.base import Found


def tied(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """One wire for each open input, to the chip's own supply or ground; nothing where one of them has no level of its own."""
    part = circuit.bench.part(found.parts[0])
    if part is None:
        return
    pins = [point.split(".", 1)[1] for point in found.points]
    rails = (("plus", getattr(part.entry, "supply", None)), ("minus", getattr(part.entry, "ground", None)))
    sides = {pin: rail for side, rail in rails for pin in found.facts.get(side, "").split() if rail}
    if any(pin not in sides for pin in pins):
        return
    draft, said, places = Draft(circuit.bench.tree.lines), [], Places(circuit)
    key = part.name.lower()
    for pin in pins:
        one = places.spot_in_net(circuit.pin_net[key, pin])
        other = spot_on_rail(circuit, places, circuit.pin_net[key, sides[pin]])
        if one is None or other is None:
            return
        draft.add_line(f"wire {one} to {other}")
        said.append(f"from {one} to {other}")
    yield Candidate(say=f"add a wire {' and one '.join(said)}", edits=draft.edits(), effort=2.0, parts=(part.name,),
                    line=part.span.line)


def spot_on_rail(circuit: Circuit, places: Places, net: int) -> str | None:
    """A free hole of a net; off the board the lead of the source that is on it."""
    spot = places.spot_in_net(net)
    if spot is None or "." not in spot:
        return spot
    sources = [f"{circuit.bench.parts[key].name}.{pin}" for key, pin in circuit.pins_on[net]
               if circuit.bench.parts[key].is_supply or circuit.bench.parts[key].is_controller]
    return (sources or [spot])[0]
