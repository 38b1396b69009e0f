"""Candidates that take a wire away, or one point out of a wire with several.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.rules.base import Found
from grammar.syntax_tree import Pin, Point, Rail, Span, Wire
from parts_library.schema import Relay, Switch

UNDOING_RULES = ("rails-shorted", "supply-shorted", "supplies-fighting", "outputs-fighting", "isolation-bridged",
                 "part-bridged", "button-always-closed", "pin-overload")
"""What any wire too many can do."""

AT_THE_PART = ("too-much-voltage", "too-much-current", "supply-overload")
"""What a wire too many at the found part itself can do: a pin that gets a second supply, a contact that shorts one."""

SECOND_SOONER = -1.4
"""The second pin of a controller on one line is the likeliest wire too many."""

GROUND_LATER = 0.7
"""A wire between grounds is hardly ever one too many: what is seen once it is gone is seen by chance."""


def undoings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The wires that could be one too many."""
    rules = {one.rule for one in found}
    at_parts = {point.lower() for one in found if one.rule in AT_THE_PART for point in (*one.points, *_contacts(circuit, one))}
    names = {name.lower() for one in found if one.rule == "outputs-fighting" for name in one.parts}
    for wire in circuit.bench.wires:
        anywhere = bool(rules & set(UNDOING_RULES))
        if (anywhere or _supplies(circuit, wire, at_parts)) and (_is_second(circuit, wire) or not _silences(circuit, wire)):
            yield _without(circuit, wire)
        if names and len(wire.points) > 2:
            yield from _shortened(circuit, wire, names)


def _contacts(circuit: Circuit, found: Found) -> Iterator[str]:
    """The contacts of a relay or switch that carries too much: what is wired to one of them may short a supply."""
    for name in found.parts:
        part = circuit.bench.part(name)
        if part is not None and isinstance(part.entry, Relay | Switch):
            yield from (f"{part.name}.{pin}" for contact in part.entry.contacts for pin in contact.pins)


def _without(circuit: Circuit, wire: Wire) -> Candidate:
    """The whole wire taken away."""
    later = GROUND_LATER if all(_is_ground(circuit, point) for point in wire.points) else 0.0
    if _is_second(circuit, wire):
        later = SECOND_SOONER
    colour = f"{wire.colour} " if wire.colour else ""
    return Candidate(say=f"take away the {colour}wire from {' to '.join(p.text for p in wire.points)}",
                     edits=Draft(circuit.bench.tree.lines).remove_line(wire.span.line).edits(), effort=2.6 + later,
                     line=wire.span.line, points=tuple(p.text for p in wire.points))


def _is_ground(circuit: Circuit, point: Point) -> bool:
    """True for a minus rail, and for the ground of a source or a controller."""
    if isinstance(point, Rail):
        return point.sign == "-"
    part = circuit.bench.part(point.part) if isinstance(point, Pin) else None
    return isinstance(point, Pin) and part is not None and (part.is_supply or part.is_controller) and point.pin.upper() in "-GND"


def _is_second(circuit: Circuit, wire: Wire) -> bool:
    """True for a wire from a pin that drives to a net where the program has another pin of the same controller."""
    for point in wire.points if len(wire.points) == 2 else ():
        if isinstance(point, Pin) and "output" in circuit.bench.role_of(point.part, point.pin.upper()):
            key = point.part.lower()
            others = [pin for other, pin in circuit.pins_on[circuit.pin_net[key, point.pin.upper()]]
                      if other == key and pin != point.pin.upper()]
            if any(circuit.bench.role_of(key, pin) for pin in others):
                return True
    return False


def _supplies(circuit: Circuit, wire: Wire, points: set[str]) -> bool:
    """True for a wire that ends at one of the points, by name."""
    return any(isinstance(point, Pin) and point.text.lower() in points for point in wire.points)


def _silences(circuit: Circuit, wire: Wire) -> bool:
    """True where a pin with a role would be left on nothing: the program speaks to nobody then, which cures no circuit."""
    return any(isinstance(point, Pin) and circuit.bench.role_of(point.part, point.pin.upper())
               and sum(_same(point, other) for one in circuit.bench.wires for other in one.points) == 1 for point in wire.points)


def _same(one: Point, other: Point) -> bool:
    return isinstance(other, Pin) and one.text.lower() == other.text.lower()


def _shortened(circuit: Circuit, wire: Wire, names: set[str]) -> Iterator[Candidate]:
    """One pin of a found part taken out of a wire with three points or more."""
    for point in wire.points:
        if isinstance(point, Pin) and point.part.lower() in names and wire.span.line == wire.span.end_line:
            kept = [other.text for other in wire.points if other is not point]
            first, last = wire.points[0].span, wire.points[-1].span
            draft = Draft(circuit.bench.tree.lines).replace(
                Span(first.line, first.column, last.end_line, last.end_column), " to ".join(kept))
            yield Candidate(say=f"take {point.text} out of the wire from {wire.points[0].text}", edits=draft.edits(), effort=2.5,
                            line=wire.span.line, points=(point.text,), parts=(point.part,))
