"""Candidates that turn something round: a part in its holes, a chip, a supply's two leads."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.seating.boards import RailPiece, name_of
from checker.seating.options import is_symmetric
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, Part, Pin, PlacedAcross, Rail, Supply
from parts_library import pin_named
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Diode,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Regulator,
    Switch,
    Thyristor,
    Zener,
)

CAUSES: dict[type, str] = {
    Diode: "diode-reversed", Zener: "diode-reversed", Led: "led-reversed", LedGroup: "led-reversed",
    Capacitor: "capacitor-reversed", Bipolar: "transistor-legs-swapped", Mosfet: "transistor-legs-swapped",
    Jfet: "transistor-legs-swapped", Thyristor: "transistor-legs-swapped",
    Regulator: "regulator-legs-swapped", Chip: "chip-reversed", Load: "",
}
OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
MARK_WORDS = {"band": "band", "stripe": "stripe", "long": "longer leg", "short": "shorter leg", "plus": "+",
              "minus": "-", "anode": "anode", "cathode": "cathode", "flat": "flat", "dot": "dot"}
MARKED_LEADS: tuple[tuple[type, str, str], ...] = (
    (Diode, "K", "band"), (Zener, "K", "band"), (Led, "A", "longer leg"), (Capacitor, "-", "stripe"))
"""The lead of a part with two that a mark is at, and what a hand looks for there."""


def turnings(circuit: Circuit, against_rails: bool = False) -> Iterator[Candidate]:
    """Every part and supply turned round, one at a time; a controller whose leads are where they belong, or on the rails that are
    named for them, only ``against_rails``: no cure would exchange these, but a hand may."""
    for key, part in circuit.bench.parts.items():
        if part.entry is None:
            continue
        if part.is_controller:
            yield from _controller(circuit, key, part, against_rails)
        elif isinstance(part.statement, Supply):
            yield from _supply(circuit, key, part, part.statement)
        elif not is_symmetric(part.entry):
            yield from _part(circuit, key, part, part.statement)


def _part(circuit: Circuit, key: str, part: BenchPart, statement: Part) -> Iterator[Candidate]:
    lines = circuit.bench.tree.lines
    cause = CAUSES.get(type(part.entry), "")
    draft, say = Draft(lines), ""
    if isinstance(part.entry, Switch):
        yield from _switch(circuit, part, statement)
        return
    if statement.place is None:
        yield from _unplaced(circuit, key, part, cause)
        return
    if isinstance(statement.place, PlacedAcross):
        say = _turn_dip(draft, part, statement, statement.place)
    elif len(part.pins) == 2:
        say = _turn_two_legs(draft, part, statement)
    elif len(part.pins) == 3:
        say = _turn_face(draft, part, statement)
    yield from _claimed_otherwise(circuit, key, part, statement, cause)
    if say:
        yield Candidate(say=say, edits=draft.edits(), effort=1.0, cause=cause, parts=(part.name,),
                        points=tuple(circuit.place_of[key, pin] for pin in part.pins[:3]), line=statement.span.line)


def _turn_two_legs(draft: Draft, part: BenchPart, statement: Part) -> str:
    spots = [p for p in getattr(statement.place, "points", ()) if isinstance(p, Hole | Rail)]
    if len(spots) != 2:
        return ""
    said = ""
    for mark in statement.marks:
        if isinstance(mark, MarkAt) and isinstance(mark.point, Hole | Rail):
            other = next((s for s in spots if name_of(s) != name_of(mark.point)), None)
            if other is None:
                return ""
            draft.replace(mark.point.span, name_of(other))
            said = said or f"turn {part.name} round: {MARK_WORDS[mark.mark]} to {name_of(other)}"
    if statement.claim is not None:
        _reverse_claim(draft, statement)
        said = said or f"turn {part.name} round"
    return said


def _reverse_claim(draft: Draft, statement: Part) -> None:
    assert statement.claim is not None
    words = statement.claim.pins
    for word, other in zip(words, reversed(words)):
        if word is not other:
            draft.replace(word.span, other.text)


def _turn_face(draft: Draft, part: BenchPart, statement: Part) -> str:
    said = ""
    for mark in statement.marks:
        if isinstance(mark, MarkFaces):
            new = opposite_face(mark, statement)
            draft.replace(mark.span, f"{mark.mark} {new}")
            said = f"turn {part.name} round: {mark.mark} {new.replace('faces', 'facing', 1)}"
    if statement.claim is not None:
        _reverse_claim(draft, statement)
        said = said or f"turn {part.name} round"
    return said


def opposite_face(mark: MarkFaces, statement: Part) -> str:
    """The words for a face that looks the other way."""
    if mark.column is not None:
        columns = [h.column for h in getattr(statement.place, "points", ()) if isinstance(h, Hole)]
        return "faces j" if columns and mark.column < min(columns) else "faces a"
    if mark.row is not None:
        rows = [h.row for h in getattr(statement.place, "points", ()) if isinstance(h, Hole)]
        mirrored = 2 * rows[0] - mark.row if rows else 1
        return f"faces row {max(mirrored, 1)}" if mirrored >= 1 else "faces top"
    return f"faces {OPPOSITE.get(mark.towards or '', 'top')}"


def _turn_dip(draft: Draft, part: BenchPart, statement: Part, place: PlacedAcross) -> str:
    for mark in statement.marks:
        if isinstance(mark, Notch):
            at_first = mark.towards == "top" or (mark.row is not None and mark.row <= place.first_row)
            row = place.last_row if at_first else place.first_row
            draft.replace(mark.span, f"notch row {row}")
            return f"turn {part.name} round: notch at row {row}"
        if isinstance(mark, MarkAt) and mark.mark == "dot":
            at_first = mark.point.text.lower() == f"{place.left_column}{place.first_row}"
            hole = f"{place.right_column}{place.last_row}" if at_first else f"{place.left_column}{place.first_row}"
            draft.replace(mark.point.span, hole)
            return f"turn {part.name} round: dot at {hole}"
    return ""


def _switch(circuit: Circuit, part: BenchPart, statement: Part) -> Iterator[Candidate]:
    """A button turned by a quarter."""
    place = statement.place
    if isinstance(place, PlacedAcross) and len(part.pins) == 4:
        text = circuit.bench.tree.lines[place.span.line - 1][place.span.column - 1:place.span.end_column - 1]
        draft = Draft(circuit.bench.tree.lines)
        if place.turned:
            words = text.lower().split()
            if "turned" not in words:
                return
            draft.replace(place.span, " ".join(w for w in text.split() if w.lower() != "turned"))
        else:
            draft.add_words(place.span, "turned")
        yield Candidate(say=f"turn {part.name} by a quarter", edits=draft.edits(), effort=1.0, parts=(part.name,),
                        line=statement.span.line)


def _controller(circuit: Circuit, key: str, part: BenchPart, against_rails: bool) -> Iterator[Candidate]:
    """The leads at a controller's 5V and GND exchanged."""
    if not against_rails and (_is_grounded(circuit, key) or _is_as_printed(circuit, key)):
        return
    draft = Draft(circuit.bench.tree.lines)
    exchange(circuit, draft, key, "5V", "GND")
    if (key, "5V") in circuit.touched and (edits := draft.edits()):
        say, cause = f"exchange the wires at {part.name}.5V and {part.name}.GND", "supply-reversed"
        if (key, "GND") not in circuit.touched:
            say = f"move the wire from {part.name}.5V to {part.name}.GND"
            cause = cause if _on_minus_rail(circuit, key) else ""
        yield Candidate(say=say, edits=edits,
                        effort=-1.0 if _on_minus_rail(circuit, key) else 1.2,
                        cause=cause, parts=(part.name,), points=(f"{part.name}.5V", f"{part.name}.GND"), line=part.span.line)


