"""Candidates about the sources: a supply of another voltage, or one of two supplies left out.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.rules.base import Found
from grammar import show_quantity
from grammar.syntax_tree import Pin, Point, Span, Supply, Word
from parts_library.schema import SupplyKind

VOLTAGE_RULES = ("too-much-voltage", "supply-sags", "supply-overload", "too-hot")
USUAL_VOLTS = (3.0, 5.0, 6.0, 9.0, 12.0)
"""What battery packs and adapters on a bench give (common practice, no source)."""

USUAL_PACKS = ("aa-pack-2", "aa-pack-3", "aa-pack-4", "aa-pack-6", "aa-pack-8")
"""For a battery named by its kind: packs of AA cells from 3 V to 12 V, which give more current than small blocks do."""

USUAL_ADAPTERS = ("wall-adapter-5v", "wall-adapter-6v", "wall-adapter-9v", "wall-adapter-12v")

WITHOUT = ("supplies-fighting",)
SHORTED = ("supply-shorted", "rails-shorted")


def supplyings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be done at the supplies against the findings."""
    rules = {one.rule for one in found}
    supplies = [part for part in circuit.bench.parts.values() if part.is_supply and isinstance(part.statement, Supply)]
    told = [one for one in found if one.rule in VOLTAGE_RULES or (one.rule == "weak-drive" and one.case == "volts")]
    if told:
        names = tuple(dict.fromkeys(name for one in told for name in one.parts))
        bounds = [float(e.limit) for one in told if one.rule == "too-much-voltage" for e in one.evidence
                  if e.unit == "V" and e.limit]
        wanted = [float(one.evidence[0].limit) for one in told if one.rule == "weak-drive" and one.evidence[0].limit]
        # a short is a short whatever supply is in it
        shorted = {name for one in found if one.rule in SHORTED for name in one.parts}
        for part in (one for one in supplies if one.name not in shorted):
            yield from _other_voltage(circuit, part, names, min(bounds, default=None), max(wanted, default=None))
    if rules & set(WITHOUT) and len(supplies) > 1:
        named = {name.lower() for one in found if one.rule in WITHOUT for name in one.parts}
        for part in supplies:
            if part.name.lower() in named:
                yield from _left_out(circuit, part)


# ── another voltage ───────────────────────────────────────────────────────────────────────────────────────────────


MARGIN = 0.95
"""A battery is taken that is below a limit by so much when it is fresh: at the limit itself nothing is left for spread."""


def _other_voltage(circuit: Circuit, part: BenchPart, names: tuple[str, ...], bound: float | None,
                   wanted: float | None) -> Iterator[Candidate]:
    """The supply with each usual voltage, the nearest to what is wanted first, else to what it has, for the parts of these
    names; a battery that is too near to the limit of what gets too much is left out."""
    statement, entry = part.statement, part.entry
    assert isinstance(statement, Supply) and isinstance(entry, SupplyKind)
    given = float(entry.voltage or 0.0)
    word = next((w for w in statement.words if re.fullmatch(r"[\d.,]+ ?v(olts?)?", w.text, re.IGNORECASE)), None)
    if word is not None:
        others = [(volts, show_quantity(volts, "V").replace(" ", "")) for volts in USUAL_VOLTS]
    elif len(statement.words) == 1:
        is_mains = "adapter" in entry.name or "usb" in entry.name
        word, others = statement.words[0], list(_kinds(circuit, USUAL_ADAPTERS if is_mains else USUAL_PACKS, given, bound))
    else:
        return
    for volts, text in others:
        if abs(volts - given) > 0.1 * given or word is statement.words[0]:
            for candidate in _replaced(circuit, part, word, volts, text, abs(volts - (wanted or given))):
                yield structs.replace(candidate, parts=(part.name, *names))


def _kinds(circuit: Circuit, names: Sequence[str], given: float, bound: float | None) -> Iterator[tuple[float, str]]:
    for name in names:
        entry = circuit.bench.library.entries.get(name)
        if not isinstance(entry, SupplyKind):
            continue
        volts, fresh = float(entry.voltage or 0.0), float(entry.fresh or 0.0)
        if volts > given or bound is None or not MARGIN * bound < fresh <= bound:
            yield volts, name


def _replaced(circuit: Circuit, part: BenchPart, word: Word, volts: float, text: str, away: float) -> Iterator[Candidate]:
    if text.lower() == word.text.lower():
        return
    draft = Draft(circuit.bench.tree.lines).replace(word.span, text)
    words = text if text[0].isdigit() else text if f"{volts:g}v" in text else f"{text} ({volts:g} V)"
    yield Candidate(say=f"take {words} for {part.name} instead of {word.text}", edits=draft.edits(),
                    effort=3.2 + 0.01 * away, parts=(part.name,), line=part.span.line,
                    facts={"volts": f"{volts:g}"})


# ── one supply fewer ──────────────────────────────────────────────────────────────────────────────────────────────


def _left_out(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """A supply that another one stands in for: its line and its leads taken away."""
    key = part.name.lower()
    draft = Draft(circuit.bench.tree.lines).remove_line(part.span.line)
    for wire in circuit.bench.wires:
        kept = [point for point in wire.points if not _is_at(point, key)]
        if len(kept) == len(wire.points):
            continue
        if len(kept) < 2:
            draft.remove_line(wire.span.line)
        else:
            _shorten(circuit, draft, wire.points, key)
    if any(key in (keep.one.text.lower(), keep.other.text.lower()) for keep in circuit.bench.keeps):
        return
    yield Candidate(say=f"leave {part.name} out: take its two leads away", edits=draft.edits(), effort=2.75,
                    parts=(part.name,), line=part.span.line, facts={"without": key})


def _is_at(point: Point, key: str) -> bool:
    return isinstance(point, Pin) and point.part.lower() == key


def _shorten(circuit: Circuit, draft: Draft, points: Sequence[Point], key: str) -> None:
    """The points of a supply go from a wire of three or more, each with the word that joins it to its neighbour."""
    kept = [point for point in points if not _is_at(point, key)]
    first, last = points[0].span, points[-1].span
    if first.line == last.line:
        draft.replace(Span(first.line, first.column, last.end_line, last.end_column),
                      " to ".join(point.text for point in kept))
