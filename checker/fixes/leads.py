"""Candidates that change which pin of a part a lead goes to: plus and minus exchanged, a lead moved to the pin it misses.

They edit wires only: the part stays as it sits. Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.dividing import DRIVING
from checker.fixes.draft import Draft
from checker.fixes.exchanging import pins_exchanged, two_pins
from checker.fixes.joining import grounds_of, pluses_of
from checker.fixes.places import Places
from checker.fixes.turning import exchange
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.seating.boards import RailPiece, Strip
from grammar.syntax_tree import Pin, Point, Rail, Wire
from parts_library import pin_named
from parts_library.schema import Chip, Regulator, Relay, Resistor, Switch

UNSWITCHED = ("expectation-missed", "never-conducts", "never-switches")
"""What a lead at the wrong contact can do."""


def lead_changes(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be done at the pins of the found parts."""
    names = {name.lower() for one in found for name in one.parts}
    for key in sorted(names & set(circuit.bench.parts)):
        part = circuit.bench.parts[key]
        if isinstance(part.entry, Chip):
            yield from _plus_and_minus(circuit, key, part)
            yield from _in_and_out(circuit, key, part)
    for key in sorted((names | _couplers_beside(circuit, names)) & set(circuit.bench.parts)):
        yield from _transistor_side(circuit, key, circuit.bench.parts[key])
    for key in sorted((names | _driving(circuit, names)) & set(circuit.bench.parts)):
        yield from _two_supplies(circuit, key, circuit.bench.parts[key])
    for key in sorted((names | _behind(circuit, found) | _switching(circuit, found)) & set(circuit.bench.parts)):
        yield from pins_exchanged(circuit, key)
    for one in found:
        if one.rule == "supply-pin-open" or (one.rule == "input-floating" and one.case != "controller"):
            yield from _to_open_pin(circuit, one)
        if one.rule == "input-floating" and one.case != "controller":
            yield from _from_idle_pins(circuit, one)


# ── two leads exchanged ───────────────────────────────────────────────────────────────────────────────────────────


