"""Candidates that exchange two ends at the legs of a part, or two of its pins in all wires that name them.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.ends import End, ends_of, put, strip_of
from checker.fixes.places import Places
from checker.fixes.turning import exchange
from checker.rules.base import Found
from checker.seating.boards import COLUMNS, Strip, name_of
from checker.seating.options import is_symmetric
from grammar.syntax_tree import Hole, Pin, Supply
from parts_library import pin_named
from parts_library.schema import AnyEntry, Capacitor, Chip, Controller, LedGroup, Potentiometer, Relay, SupplyKind

MOST_PINS = 8
"""Parts with more pins than this have too many neighbours to guess at; their supply pins are looked at all the same."""

FEW_PINS = 5
"""Parts off the board with so few pins have every two of them exchanged: ten pairs."""

PINS, CONTACTS = 1.25, 2.7
"""Effort of exchanging two pins; of a relay's or of LEDs in one package more than of taking a wire away or another kind: their
leads are seldom mixed up."""

MOST_ENDS = 5
"""So many ends at two legs are exchanged together; more are not put wrong by one slip."""

MIXED_UP = (("SDA", "SCL"), ("TRIG", "ECHO"), ("TX", "RX"), ("TXD", "RXD"), ("RO", "DI"), ("NO", "NC"), ("SIG", "GND"),
            ("DIN", "DOUT"), ("MOSI", "MISO"), ("LV", "HV"), ("DATA", "CLK"), ("A", "B"))
"""Pins whose leads are mixed up by their names or their places (common practice, no source)."""


def ends_exchanged(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Two ends at two legs of a part with three or more, exchanged: two wires, or a wire and the leg of another part."""
    names = {name.lower() for one in found for name in one.parts}
    ends = [end for end in ends_of(circuit) if not isinstance(end.statement, Supply) and isinstance(end.point, Hole)]
    for key in names & set(circuit.reading.seats):
        part = circuit.bench.parts[key]
        if not 3 <= len(part.pins) <= MOST_PINS:
            continue
        strips = {circuit.conductor_of[key, pin] for pin in part.pins}
        own = [end for end in ends if end.part != part.name and strip_of(circuit, end) in strips]
        for one, other in combinations(own, 2):
            if strip_of(circuit, one) == strip_of(circuit, other) or (one.part and other.part):
                continue
            made = _of_ends(circuit, part, one, other, _effort(part, one, other))
            if _is_fed_by(circuit, part, one, other) and not (one.part or other.part):
                # plus and minus of a chip: its supply is what is backwards
                made = structs.replace(made, effort=1.1, cause="chip-reversed", line=part.span.line,
                                       facts={"exchanged": "plus and minus"})
            yield made


def _effort(part: BenchPart, one: End, other: End) -> float:
    """The leads of a potentiometer, whose middle leg is the one that moves, are mixed up before anything else is wrong."""
    legs = bool(one.part or other.part)
    if isinstance(part.entry, Potentiometer):
        return 1.3 if legs else 1.15
    return 1.75 if legs else 1.65


def _is_fed_by(circuit: Circuit, part: BenchPart, one: End, other: End) -> bool:
    """True for the ends at the supply and the ground of a chip."""
    entry = part.entry
    if not isinstance(entry, Chip):
        return False
    fed = {circuit.conductor_of.get((part.name.lower(), pin)) for pin in (entry.supply, entry.ground) if pin}
    return {strip_of(circuit, one), strip_of(circuit, other)} == fed


def _of_ends(circuit: Circuit, part: BenchPart, one: End, other: End, effort: float) -> Candidate:
    """Two ends exchanged: wires, or legs of other parts."""
    draft = Draft(circuit.bench.tree.lines)
    put(draft, one, name_of(other.point))
    put(draft, other, name_of(one.point))
    legs = [end.part for end in (one, other) if end.part]
    what = {0: "the two wires", 1: f"the wire and {legs[0]}'s leg" if legs else "", 2: f"the legs of {' and '.join(legs)}"}
    return Candidate(say=f"exchange {what[len(legs)]} at {name_of(one.point)} and {name_of(other.point)}", edits=draft.edits(),
                     effort=effort, parts=(part.name,), points=(name_of(one.point), name_of(other.point)),
                     line=one.statement.span.line)


# ── pins by name ──────────────────────────────────────────────────────────────────────────────────────────────────


def pins_exchanged(circuit: Circuit, key: str) -> Iterator[Candidate]:
    """Two pins of a found part exchanged: any two of a small part off the board, else those that are mixed up easily."""
    part = circuit.bench.parts[key]
    entry = part.entry
    if entry is None or is_symmetric(entry) or isinstance(entry, Controller | SupplyKind):
        return
    pairs = list(combinations(part.pins, 2)) if not part.placed and len(part.pins) <= FEW_PINS else []
    pairs += [pair for pair in MIXED_UP if set(pair) <= set(part.pins)]
    if not part.placed and isinstance(entry, Chip) and len(part.pins) <= MOST_PINS:
        fixed = set(entry.supply_pins)
        pairs += [pair for pair in pairwise(part.pins) if not set(pair) & fixed]
        pairs += [(one, other) for one, other in combinations(part.pins, 2) if one[:-1] == other[:-1] and len(
            {(key, one), (key, other)} & circuit.touched) == 1]
    for one, other in dict.fromkeys(pairs):
        if {(key, one), (key, other)} & circuit.touched and not _are_alike(entry, one, other):
            effort = CONTACTS if isinstance(entry, Relay | LedGroup) else PINS
            yield from two_pins(circuit, key, one, other, "", effort + 0.01 * _apart(part.pins, one, other))


