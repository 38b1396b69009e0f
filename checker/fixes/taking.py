"""Candidates that take another part for one: a regulator of the other sign, a resistor that sheds more, the usual base resistor.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.replacing import replacings
from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS
from checker.rules.loads import rated_amps
from grammar import show_quantity
from grammar.syntax_tree import Part, Word
from parts_library.markings import nearest_preferred
from parts_library.schema import Bipolar, Capacitor, Controller, Mosfet, Regulator, Resistor

USUAL_WATTS = ((0.5, "1/2W"), (1.0, "1W"), (2.0, "2W"), (5.0, "5W"), (10.0, "10W"))
"""Resistors are sold for these (common practice, no source); all the ones that are enough are tried, the smallest first."""

USUAL_CAPACITOR_VOLTS = (16, 25, 35, 50, 63, 100)
"""What electrolytics are sold for (common practice, no source)."""

FORCED_GAIN = 20.0
"""A transistor is switched hard with a twentieth of its load's current (common practice, no source)."""

MOST_BASE_AMPS, LEAST_BASE_AMPS, BASE_VOLTS = 0.02, 0.0005, 0.7
BASE_RULES = ("pin-overload", "too-much-current", "weak-drive")


def takings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be taken for a found part."""
    yield from replacings(circuit, found)
    names = {name.lower() for one in found for name in one.parts}
    for key in sorted(names & set(circuit.bench.parts)):
        part = circuit.bench.parts[key]
        if isinstance(part.entry, Mosfet):
            yield from _logic_level(circuit, part)
        elif isinstance(part.entry, Bipolar):
            yield from _other_polarity(circuit, part)
    for part in circuit.bench.parts.values():
        if isinstance(part.entry, Regulator) and part.entry.negative:
            yield from _positive(circuit, part)
    for one in found:
        part_or_none = circuit.bench.part(one.parts[0]) if one.parts else None
        if one.rule == "too-much-power" and part_or_none is not None and isinstance(part_or_none.entry, Resistor):
            yield from _wattages(circuit, part_or_none, max((e.value for e in one.evidence if e.unit == "W"), default=0.0))
        if one.rule == "too-much-voltage" and part_or_none is not None and isinstance(part_or_none.entry, Capacitor):
            yield from _more_volts(circuit, part_or_none, max((e.value for e in one.evidence if e.unit == "V"), default=0.0))
    if {one.rule for one in found} & set(BASE_RULES):
        yield from _base_resistors(circuit)


def value_word(part: BenchPart) -> Word | None:
    """The word of a resistor's line that gives its value."""
    if not isinstance(part.statement, Part) or part.statement.bands:
        return None
    return next((w for w in part.statement.words if any(c.isdigit() for c in w.text) and not re.search(r"[%wW/]", w.text)), None)