def _is_grounded(circuit: Circuit, key: str) -> bool:
    """True where a controller's GND is on a supply's minus and on no plus, and its 5V on no minus: then they are right."""
    ground = {pin for other, pin in circuit.pins_on[circuit.pin_net[key, "GND"]] if circuit.part(other).is_supply}
    fed = {pin for other, pin in circuit.pins_on[circuit.pin_net[key, "5V"]] if circuit.part(other).is_supply}
    return ground == {"-"} and "-" not in fed and not _on_minus_rail(circuit, key)


def _is_as_printed(circuit: Circuit, key: str) -> bool:
    return _rail_signs(circuit, key, "5V") == {"+"} and _rail_signs(circuit, key, "GND") == {"-"}


def _on_minus_rail(circuit: Circuit, key: str) -> bool:
    """True where a controller's 5V pin is on a rail that is called minus, and on none that is called plus."""
    return _rail_signs(circuit, key, "5V") == {"-"}


def _rail_signs(circuit: Circuit, key: str, pin: str) -> set[str]:
    return {conductor.sign for conductor in circuit.members[circuit.pin_net[key, pin]] if isinstance(conductor, RailPiece)}


def _supply_effort(statement: Supply) -> float:
    """Plus on a rail that is called minus is the likeliest slip of all; leads on the rails that are named for them are the last
    to be exchanged."""
    signs = [point.sign for point in statement.terminals if isinstance(point, Rail)]
    return -1.0 if signs[:1] == ["-"] else 2.2 if signs == ["+", "-"] else 1.1


