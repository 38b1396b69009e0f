"""Candidates that take another part of the same family, which is one word in the list: a display of the other common pin, a
relay for another voltage, the next fuse, a type that stands more.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.relegging import relegged
from checker.rules.base import Found
from grammar import show_quantity
from grammar.syntax_tree import Part, Span, Word
from parts_library.schema import AnyEntry, Bipolar, Fuse, LedGroup, Mosfet, Regulator, Relay

USUAL_FUSE_AMPS = (0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15,
                   4.0, 5.0, 6.3, 8.0, 10.0)
"""The series R10 of IEC 60127 (from memory)."""

FUSE_MARGIN = 1.1
"""A fuse is taken for a tenth more than flows (common practice, no source)."""

OVERLOADS = ("too-much-current", "too-much-power", "too-hot", "supply-shorted", "supply-overload", "rails-shorted")
"""What else may not be found where a larger fuse is offered: then the load's current is what it is made for."""

STRONGER_RULES = ("too-much-current", "too-much-power", "too-hot")
DARLINGTONS = {"npn": ("TIP120", "BD679", "BC879", "BC618"), "pnp": ("TIP125", "BD680", "BC880")}
"""Transistors that a pin of a controller switches fully at amps, one for each order of legs that such types have; the one
that is sold everywhere first (common practice, no source)."""

LOGIC_LEVEL = ("IRLZ44N",)
"""An N-channel MOSFET that is made to be fully on at 4 to 5 V between gate and source."""


def replacings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What another type could do for the found parts."""
    rules: dict[str, set[str]] = {}
    for one in found:
        for name in one.parts:
            rules.setdefault(name.lower(), set()).add(one.rule)
    for key in sorted(set(rules) & set(circuit.bench.parts)):
        part = circuit.bench.parts[key]
        if isinstance(part.entry, LedGroup):
            yield from _other_common(circuit, part)
        elif isinstance(part.entry, Bipolar | Mosfet) and rules[key] & set(STRONGER_RULES):
            yield from _stronger_switch(circuit, part)
        elif isinstance(part.entry, Regulator) and rules[key] & {"supply-overload", "too-hot"}:
            yield from _stronger_regulator(circuit, part)
    for one in found:
        its = circuit.bench.part(one.parts[0]) if one.parts else None
        if its is not None and isinstance(its.entry, Relay):
            yield from _other_coil(circuit, its, [e.value for e in one.evidence if e.unit == "V"])
        elif its is not None and isinstance(its.entry, Fuse) and not any(f.rule in OVERLOADS for f in found if f is not one):
            yield from _next_fuse(circuit, its, max((e.value for e in one.evidence if e.unit == "A"), default=0.0))


def kind_words(part: BenchPart) -> list[Word]:
    """The words of a part's line that name its entry."""
    words = part.statement.words if isinstance(part.statement, Part) else ()
    names = [] if part.entry is None else [name.casefold() for name in (part.entry.name, *part.entry.aliases)]
    for length in range(len(words), 0, -1):
        if " ".join(word.text.casefold() for word in words[:length]) in names:
            return list(words[:length])
    return [word for word in words if word.text.casefold() in names]


def retyped(circuit: Circuit, part: BenchPart, name: str) -> Draft | None:
    """A draft in which the first word of a part's kind becomes another name and the others go; None where it is not written."""
    words = kind_words(part)
    if not words:
        return None
    first, last = words[0].span, words[-1].span
    return Draft(circuit.bench.tree.lines).replace(Span(first.line, first.column, last.end_line, last.end_column), name)


def _replaced(circuit: Circuit, part: BenchPart, name: str, effort: float, why: str = "") -> Iterator[Candidate]:
    draft = retyped(circuit, part, name)
    if draft is not None:
        old = " ".join(word.text for word in kind_words(part))
        yield Candidate(say=f"take {name} for {part.name} instead of {old}{why}", edits=draft.edits(), effort=effort,
                        parts=(part.name,), line=part.span.line)


# ── the other common pin ──────────────────────────────────────────────────────────────────────────────────────────


