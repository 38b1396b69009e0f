"""Candidates that bring a signal down which is more than a pin's own supply: two resistors as a divider before it, or its
pull-up on that supply.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.seating.boards import Strip
from grammar.syntax_tree import Pin, Rail, Wire
from parts_library.schema import Controller, Resistor

DIVIDERS = (("1k", "2k"), ("10k", "10k"), ("10k", "4k7"), ("10k", "3k3"), ("22k", "4k7"), ("22k", "3k3"))
"""Upper and lower resistor: 5 V to 3.3 V; beside a pull-down 12 V to 4 V; 12 V to 3.8 V or 3 V; 24 V to 4.2 V or 3.1 V; a
few milliamps at most."""


DRIVING = {"output", "pwm"}
"""A pin that drives is not brought down by a divider: it has nothing to read."""


def dividers(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A divider in each wire that leads to a pin of a controller that is driven past its supply."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.parts else None
        if one.rule != "too-much-voltage" or one.case != "pin" or part is None or not isinstance(part.entry, Controller):
            continue
        yield from _pulled_to_own(circuit, one, part)
        for wire in circuit.bench.wires:
            for point in wire.points:
                if isinstance(point, Pin) and len(wire.points) == 2 and point.text.lower() == one.points[0].lower() \
                        and not set(circuit.bench.role_of(point.part, point.pin.upper())) & DRIVING:
                    for number, (upper, lower) in enumerate(DIVIDERS):
                        yield from _divider(circuit, wire, point, part.name, (upper, lower), 1.9 + 0.02 * number)


OWN_SUPPLY = {5.0: "5V", 3.3: "3V3"}
"""Which pin of a board gives the supply of its logic."""


def _pulled_to_own(circuit: Circuit, one: Found, part: BenchPart) -> Iterator[Candidate]:
    """The pull-up of an output that only pulls down, from a higher supply to the board's own."""
    key, pin = part.name.lower(), one.points[0].rpartition(".")[2]
    own = OWN_SUPPLY.get(round(float(part.entry.logic), 1)) if isinstance(part.entry, Controller) else None
    net = circuit.pin_net.get((key, pin))
    if own is None or net is None:
        return
    far = {circuit.pin_net[other, "2" if its == "1" else "1"] for other, its in circuit.pins_on[net]
           if isinstance(circuit.part(other).entry, Resistor)} & stiff_nets(circuit)
    for wire in circuit.bench.wires:
        at = [(point, conductor_at(circuit, point)) for point in wire.points]
        sources = [point for point, spot in at if spot is not None and circuit.net_of.get(spot, -1) in far
                   and (isinstance(point, Rail) or (isinstance(point, Pin) and point.pin == "+"))]
        if len(wire.points) == 2 and len(sources) == 1:
            draft = Draft(circuit.bench.tree.lines).replace(sources[0].span, f"{part.name}.{own}")
            yield Candidate(say=f"move the wire's end at {sources[0].text} to {part.name}.{own}", edits=draft.edits(), effort=1.5,
                            parts=(part.name,), points=one.points, line=wire.span.line)


def _divider(circuit: Circuit, wire: Wire, point: Pin, board: str, values: tuple[str, str],
             effort: float) -> Iterator[Candidate]:
    far = next(other for other in wire.points if other is not point)
    numbers = [n for n in range(1, 1000) if f"r{n}" not in circuit.bench.parts][:2]
    upper, lower = (f"R{number}" for number in numbers)
    draft, places = Draft(circuit.bench.tree.lines), Places(circuit)
    strip = conductor_at(circuit, far)
    ground = f"{board}.GND"
    if isinstance(strip, Strip):
        middle, end = places.free_strip(strip), places.free_strip(strip)
        own = [places.free_in(middle) for _ in range(3)] if middle is not None else [None]
        down = [places.free_in(end) for _ in range(2)] if end is not None else [None]
        if None in own or None in down:
            return
        draft.replace(far.span, str(own[1])).add_line(f"part {upper} {values[0]} in {far.text} {own[0]}")
        draft.add_line(f"part {lower} {values[1]} in {own[2]} {down[0]}").add_line(f"wire {down[1]} to {ground}")
        say = (f"put {upper} ({values[0]}) from {far.text} to {own[0]} and {lower} ({values[1]}) from {own[2]} to {down[0]}, "
               f"a wire from {down[1]} to {ground}, and the wire to {point.text} at {own[1]}")
    elif isinstance(far, Pin) and not circuit.reading.plans:
        draft.replace(far.span, f"{upper}.2").add_line(f"part {upper} {values[0]}").add_line(f"part {lower} {values[1]}")
        draft.add_line(f"wire {far.text} to {upper}.1").add_line(f"wire {upper}.2 to {lower}.1")
        draft.add_line(f"wire {lower}.2 to {ground}")
        say = (f"put {upper} ({values[0]}) between {far.text} and {point.text}, "
               f"and {lower} ({values[1]}) from {point.text} to {ground}")
    else:
        return
    yield Candidate(say=say, edits=draft.edits(), effort=effort, parts=(board,), points=(point.text,), line=wire.span.line)