def _positive(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """The 78.. of the same voltage for a 79.., which regulates below ground."""
    words = part.statement.words if isinstance(part.statement, Part) else ()
    known = {name.casefold() for entry in circuit.bench.library.entries.values()
             if isinstance(entry, Regulator) and not entry.negative for name in (entry.name, *entry.aliases)}
    for word in words:
        other = word.text.replace("79", "78", 1)
        if other != word.text and other.casefold() in known:
            draft = Draft(circuit.bench.tree.lines).replace(word.span, other)
            yield Candidate(say=f"take {other} for {part.name}: {word.text} is for a negative voltage", edits=draft.edits(),
                            effort=1.2, parts=(part.name,), line=part.span.line, facts={"exchanged": f"{word.text} {other}"})


COMPLEMENTS = (("2N3904", "2N3906"), ("2N2222A", "2N2907A"), ("PN2222A", "PN2907A"), ("BC547", "BC557"), ("BC337", "BC327"),
               ("BD139", "BD140"), ("TIP31C", "TIP32C"), ("TIP41C", "TIP42C"), ("TIP122", "TIP127"))
"""Pairs that are made as NPN and PNP of one kind, each with its own datasheet (from memory)."""


def _other_polarity(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """The NPN of the pair for a PNP, and the other way about."""
    words = part.statement.words if isinstance(part.statement, Part) else ()
    other_of = dict([*COMPLEMENTS, *((other, one) for one, other in COMPLEMENTS)])
    for word in words:
        other = next((new for old, new in other_of.items() if word.text.upper().startswith(old)), "")
        if other in circuit.bench.library.entries and isinstance(part.entry, Bipolar):
            kind = "an NPN" if part.entry.polarity.startswith("p") else "a PNP"
            draft = Draft(circuit.bench.tree.lines).replace(word.span, other)
            yield Candidate(say=f"take {other} for {part.name}: here belongs {kind}", edits=draft.edits(), effort=1.25,
                            parts=(part.name,), line=part.span.line)


LOGIC_LEVEL = "IRLZ44N"
"""An N-channel MOSFET that is made to be fully on at 4 to 5 V between gate and source."""


def _logic_level(circuit: Circuit, part: BenchPart) -> Iterator[Candidate]:
    """A MOSFET for logic levels where another one is not fully on."""
    words = part.statement.words if isinstance(part.statement, Part) else ()
    if isinstance(part.entry, Mosfet) and part.entry.polarity.startswith("n") and LOGIC_LEVEL in circuit.bench.library.entries:
        known = {name.casefold() for name in (part.entry.name, *part.entry.aliases)}
        for word in words:
            if word.text.casefold() in known and part.entry.name != LOGIC_LEVEL:
                draft = Draft(circuit.bench.tree.lines).replace(word.span, LOGIC_LEVEL)
                yield Candidate(say=f"take {LOGIC_LEVEL} for {part.name}: it is fully on at a pin's voltage",
                                edits=draft.edits(), effort=2.0, parts=(part.name,), line=part.span.line)


def _wattages(circuit: Circuit, part: BenchPart, needed: float) -> Iterator[Candidate]:
    """The same value for more watts."""
    word = value_word(part)
    statement = part.statement
    if word is None or not isinstance(statement, Part):
        return
    stated = next((w for w in statement.words if re.search(r"\d.*w", w.text, re.IGNORECASE)), None)
    for number, (watts, text) in enumerate(USUAL_WATTS):
        if watts > needed:
            draft = Draft(circuit.bench.tree.lines)
            if stated is not None:
                draft.replace(stated.span, text)
            else:
                draft.add_words(word.span, text)
            yield Candidate(say=f"take {part.name} for {text.removesuffix('W')} W", edits=draft.edits(),
                            effort=1.7 + 0.02 * number, parts=(part.name,), line=statement.span.line,
                            cures=("too-much-power",))


def _more_volts(circuit: Circuit, part: BenchPart, needed: float) -> Iterator[Candidate]:
    """The same capacitor for more volts."""
    words = part.statement.words if isinstance(part.statement, Part) else ()
    word = next((w for w in words if re.fullmatch(r"\d+\s?v", w.text, re.IGNORECASE)), None)
    volts = next((volts for volts in USUAL_CAPACITOR_VOLTS if volts > 1.2 * needed), None)
    if word is not None and volts is not None:
        draft = Draft(circuit.bench.tree.lines).replace(word.span, f"{volts}V")
        yield Candidate(say=f"take {part.name} for {volts} V", edits=draft.edits(), effort=1.7, parts=(part.name,),
                        line=part.span.line, cures=("too-much-voltage",))


def _base_resistors(circuit: Circuit) -> Iterator[Candidate]:
    """The usual value between an output and a base."""
    for key, part in circuit.bench.parts.items():
        word = value_word(part) if isinstance(part.entry, Resistor) else None
        if word is None:
            continue
        nets = [circuit.pin_net[key, pin] for pin in ("1", "2")]
        for base, drive in (nets, nets[::-1]):
            volts = [float(entry.logic) for other, pin in circuit.pins_on[drive]
                     if isinstance(entry := circuit.part(other).entry, Controller) and pin in (*entry.digital, *entry.analog)]
            loads = [amps for other, pin in circuit.pins_on[base] if pin == "B"
                     and isinstance(circuit.part(other).entry, Bipolar) for amps in _load_amps(circuit, other)]
            if volts and loads:
                amps = min(max(max(loads) / FORCED_GAIN, LEAST_BASE_AMPS), MOST_BASE_AMPS)
                ohms = float(nearest_preferred((volts[0] - BASE_VOLTS) / amps, "E12"))
                value = show_quantity(ohms, "ohm").replace(" ", "").replace("Ω", "")
                draft = Draft(circuit.bench.tree.lines).replace(word.span, value)
                yield Candidate(say=f"take {value} for {part.name} instead of {word.text}", edits=draft.edits(), effort=1.9,
                                parts=(part.name,), line=part.span.line, facts={"resistor": part.name})


def _load_amps(circuit: Circuit, transistor: str) -> list[float]:
    """What the loads at the collector or emitter of a transistor are made for, in amps; 0 without a known one."""
    nets = {circuit.pin_net[transistor, pin] for pin in ("C", "E")}
    return [rated_amps(circuit.part(key)) for net in nets for key, _ in circuit.pins_on[net]
            if isinstance(circuit.part(key).entry, LIGHTS_AND_LOADS)]
