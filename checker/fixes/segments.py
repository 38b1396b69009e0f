"""Candidates for groups of LEDs: a resistor of its own in the lead of every segment at once.

One resistor in the common lead would make the brightness depend on how many segments are lit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, free_names
from checker.seating.boards import Strip
from grammar.syntax_tree import Pin, Point, Wire


def one_for_each(circuit: Circuit, part: BenchPart, pins: Sequence[str], value: str) -> Iterator[Candidate]:
    """A resistor of ``value`` in the one wire that leads to each of the ``pins``, all of them in one candidate."""
    key = part.name.lower()
    leads = [_lead(circuit, key, pin) for pin in pins]
    known = [lead for lead in leads if lead is not None]
    if len(known) < 2 or len(known) < len(pins):
        return
    draft, places = Draft(circuit.bench.tree.lines), Places(circuit)
    names = list(islice(free_names(circuit, "R"), len(known)))
    for name, (_, point) in zip(names, known, strict=True):
        conductor = conductor_at(circuit, point)
        if isinstance(conductor, Strip):
            strip = places.free_strip(conductor)
            holes = (places.free_in(strip), places.free_in(strip)) if strip is not None else (None, None)
            if holes[0] is None or holes[1] is None:
                return
            draft.replace(point.span, holes[1]).add_line(f"part {name} {value} in {point.text} {holes[0]}")
        elif isinstance(point, Pin) and not circuit.reading.plans:
            draft.replace(point.span, f"{name}.1").add_line(f"part {name} {value}").add_line(f"wire {name}.2 to {point.text}")
        else:
            return
    spots = ", ".join(point.text for _, point in known)
    yield Candidate(say=f"put a resistor of its own ({names[0]} to {names[-1]}, {value} each) into the wires at {spots}",
                    edits=draft.edits(), effort=2.9, parts=(part.name,), points=tuple(point.text for _, point in known),
                    line=part.span.line)


def _lead(circuit: Circuit, key: str, pin: str) -> tuple[Wire, Point] | None:
    """The one wire end on the net of a pin that is at the part itself: its pin by name, or in its strip."""
    wanted = circuit.conductor_of.get((key, pin))
    ends = [(wire, point) for wire in circuit.bench.wires for point in wire.points
            if len(wire.points) == 2 and conductor_at(circuit, point) == wanted]
    return ends[0] if len(ends) == 1 else None
