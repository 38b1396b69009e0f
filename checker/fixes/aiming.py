"""Candidates for values that aim: the resistor that gives a load the volts it is made for, and two values exchanged.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.joining import grounds_of, pluses_of
from checker.fixes.taking import value_word
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.rules.loads import rated_amps
from grammar import show_quantity
from parts_library.markings import nearest_preferred
from parts_library.schema import Chip, Load, Regulator, Relay, Resistor, SupplyKind

AIMED_RULES = ("weak-drive", "too-much-voltage", "too-much-current", "too-much-power", "expectation-missed")
EXCHANGED_RULES = ("weak-drive", "too-much-voltage", "too-much-current", "level-mismatch", "expectation-missed")
MOST_EXCHANGED = 6
"""Pairs of resistors that are looked at: those nearest to what was found."""

USUAL_PIN_AMPS = 0.01
"""What a resistor at a chip's pin lets through (common practice, no source)."""

SERIES = ("E12", "E24")


def aimings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What other values could do for the loads that were found."""
    for one in found:
        yield from _before_pins(circuit, one)
        yield from _before_lights(circuit, one)
        if one.rule in AIMED_RULES:
            for name in dict.fromkeys((*one.parts, one.facts.get("load", ""))):
                load = circuit.bench.part(name)
                if load is not None and isinstance(load.entry, Load | Relay) and load.entry.voltage:
                    yield from _behind_regulators(circuit, load)
                    yield from _in_series(circuit, load, one)
    if any(one.rule in EXCHANGED_RULES for one in found):
        yield from _exchanged(circuit, found)


def aimed_at(candidates: Sequence[Candidate]) -> set[str]:
    """The resistors, in lower case, for which there is a value that aims: steps up and down are no use for them."""
    return {candidate.facts["resistor"].lower() for candidate in candidates if "aim" in candidate.facts}


# ── the value that gives what a load is made for ──────────────────────────────────────────────────────────────────


def _behind_regulators(circuit: Circuit, load: BenchPart) -> Iterator[Candidate]:
    """Each of the two resistors of an adjustable regulator, for the load's rated voltage at its output:
    output = reference * (1 + lower / upper)."""
    volts = float(getattr(load.entry, "voltage", None) or 0.0)
    for key, part in circuit.bench.parts.items():
        entry = part.entry
        if not isinstance(entry, Regulator) or not entry.adjustable or entry.negative or volts <= float(entry.output):
            continue
        adjust, out = circuit.pin_net[key, "ADJ"], circuit.pin_net[key, "OUT"]
        upper = _between(circuit, adjust, {out})
        lower = _between(circuit, adjust, set(grounds_of(circuit)))
        if out not in {circuit.pin_net[load.name.lower(), pin] for pin in load.pins} or upper is None or lower is None:
            continue
        ratio = volts / float(entry.output) - 1.0
        yield from _valued(circuit, lower, _ohms(upper) * ratio, 1.85)
        yield from _valued(circuit, upper, _ohms(lower) / ratio, 1.9)


def _between(circuit: Circuit, net: int, others: set[int]) -> BenchPart | None:
    """The one resistor from a net to one of others; None where there are several or none."""
    known = [circuit.part(key) for key, pin in circuit.pins_on[net] if isinstance(circuit.part(key).entry, Resistor)
             and circuit.pin_net[key, "2" if pin == "1" else "1"] in others]
    return known[0] if len(known) == 1 else None


def _ohms(part: BenchPart) -> float:
    return float(getattr(part.entry, "ohms", None) or 0.0)


def _in_series(circuit: Circuit, load: BenchPart, one: Found) -> Iterator[Candidate]:
    """A resistor in series with a load: what is left of the voltage over both goes to it at the load's rated current."""
    volts = float(getattr(load.entry, "voltage", None) or 0.0)
    amps, had = rated_amps(load), max((e.value for e in one.evidence if e.unit == "V" and e.of == load.name), default=0.0)
    if not amps or not had:
        return
    key = load.name.lower()
    stiff = stiff_nets(circuit)
    for net in {circuit.pin_net[key, pin] for pin in load.pins} - stiff:
        others = [circuit.part(other) for other, _ in circuit.pins_on[net] if other != key]
        series = [part for part in others if isinstance(part.entry, Resistor)]
        if len(series) == 1 and _ohms(series[0]):
            total = had * (1.0 + _ohms(series[0]) * amps / volts)
            yield from _valued(circuit, series[0], (total - volts) / amps, 1.85)