def _apart(pins: Sequence[str], one: str, other: str) -> int:
    """How many pins lie between two: neighbours are mixed up most."""
    return abs(pins.index(one) - pins.index(other)) - 1


def _are_alike(entry: AnyEntry, one: str, other: str) -> bool:
    """True for the two ends of a coil, and for a pin that is joined to nothing inside."""
    return (isinstance(entry, Relay) and {one, other} == {"A1", "A2"}) or any((pin.startswith("NC") and len(pin) > 2) or (
        pin == "NC" and not isinstance(entry, Relay)) for pin in (one, other))


def two_pins(circuit: Circuit, key: str, one: str, other: str, cause: str, effort: float) -> Iterator[Candidate]:
    """Two pins of a part exchanged wherever wires name them; on the board the one end in the strip of each."""
    part = circuit.bench.parts[key]
    draft = Draft(circuit.bench.tree.lines)
    exchange(circuit, draft, key, one, other)
    where = f"{part.name}.{one}", f"{part.name}.{other}"
    named = [pin for pin in (one, other) if _is_named(circuit, key, pin)]
    say = f"exchange the wires at {where[0]} and {where[1]}"
    if len(named) == 1:
        old, new = (where if named[0] == one else where[::-1])
        say = f"move the wire from {old} to {new}"
    elif not named:
        ends = [_ends_beside(circuit, key, pin) for pin in (one, other)]
        if len(ends[0]) == 1 == len(ends[1]):
            yield _of_strips(circuit, part, ends[0][0], ends[1][0], cause, effort, f"{one} and {other}")
        elif ends[0] and ends[1] and len(ends[0]) + len(ends[1]) <= MOST_ENDS:
            made = _of_all_ends(circuit, part, ends[0], ends[1], effort)
            if made is not None:
                yield structs.replace(made, cause=cause, facts={"exchanged": f"{one} and {other}"})
        return
    yield Candidate(say=say, edits=draft.edits(), effort=effort, cause=cause, parts=(part.name,), points=where,
                    line=part.span.line, facts={"exchanged": f"{one} and {other}"})


def _of_strips(circuit: Circuit, part: BenchPart, one: End, other: End, cause: str, effort: float, pins: str) -> Candidate:
    made = _of_ends(circuit, part, one, other, effort)
    return Candidate(say=made.say, edits=made.edits, effort=effort, cause=cause, parts=made.parts, points=made.points,
                     line=part.span.line, facts={"exchanged": pins})


def _is_named(circuit: Circuit, key: str, pin: str) -> bool:
    """True where a wire names the pin of the part."""
    entry = circuit.bench.parts[key].entry
    return entry is not None and any(isinstance(point, Pin) and point.part.lower() == key and pin_named(entry, point.pin) == pin
                                     for wire in circuit.bench.wires for point in wire.points)


def _ends_beside(circuit: Circuit, key: str, pin: str) -> list[End]:
    """The ends of wires and the legs of other parts in the strip of a pin, capacitors aside."""
    strip = circuit.conductor_of.get((key, pin))
    name = circuit.bench.parts[key].name
    return [end for end in ends_of(circuit) if end.part != name and isinstance(strip, Strip) and strip_of(circuit, end) == strip
            and not (end.part and isinstance(circuit.part(end.part.lower()).entry, Capacitor))]


def _of_all_ends(circuit: Circuit, part: BenchPart, one: Sequence[End], other: Sequence[End], effort: float) -> Candidate | None:
    """All that is at one leg exchanged with all that is at another: each into a hole that gets free, or that is; None where there
    are too few."""
    draft, taken = Draft(circuit.bench.tree.lines), set(Places(circuit).taken)
    said = [" and ".join(name_of(end.point) for end in ends) for ends in (one, other)]
    for ends, others in ((one, other), (other, one)):
        holes = [name_of(end.point) for end in others]
        while len(holes) < len(ends):
            free = _free_beside(circuit, others[0], taken)
            if free is None:
                return None
            taken.add(free.lower())
            holes.append(free)
        for end, hole in zip(ends, holes):
            put(draft, end, hole)
    return Candidate(say=f"exchange what is at {said[0]} with what is at {said[1]}", edits=draft.edits(), effort=effort,
                     parts=(part.name,), points=tuple(name_of(end.point) for end in (*one, *other)), line=part.span.line)


def _free_beside(circuit: Circuit, end: End, taken: set[str]) -> str | None:
    """A hole of the strip of an end that nothing is in."""
    strip = strip_of(circuit, end)
    prefix = f"{end.point.board}:" if end.point.board else ""
    columns = COLUMNS[:5] if strip is not None and strip.half == "a" else COLUMNS[5:]
    names = [f"{prefix}{column}{strip.row}" for column in columns] if strip is not None else []
    return next((name for name in names if name.lower() not in taken), None)
