"""Candidates that change what is written, not where: a resistor's value, a diode's type, a pin, a role; wires that must go."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.aiming import aimed_at, aimings
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.taking import value_word
from checker.fixes.undoing import undoings
from checker.rules.base import Found
from grammar import show_quantity
from grammar.syntax_tree import Part, Pin, PinRole, Span
from parts_library.markings import nearest_preferred
from parts_library.schema import Capacitor, Controller, Diode, Resistor

VALUE_RULES = ("weak-drive", "too-much-current", "too-much-power", "too-hot", "pin-overload", "level-mismatch",
               "expectation-missed", "no-current-limit", "never-conducts", "too-much-voltage")
STEPS = (0.1, 0.22, 0.47, 2.2, 4.7, 10.0, 0.01, 100.0, 0.001, 1000.0)


def changings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be changed or taken away against the findings."""
    rules = {one.rule for one in found}
    aimed = list(aimings(circuit, found))
    yield from aimed
    if rules & set(VALUE_RULES):
        yield from _values(circuit, found, aimed_at(aimed))
    if "pin-cannot-pwm" in rules:
        yield from _pwm_pins(circuit, found)
    if "clamp-too-slow" in rules:
        yield from _faster_diodes(circuit, found)
    if "input-floating" in rules:
        yield from _pullup_roles(circuit, found)
    yield from undoings(circuit, found)
    if "dangling-lead" in rules:
        yield from _left_over(circuit, found)


def _left_over(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A part with a loose leg taken away: it does nothing, and may have been left over from another circuit."""
    names = {name.lower() for one in found if one.rule == "dangling-lead" for name in one.parts}
    for key in sorted(names & set(circuit.bench.parts)):
        part = circuit.bench.parts[key]
        is_named = any(isinstance(point, Pin) and point.part.lower() == key
                       for wire in circuit.bench.wires for point in wire.points)
        if isinstance(part.entry, Resistor | Capacitor) and isinstance(part.statement, Part) and not is_named:
            draft = Draft(circuit.bench.tree.lines).remove_line(part.statement.span.line)
            yield Candidate(say=f"take {part.name} away, if it is left over", edits=draft.edits(), effort=1.9, parts=(part.name,),
                            line=part.statement.span.line)


def _values(circuit: Circuit, found: Sequence[Found], aimed: set[str]) -> Iterator[Candidate]:
    """Other E12 values for the resistors that are found, or that share a net with a found part; none for those that have
    a value which aims."""
    names = {name.lower() for one in found for name in one.parts}
    nets = {net for (key, _), net in circuit.pin_net.items() if key in names}
    for key, part in circuit.bench.parts.items():
        statement = part.statement
        if key not in names and not nets & {circuit.pin_net[key, pin] for pin in part.pins}:
            continue
        if not isinstance(part.entry, Resistor) or not isinstance(statement, Part) or not part.entry.ohms or key in aimed:
            continue
        word = value_word(part)
        if word is None:
            continue
        for step in STEPS:
            ohms = float(nearest_preferred(part.entry.ohms * step, "E12"))
            if not 1.0 <= ohms <= 1e7:
                continue
            value = show_quantity(ohms, "ohm").replace(" ", "").replace("Ω", "")
            draft = Draft(circuit.bench.tree.lines).replace(word.span, value)
            # bands misread are wrong by powers of ten: a hundred times is as likely a slip as ten
            effort = 2.0 if step in (0.1, 10.0) else 2.1
            yield Candidate(say=f"take {value} for {part.name} instead of {word.text}", edits=draft.edits(),
                            effort=effort, parts=(part.name,), line=statement.span.line,
                            facts={"resistor": part.name})


def _pwm_pins(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Another pin that can pulse and is free, in every line that names the one that cannot."""
    for one in found:
        if one.rule != "pin-cannot-pwm":
            continue
        part = circuit.bench.part(one.parts[0])
        if part is None or not isinstance(part.entry, Controller):
            continue
        pin = one.points[0].split(".")[1]
        for other in part.entry.pwm:
            if (part.name.lower(), other) in circuit.touched:
                continue
            draft = Draft(circuit.bench.tree.lines)
            pattern = re.compile(rf"\b{re.escape(part.name)}\s*\.\s*{re.escape(pin)}\b", re.IGNORECASE)
            for number, line in enumerate(circuit.bench.tree.lines, 1):
                for match in pattern.finditer(line.split("#")[0]):
                    draft.replace(_span(number, match.start(), match.end()), f"{part.name}.{other}")
            yield Candidate(say=f"use {part.name}.{other} instead of {part.name}.{pin}, in the wire and in the program",
                            edits=draft.edits(), effort=1.5, parts=(part.name,), line=one.span.line)
            break


def _faster_diodes(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The smallest faster diode of each kind that the library knows for the coil's current and twice the volts."""
    for one in found:
        if one.rule != "clamp-too-slow":
            continue
        part, needs = circuit.bench.part(one.parts[0]), {e.quantity: e.value for e in one.evidence}
        if part is None or not isinstance(part.entry, Diode) or not isinstance(part.statement, Part):
            continue
        known = {name.casefold() for name in (part.entry.name, *part.entry.aliases)}
        word = next((w for w in part.statement.words if w.text.casefold() in known), None)
        if word is None:
            continue
        fitting = [entry for entry in circuit.bench.library.entries.values() if isinstance(entry, Diode)
                   and any(letter.isdigit() for letter in entry.name)
                   and entry.current >= needs["current"] and entry.vrrm >= 2.0 * needs["reverse voltage"]
                   and (entry.recovery or 0.0) <= min(needs["recovery time"] / 10.0, 0.01 / needs["frequency"])]
        # of equals the first of the library: the types that are sold everywhere lead it
        first: dict[str, Diode] = {}
        for entry in sorted(fitting, key=lambda e: (e.current, e.vrrm, e.recovery or 0.0)):
            first.setdefault(entry.use, entry)
        for entry in sorted(first.values(), key=lambda e: -e.current):
            draft = Draft(circuit.bench.tree.lines).replace(word.span, entry.name)
            yield Candidate(say=f"take {entry.name} for {part.name} instead of {word.text}: it blocks sooner",
                            edits=draft.edits(), effort=2.0, parts=(part.name,), line=part.statement.span.line,
                            cures=("clamp-too-slow",))


def _span(line: int, start: int, end: int) -> Span:
    return Span(line, start + 1, line, end + 1)


def _pullup_roles(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The internal pull-up switched on by the program."""
    for one in found:
        if one.rule != "input-floating" or one.case != "controller":
            continue
        for statement in circuit.bench.tree.statements:
            if isinstance(statement, PinRole) and any(p.text.lower() == one.points[0].lower() for p in statement.pins) \
                    and "input" in statement.roles:
                draft = Draft(circuit.bench.tree.lines).add_words(statement.span, "pullup")
                yield Candidate(say=f"switch on the internal pull-up of {one.points[0]} in the program",
                                edits=draft.edits(), effort=1.0, parts=one.parts, points=one.points,
                                line=statement.span.line)