def _claimed_otherwise(circuit: Circuit, key: str, part: BenchPart, statement: Part, cause: str) -> Iterator[Candidate]:
    """A part with three legs of which only the claim says how it sits: its legs in every other order."""
    claim = statement.claim
    if isinstance(part.entry, Chip) or claim is None or len(claim.pins) != 3:
        return
    if any(isinstance(mark, MarkFaces) for mark in statement.marks):
        return
    words = [word.text for word in claim.pins]
    for order in list(permutations(words))[1:]:
        if list(order) == words[::-1]:
            continue
        draft = Draft(circuit.bench.tree.lines)
        for word, new in zip(claim.pins, order):
            if word.text != new:
                draft.replace(word.span, new)
        yield Candidate(say=f"put the legs of {part.name} in the order {' '.join(order)}", edits=draft.edits(), effort=1.1,
                        cause=cause, parts=(part.name,), line=statement.span.line,
                        points=tuple(circuit.place_of[key, pin] for pin in part.pins))


def _unplaced(circuit: Circuit, key: str, part: BenchPart, cause: str) -> Iterator[Candidate]:
    """A part wired by its pins' names: two of its pins exchanged in all wires."""
    pins = part.pins
    pairs = [(one, other) for n, one in enumerate(pins) for other in pins[n + 1:]
             if (key, one) in circuit.touched or (key, other) in circuit.touched]
    if len(pins) > 3:
        pairs = []
    if isinstance(part.entry, Chip):
        pairs = [pair for pair in pairs if part.entry.supply in pair]
    for one, other in pairs:
        draft = Draft(circuit.bench.tree.lines)
        exchange(circuit, draft, key, one, other)
        edits = draft.edits()
        if edits:
            yield Candidate(say=f"exchange {part.name}.{one} and {part.name}.{other}", edits=edits, effort=1.2,
                            cause=cause, parts=(part.name,), line=part.span.line,
                            points=(f"{part.name}.{one}", f"{part.name}.{other}"))


def exchange(circuit: Circuit, draft: Draft, key: str, one: str, other: str) -> None:
    """Exchanges two pins of a part wherever a wire names them."""
    part = circuit.bench.parts[key]
    assert part.entry is not None
    for wire in circuit.bench.wires:
        for point in wire.points:
            if isinstance(point, Pin) and point.part.lower() == key:
                pin = pin_named(part.entry, point.pin)
                if pin in (one, other):
                    draft.replace(point.span, f"{point.part}.{other if pin == one else one}")


def _supply(circuit: Circuit, key: str, part: BenchPart, statement: Supply) -> Iterator[Candidate]:
    draft = Draft(circuit.bench.tree.lines)
    if len(statement.terminals) == 2:
        plus, minus = statement.terminals
        draft.replace(plus.span, minus.text).replace(minus.span, plus.text)
        say = f"exchange the leads of {part.name}: plus to {minus.text}, minus to {plus.text}"
    else:
        exchange(circuit, draft, key, "+", "-")
        say = f"exchange the leads of {part.name}"
    if edits := draft.edits():
        yield Candidate(say=say, edits=edits, effort=_supply_effort(statement), cause="supply-reversed", parts=(part.name,),
                        points=tuple(circuit.place_of[key, pin] for pin in ("+", "-")), line=statement.span.line)