def _other_common(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """The display or LED whose members are joined at the other end: common cathode for common anode, and back."""
    entry = part.entry
    assert isinstance(entry, LedGroup)
    swapped = entry.name.replace("common-anode", "\0").replace("common-cathode", "common-anode").replace("\0", "common-cathode")
    if swapped != entry.name and swapped in circuit.bench.library.entries:
        yield from _replaced(circuit, part, swapped, 1.3)


# ── coils and fuses ───────────────────────────────────────────────────────────────────────────────────────────────


def _other_coil(circuit: Circuit, part: BenchPart, volts: Sequence[float]) -> Iterator[Candidate]:
    """The relay of the same make whose coil is nearest to the volts that it gets."""
    entry = part.entry
    assert isinstance(entry, Relay)
    family = re.sub(r"-\d+v$", "-", entry.name)
    kin = {name: other for name, other in circuit.bench.library.entries.items() if isinstance(other, Relay)
           and other.voltage and re.sub(r"-\d+v$", "-", name) == family and name != entry.name}
    if volts and kin:
        nearest = min(kin, key=lambda name: abs(float(kin[name].voltage or 0.0) - max(volts)))
        if abs(float(kin[nearest].voltage or 0.0) - max(volts)) < abs(float(entry.voltage or 0.0) - max(volts)):
            yield from _replaced(circuit, part, nearest, 1.8)


def _next_fuse(circuit: Circuit, part: BenchPart, amps: float) -> Iterator[Candidate]:
    """The next usual fuse for what flows."""
    statement = part.statement
    words = statement.words if isinstance(statement, Part) else ()
    word = next((w for w in words if re.fullmatch(r"[\d.,]+ ?m?a", w.text, re.IGNORECASE)), None)
    usual = next((value for value in USUAL_FUSE_AMPS if value >= FUSE_MARGIN * amps), None)
    if word is not None and usual is not None and amps:
        value = show_quantity(usual, "A").replace(" ", "")
        yield Candidate(say=f"take {value} for {part.name} instead of {word.text}",
                        edits=Draft(circuit.bench.tree.lines).replace(word.span, value).edits(), effort=1.8,
                        parts=(part.name,), line=part.span.line)


# ── types that stand more ─────────────────────────────────────────────────────────────────────────────────────────


def _stronger_switch(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """A Darlington for a small transistor, a large MOSFET for a small one: such as sit the same way first."""
    entry = part.entry
    if isinstance(entry, Bipolar):
        names: Sequence[str] = DARLINGTONS.get(entry.polarity, ())
    else:
        names = LOGIC_LEVEL if isinstance(entry, Mosfet) and entry.polarity == "n" else ()
    known = [circuit.bench.library.entries[name] for name in names if name in circuit.bench.library.entries]
    for number, other in enumerate(sorted(known, key=lambda its: its.pins != part.pins)[:2]):
        if other.name != getattr(entry, "name", "") and _amps(other) > _amps(entry):
            yield from _another_type(circuit, part, other, 1.9 + 0.05 * number, "")


def _amps(entry: AnyEntry | None) -> float:
    """What a transistor's collector or drain stands, in amps."""
    return float(entry.ic if isinstance(entry, Bipolar) else entry.id if isinstance(entry, Mosfet) else 0.0)


def _stronger_regulator(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """The 78.. of the same voltage for a 78L.. or 78M.., the LM317 for an LM317L."""
    entry = part.entry
    assert isinstance(entry, Regulator)
    name = re.sub(r"^(7[89])[LM](\d\d)$", r"\1\2", entry.name).replace("LM317L", "LM317")
    other = circuit.bench.library.entries.get(name)
    if name != entry.name and isinstance(other, Regulator):
        yield from _another_type(circuit, part, other, 1.9, f": it gives {show_quantity(float(other.current), 'A')}")


def _another_type(circuit: Circuit, part: BenchPart, other: AnyEntry, effort: float, why: str) -> Iterator[Candidate]:
    """Another type in the place of one, with what its other order of legs asks for."""
    draft = retyped(circuit, part, other.name)
    legs = relegged(circuit, draft, part, other) if draft is not None else None
    if draft is not None and legs is not None:
        old = " ".join(word.text for word in kind_words(part))
        yield Candidate(say=f"take {other.name} for {part.name} instead of {old}{why}{legs}", edits=draft.edits(),
                        effort=effort + (0.1 if legs else 0.0), parts=(part.name,), line=part.span.line)
