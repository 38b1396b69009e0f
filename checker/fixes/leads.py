"""Candidates that change which pin of a part a lead goes to: plus and minus exchanged, a lead moved to the pin it misses.

They edit wires only: the part stays as it sits. Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.fixes.turning import exchange
from checker.rules.base import Found
from checker.seating.boards import RailPiece, Strip
from grammar.syntax_tree import Hole, Pin, Point, Rail, Wire
from parts_library import pin_named
from parts_library.schema import Chip, Regulator

MOST_PINS = 8
"""Parts with more pins than this have too many pairs to guess at; their supply pins are looked at all the same."""


def lead_changes(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be done at the pins of the found parts."""
    names = {name.lower() for one in found for name in one.parts}
    for key in sorted(names & set(circuit.bench.parts)):
        part = circuit.bench.parts[key]
        if isinstance(part.entry, Chip):
            yield from _plus_and_minus(circuit, key, part)
            yield from _transistor_side(circuit, key, part)
    for one in found:
        if one.rule == "supply-pin-open" and one.parts:
            yield from _to_open_pin(circuit, one)


# ── two leads exchanged ───────────────────────────────────────────────────────────────────────────────────────────


def _plus_and_minus(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The leads at the supply and the ground pin of a chip or module exchanged."""
    entry = part.entry
    assert isinstance(entry, Chip)
    if entry.supply and entry.ground:
        yield from _two_pins(circuit, key, part, entry.supply, entry.ground, "chip-reversed", 1.1)


def _transistor_side(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The leads at the collector and emitter of an optocoupler exchanged."""
    if getattr(part.entry, "type", "") == "opto" and {"C", "E"} <= set(part.pins):
        yield from _two_pins(circuit, key, part, "C", "E", "", 1.2)


def _two_pins(circuit: Circuit, key: str, part: BenchPart, one: str, other: str, cause: str,
              effort: float) -> Iterator[Candidate]:
    draft = Draft(circuit.bench.tree.lines)
    exchange(circuit, draft, key, one, other)
    where = f"{part.name}.{one}", f"{part.name}.{other}"
    say = f"exchange the wires at {where[0]} and {where[1]}"
    if not draft.edits():
        ends = [_only_end(circuit, key, pin) for pin in (one, other)]
        if ends[0] is None or ends[1] is None:
            return
        draft.replace(ends[0].span, ends[1].text).replace(ends[1].span, ends[0].text)
        where = ends[0].text, ends[1].text
        say = f"exchange the two wires at {where[0]} and {where[1]}"
    line = circuit.bench.parts[key].span.line
    yield Candidate(say=say, edits=draft.edits(), effort=effort, cause=cause, parts=(part.name,), points=where, line=line,
                    facts={"exchanged": f"{one} and {other}"})


def _only_end(circuit: Circuit, key: str, pin: str) -> Hole | None:
    """The one end of a wire in the strip of a pin, where there is just one."""
    strip = circuit.conductor_of.get((key, pin))
    if not isinstance(strip, Strip):
        return None
    ends = [point for wire in circuit.bench.wires for point in wire.points
            if isinstance(point, Hole) and conductor_at(circuit, point) == strip]
    return ends[0] if len(ends) == 1 else None


# ── a lead to the pin that it misses ──────────────────────────────────────────────────────────────────────────────


def _to_open_pin(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """Each lead at another pin of the part, moved to the pin that nothing reaches."""
    part = circuit.bench.part(found.parts[0])
    open_pin = _open_pin(circuit, found, part)
    if part is None or part.entry is None or open_pin is None or not isinstance(part.entry, Chip | Regulator):
        return
    key = part.name.lower()
    strip = circuit.conductor_of.get((key, open_pin))
    for wire, point in _ends_at(circuit, key):
        if isinstance(point, Pin):
            to: str | None = f"{part.name}.{open_pin}"
        else:
            to = Places(circuit).free_in(strip) if isinstance(strip, Strip) else None
        if to is not None:
            draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
            yield Candidate(say=f"move the wire's end from {point.text} to {to}", edits=draft.edits(), effort=1.3,
                            parts=(part.name,), points=(point.text, to), line=wire.span.line,
                            facts={"from": point.text, "to": to})


def _open_pin(circuit: Circuit, found: Found, part: BenchPart | None) -> str | None:
    """The pin of the part that a finding is about."""
    if part is None:
        return None
    key = part.name.lower()
    return next((pin for pin in part.pins if {circuit.place_of.get((key, pin), ""), f"{part.name}.{pin}"} & set(found.points)
                 or pin == found.facts.get("pin")), None)


def _ends_at(circuit: Circuit, key: str) -> Iterator[tuple[Wire, Point]]:
    """The wire ends at the pins of a part: by name, or in a strip that a leg of it is in."""
    part = circuit.bench.parts[key]
    strips = {circuit.conductor_of.get((key, pin)) for pin in part.pins}
    for wire in circuit.bench.wires:
        for point in wire.points:
            if isinstance(point, Pin):
                if point.part.lower() == key and part.entry is not None and pin_named(part.entry, point.pin):
                    yield wire, point
            elif not isinstance(point, Rail) and (conductor := conductor_at(circuit, point)) in strips \
                    and not isinstance(conductor, RailPiece):
                yield wire, point