def _plus_and_minus(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The leads at the supply and the ground pin of a chip or module exchanged."""
    entry = part.entry
    assert isinstance(entry, Chip)
    if entry.supply and entry.ground:
        yield from two_pins(circuit, key, entry.supply, entry.ground, "chip-reversed", 1.1)


def _two_supplies(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The leads at two supply pins of a chip exchanged: that of its logic and that of its motor."""
    entry = part.entry
    if not isinstance(entry, Chip) or not entry.supply:
        return
    for other in entry.more_supplies:
        if circuit.pin_net[key, other] != circuit.pin_net[key, entry.supply]:
            yield from two_pins(circuit, key, entry.supply, other, "", 1.05)


def _driving(circuit: Circuit, names: set[str]) -> set[str]:
    """The chips at an output of which a found part hangs."""
    nets = {net for (key, _), net in circuit.pin_net.items() if key in names}
    return {key for (key, pin), net in circuit.pin_net.items() if net in nets and isinstance(
        entry := circuit.part(key).entry, Chip) and any(pin in output.pins for output in entry.outputs)}


def _couplers_beside(circuit: Circuit, names: set[str]) -> set[str]:
    """The optocouplers that share a net with a found part."""
    nets = {net for (key, pin), net in circuit.pin_net.items() if key in names} - stiff_nets(circuit)
    return {key for net in nets for key, _ in circuit.pins_on[net] if getattr(circuit.part(key).entry, "type", "") == "opto"}


def _transistor_side(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The leads at the collector and emitter of an optocoupler exchanged."""
    if getattr(part.entry, "type", "") == "opto" and {"C", "E"} <= set(part.pins):
        yield from two_pins(circuit, key, "C", "E", "chip-reversed", 1.2)


def _in_and_out(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Candidate]:
    """The input and the output side of a converter exchanged."""
    if not {"IN+", "IN-", "OUT+", "OUT-"} <= set(part.pins):
        return
    draft = Draft(circuit.bench.tree.lines)
    for sign in "+-":
        exchange(circuit, draft, key, f"IN{sign}", f"OUT{sign}")
    if draft.edits():
        yield Candidate(say=f"exchange input and output of {part.name}", edits=draft.edits(), effort=1.1, parts=(part.name,),
                        points=(f"{part.name}.IN+", f"{part.name}.OUT+"), line=part.span.line)


def _behind(circuit: Circuit, found: Sequence[Found]) -> set[str]:
    """The parts that a pin which drives nothing leads to, through at most one resistor."""
    points = {point.lower() for one in found if one.rule == "never-switches" for point in one.points}
    nets = {net for (key, pin), net in circuit.pin_net.items() if circuit.place_of[key, pin].lower() in points}
    nets |= {circuit.pin_net[key, end] for net in nets for key, _ in circuit.pins_on[net]
             if isinstance(circuit.part(key).entry, Resistor) for end in ("1", "2")}
    return {key for net in nets for key, _ in circuit.pins_on[net]}


def _switching(circuit: Circuit, found: Sequence[Found]) -> set[str]:
    """The relays and switches that share a net with a load which does not do what is expected."""
    names = {name.lower() for one in found if one.rule in UNSWITCHED for name in one.parts}
    nets = {net for (key, _), net in circuit.pin_net.items() if key in names}
    return {key for net in nets for key, _ in circuit.pins_on[net] if isinstance(circuit.part(key).entry, Relay | Switch)}


# ── a pin that the program drives and no wire leads from ──────────────────────────────────────────────────────────


def _from_idle_pins(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """A wire from each pin that the program drives, and that is in no wire, to the input that nothing reaches."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    pin = _open_pin(circuit, found, part)
    if part is None or pin is None:
        return
    strip = circuit.conductor_of.get((part.name.lower(), pin))
    to = Places(circuit).free_in(strip) if isinstance(strip, Strip) else f"{part.name}.{pin}"
    for board in circuit.bench.parts.values():
        for idle in board.pins if board.is_controller and to is not None else ():
            roles = set(circuit.bench.role_of(board.name, idle))
            if roles & DRIVING and (board.name.lower(), idle) not in circuit.touched:
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire {board.name}.{idle} to {to}")
                yield Candidate(say=f"add a wire from {board.name}.{idle} to {to}", edits=draft.edits(), effort=1.2,
                                parts=(part.name,), points=(f"{board.name}.{idle}", str(to)), line=part.span.line)


# ── a lead to the pin that it misses ──────────────────────────────────────────────────────────────────────────────


def _to_open_pin(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """Each lead at another pin of the part, moved to the pin that nothing reaches."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    open_pin = _open_pin(circuit, found, part)
    if part is None or part.entry is None or open_pin is None or not isinstance(part.entry, Chip | Regulator):
        return
    key = part.name.lower()
    strip = circuit.conductor_of.get((key, open_pin))
    allowed = _allowed_nets(circuit, part.entry, open_pin)
    for wire, point in _ends_at(circuit, key):
        if allowed is not None and not _leads_elsewhere(circuit, wire, point, allowed):
            continue
        if allowed is None and not _is_shared(circuit, point):
            continue
        if isinstance(point, Pin):
            to: str | None = f"{part.name}.{open_pin}"
        else:
            to = Places(circuit).free_in(strip) if isinstance(strip, Strip) else None
        if to is not None:
            draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
            yield Candidate(say=f"move the wire's end from {point.text} to {to}", edits=draft.edits(),
                            effort=LATER_BY_NAME if isinstance(point, Pin) else 1.3, parts=(part.name,),
                            points=(point.text, to), line=wire.span.line,
                            facts={"from": point.text, "to": to})


LATER_BY_NAME = 2.2
"""A lead written by the name of its pin is hardly ever meant for another pin: a new wire comes first."""


def _is_shared(circuit: Circuit, point: Point) -> bool:
    """True where another wire ends in the same strip, so that the pin there keeps its signal."""
    own = conductor_at(circuit, point)
    return sum(conductor_at(circuit, other) == own for wire in circuit.bench.wires for other in wire.points) > 1


def _allowed_nets(circuit: Circuit, entry: Chip | Regulator, pin: str) -> set[int] | None:
    """The nets that the other end of a lead has to be on: a ground for a ground pin, a plus for a supply pin; None for any."""
    supplies = ("IN",) if isinstance(entry, Regulator) else (entry.supply, *entry.more_supplies)
    grounds = ("GND",) if isinstance(entry, Regulator) else (entry.ground, *entry.more_grounds)
    if pin in grounds:
        return set(grounds_of(circuit))
    return set(pluses_of(circuit)) if pin in supplies else None


def _leads_elsewhere(circuit: Circuit, wire: Wire, end: Point, nets: set[int]) -> bool:
    """True where another point of the wire is on one of the nets."""
    others = [conductor_at(circuit, point) for point in wire.points if point is not end]
    return any(conductor is not None and circuit.net_of.get(conductor) in nets for conductor in others)


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
