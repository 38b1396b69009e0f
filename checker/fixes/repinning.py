"""Candidates that take a wire from one pin to another: of a controller's supply, off a pin that gets too much.

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
from checker.rules.base import Found
from grammar.syntax_tree import Pin, Wire
from parts_library.schema import Bipolar, Controller, Mosfet, Resistor, SupplyKind


def other_pins(circuit: Circuit) -> Iterator[Candidate]:
    """From one supply pin of a controller to another: 3V3 to 5V and back."""
    for wire in circuit.bench.wires:
        for point in wire.points:
            part = circuit.bench.part(point.part) if isinstance(point, Pin) else None
            if isinstance(point, Pin) and part is not None and part.is_controller and point.pin.upper() in ("5V", "3V3"):
                other = "3V3" if point.pin.upper() == "5V" else "5V"
                yield _repinned(circuit, wire, point, f"{part.name}.{other}", part.name)
                yield from _to_vin(circuit, wire, point, part)
            if isinstance(point, Pin) and part is not None and part.is_controller:
                others = {circuit.net_of.get(c) for p in wire.points if p is not point
                          if (c := conductor_at(circuit, p)) is not None}
                for spot in _instead_of_pin(circuit, point, others):
                    yield _repinned(circuit, wire, point, spot, part.name)


def _to_vin(circuit: Circuit, wire: Wire, point: Pin, part: BenchPart) -> Iterator[Candidate]:
    """From the 5V pin to VIN, which is made for what an adapter or a block gives."""
    entry = part.entry
    if point.pin.upper() != "5V" or not isinstance(entry, Controller) or (part.name.lower(), "VIN") in circuit.touched:
        return
    feeding = [float(its.voltage or 0.0) for key, pin in circuit.pins_on[circuit.pin_net[part.name.lower(), "5V"]]
               if pin == "+" and isinstance(its := circuit.part(key).entry, SupplyKind)]
    if any(float(entry.vin_min) <= volts <= float(entry.vin_max) for volts in feeding):
        yield _repinned(circuit, wire, point, f"{part.name}.VIN", part.name)


def past_resistors(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """For a pin that gets too much: the far end of its wire moved past a resistor, to the middle of the divider."""
    points = {point for one in found if one.rule in ("too-much-voltage", "level-mismatch") for point in one.points}
    for wire in circuit.bench.wires:
        if len(wire.points) != 2 or not any(point.text in points for point in wire.points):
            continue
        for point in wire.points:
            conductor = conductor_at(circuit, point)
            if point.text in points or conductor is None or conductor not in circuit.net_of:
                continue
            for key, pin in circuit.pins_on[circuit.net_of[conductor]]:
                middle = circuit.pin_net[key, "2" if pin == "1" else "1"] if isinstance(
                    circuit.part(key).entry, Resistor) else None
                if middle is not None and _is_divided(circuit, middle, key):
                    to = Places(circuit).spot_in_net(middle)
                    if to is not None:
                        draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
                        yield Candidate(say=f"move the wire's end at {point.text} to {to}", edits=draft.edits(), effort=1.5,
                                        points=(point.text, to), parts=(circuit.part(key).name,), line=wire.span.line)


def _is_divided(circuit: Circuit, net: int, key: str) -> bool:
    """True for the middle of a divider: another resistor leads on from it."""
    return any(other != key and isinstance(circuit.part(other).entry, Resistor) for other, _ in circuit.pins_on[net])


def _repinned(circuit: Circuit, wire: Wire, point: Pin, to: str, part: str) -> Candidate:
    draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
    return Candidate(say=f"move the wire from {point.text} to {to}", edits=draft.edits(), effort=1.4, parts=(part,),
                     points=(point.text, to), line=wire.span.line)


def _instead_of_pin(circuit: Circuit, point: Pin, others: set[int | None]) -> Iterator[str]:
    """Where a wire on a controller's pin may belong instead: on a supply's plus if the pin feeds, on a switch's output if it
    is a signal; not where its other end is already."""
    feeds = point.pin.upper() in ("5V", "3V3", "VIN")
    for key, part in circuit.bench.parts.items():
        if feeds and part.is_supply:
            wanted = ["+"]
        elif not feeds and isinstance(part.entry, Bipolar | Mosfet):
            wanted = [pin for pin in ("C", "D") if pin in part.pins]
        else:
            continue
        for pin in wanted:
            net = circuit.pin_net[key, pin]
            spot = Places(circuit).spot_in_net(net) if net not in others else None
            if spot is not None:
                yield spot
