"""Slips with resistors: one bridged by a wire, one of a tenth of its value."""

from __future__ import annotations

import re
from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.slips.model import Slip
from grammar import show_quantity
from grammar.syntax_tree import Part, Word
from parts_library.markings import MULTIPLIER_EXPONENTS, colour_named
from parts_library.schema import Resistor

MISREAD = 0.1
"""A multiplier band taken for its neighbour: a tenth of the value (common practice, no source)."""


def resistor_slips(circuit: Circuit) -> Iterator[Slip]:
    """Each resistor bridged, and each ten times too small."""
    for part in circuit.bench.parts.values():
        if isinstance(part.entry, Resistor) and isinstance(part.statement, Part):
            yield from _bridged(circuit, part)
            if part.entry.ohms:
                yield from _too_small(circuit, part, part.statement, part.entry.ohms)


def _bridged(circuit: Circuit, part: BenchPart) -> Iterator[Slip]:
    places = Places(circuit)
    nets = [circuit.net(part.name, pin) for pin in part.pins]
    spots = [places.spot_in_net(net) or circuit.place_of[part.name.lower(), pin] for net, pin in zip(nets, part.pins)]
    if len(set(nets)) == 2:
        draft = Draft(circuit.bench.tree.lines).add_line(f"wire {spots[0]} to {spots[1]}")
        yield Slip(at=part.name, line=part.span.line, right=f"nothing else joins {'the rows of ' * part.placed}its two legs",
                   wrong="bridged by a wire", edits=draft.edits())


def _too_small(circuit: Circuit, part: BenchPart, statement: Part, ohms: float) -> Iterator[Slip]:
    small = show_quantity(ohms * MISREAD, "ohm")
    draft = Draft(circuit.bench.tree.lines)
    word = next((w for w in statement.words if w.text[0].isdigit() and not re.search(r"[%wW/]", w.text)), None)
    band = _multiplier(statement)
    if word is not None:
        draft.replace(word.span, small.replace(" ", "").replace("Ω", "R" if ohms * MISREAD < 1000.0 else ""))
    if band is not None:
        smaller = _colour_below(band.text)
        if smaller is None:
            return
        draft.replace(band.span, smaller)
    yield Slip(at=part.name, line=statement.span.line, right=f"it is {show_quantity(ohms, 'ohm')}",
               wrong=f"{small} taken", edits=draft.edits())


def _multiplier(statement: Part) -> Word | None:
    """The band of the multiplier: the third of up to four, else the fourth."""
    return statement.bands[2 if len(statement.bands) <= 4 else 3] if len(statement.bands) >= 3 else None


def _colour_below(colour: str) -> str | None:
    exponent = MULTIPLIER_EXPONENTS.get(colour_named(colour) or "")
    return next((name for name, n in MULTIPLIER_EXPONENTS.items() if exponent is not None and n == exponent - 1), None)