def _valued(circuit: Circuit, part: BenchPart, ohms: float, effort: float) -> Iterator[Candidate]:
    """A resistor with the nearest values of the usual series."""
    word = value_word(part)
    if word is None or not 1.0 <= ohms <= 1e7:
        return
    for number, value in enumerate(dict.fromkeys(float(nearest_preferred(ohms, series)) for series in SERIES[::-1])):
        if value != _ohms(part):
            text = show_quantity(value, "ohm").replace(" ", "").replace("Ω", "")
            yield Candidate(say=f"take {text} for {part.name} instead of {word.text}",
                            edits=Draft(circuit.bench.tree.lines).replace(word.span, text).edits(), effort=effort + 0.01 * number,
                            parts=(part.name,), line=part.span.line, facts={"resistor": part.name, "aim": text})


# ── two values exchanged ──────────────────────────────────────────────────────────────────────────────────────────


def _exchanged(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """The values of two resistors that share a net of their own, near what was found."""
    names = {name.lower() for one in found for name in one.parts}
    near = {net for (key, _), net in circuit.pin_net.items() if key in names}
    driven = all(one.case == "pin" for one in found if one.rule in EXCHANGED_RULES)
    sources = {*grounds_of(circuit), *pluses_of(circuit)}
    pairs: list[tuple[str, str]] = []
    for net, pins in circuit.pins_on.items():
        keys = sorted({key for key, _ in pins if isinstance(circuit.part(key).entry, Resistor)})
        if net not in sources and (not driven or _is_to_ground(circuit, net)):
            pairs += [(one, other) for one, other in combinations(keys, 2) if near & {
                circuit.pin_net[key, pin] for key in (one, other) for pin in ("1", "2")}]
    for one, other in list(dict.fromkeys(pairs))[:MOST_EXCHANGED]:
        parts = circuit.part(one), circuit.part(other)
        words = value_word(parts[0]), value_word(parts[1])
        if words[0] is not None and words[1] is not None and _ohms(parts[0]) != _ohms(parts[1]):
            draft = Draft(circuit.bench.tree.lines).replace(words[0].span, words[1].text).replace(words[1].span, words[0].text)
            say = f"exchange {parts[0].name} and {parts[1].name}: {words[1].text} and {words[0].text}"
            yield Candidate(say=say, edits=draft.edits(), effort=1.7, parts=(parts[0].name, parts[1].name),
                            line=parts[0].span.line, facts={"resistor": parts[0].name})


def _is_to_ground(circuit: Circuit, net: int) -> bool:
    """True for the middle of a divider: a resistor leads on to ground."""
    return _between(circuit, net, set(grounds_of(circuit))) is not None


# ── a resistor too large for the LED in a coupler ─────────────────────────────────────────────────────────────────


SURELY = 1.6
"""An LED that ages, and a coupler at the end of its spread, want that much more than is needed (common practice, no source)."""


def _before_lights(circuit: Circuit, one: Found) -> Iterator[Candidate]:
    """The resistor before the LED of a coupler that gets too little, for what its output surely needs."""
    part = circuit.bench.part(one.parts[0]) if (one.rule, one.case) == ("weak-drive", "coupler") else None
    amps, needs = (one.evidence[0].value, one.evidence[0].limit) if part is not None and one.evidence else (0.0, None)
    if part is None or not needs:
        return
    nets = {circuit.pin_net[part.name.lower(), pin] for pin in ("A", "K")} - stiff_nets(circuit)
    for key in sorted({key for net in nets for key, _ in circuit.pins_on[net]}):
        other = circuit.part(key)
        if isinstance(other.entry, Resistor):
            yield from _valued(circuit, other, _ohms(other) * amps / (SURELY * needs), 1.5)


# ── a resistor too small for a chip's pin ─────────────────────────────────────────────────────────────────────────


def _before_pins(circuit: Circuit, one: Found) -> Iterator[Candidate]:
    """The resistor at a chip's pin that carries too much, for what a pin is usually given at the highest supply there is."""
    part = circuit.bench.part(one.parts[0]) if one.parts else None
    if one.rule != "pin-overload" or part is None or not isinstance(part.entry, Chip):
        return
    volts = max((float(its.entry.voltage or 0.0) for its in circuit.bench.parts.values()
                 if isinstance(its.entry, SupplyKind)), default=5.0)
    for pin in part.pins:
        key = part.name.lower()
        if f"{part.name}.{pin}" == one.facts.get("of"):
            for other, _ in circuit.pins_on[circuit.pin_net[key, pin]]:
                resistor = circuit.part(other)
                if isinstance(resistor.entry, Resistor) and 0.0 < _ohms(resistor) < volts / USUAL_PIN_AMPS:
                    yield from _valued(circuit, resistor, volts / USUAL_PIN_AMPS, 1.6)
