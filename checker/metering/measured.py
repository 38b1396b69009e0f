"""The candidates with what each shows on the board that is right: usual value, band, and the same with the probes exchanged.

Input: the circuit without power and candidates. Output: ``Measured``, without those that could not be computed or show the same
as another. A potentiometer is turned to its middle by hand, and never quite; where it stands is said with a reading that hangs
on it, and of a supply the band holds wherever it stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isinf, isnan

from msgspec import Struct, structs

from checker.circuit.model import Circuit
from checker.metering.candidate import Candidate
from checker.metering.dead import CASES, USUAL, Dead
from checker.metering.measuring import Job, Shown, bands, measure
from checker.sentences.words import listed
from parts_library.schema import Potentiometer

BY_HAND = 0.2
"""How far from its middle a shaft is that was turned there by eye, as a share of half its way (common practice, no source)."""

MOVED = 1.1
"""A reading hangs on a potentiometer that moves it by more than this."""


class Turned(Struct, frozen=True):
    """What is shown with the probes exchanged: usual value and band."""

    value: float
    low: float
    high: float


class Measured(Struct, frozen=True):
    """A candidate with what it shows on the right circuit: usual value, band, and the same with the probes exchanged."""

    candidate: Candidate
    shown: Shown
    low: float
    high: float
    turned: Turned


def measured_on(base: Dead, found: Sequence[Candidate]) -> list[Measured]:
    """The candidates with their values; of two directions that show the same only the first stays."""
    rows = bands(base, [*found, *(one.turned for one in found)])
    swept = _swept(base, found)
    measured = []
    said: dict[tuple[object, ...], float] = {}
    for number, (one, (shown, low, high), turned) in enumerate(zip(found, rows, rows[len(found):], strict=False)):
        if isnan(shown.value) or isnan(low) or isnan(high):
            continue
        key = (frozenset((one.red, one.black)), one.kind, one.position)
        if key in said and _alike(said[key], shown.value):
            continue
        said[key] = shown.value
        plain = Measured(one, shown, low, high, Turned(turned[0].value, turned[1], turned[2]))
        measured.append(_with_shafts(base.circuit, plain, swept.get(number, {})))
    return measured


def _alike(one: float, other: float) -> bool:
    return one == other or (not isinf(one) and not isinf(other) and abs(one - other) <= 0.02 * max(one, other))


def _swept(base: Dead, found: Sequence[Candidate]) -> dict[int, dict[str, list[float]]]:
    """For each candidate and each potentiometer what is shown with that at its two ends, in all cases."""
    shafts = [(part.name, option) for part in base.circuit.bench.parts.values() if isinstance(part.entry, Potentiometer)
              for name, option in base.positions if name == part.name]
    asked = [(number, shaft) for number, one in enumerate(found) if not one.position[0] for shaft in shafts]
    jobs = [Job(base, structs.replace(found[number], position=shaft), case) for number, shaft in asked
            for case in range(len(CASES))]
    values = [one.value for one in measure(jobs)] if jobs else []
    swept: dict[int, dict[str, list[float]]] = {}
    for place, (number, (name, _)) in enumerate(asked):
        swept.setdefault(number, {}).setdefault(name, []).extend(values[place * len(CASES):(place + 1) * len(CASES)])
    return swept


def _with_shafts(circuit: Circuit, one: Measured, swept: dict[str, list[float]]) -> Measured:
    """The reading with what potentiometers do to it."""
    moving = {name: values for name, values in swept.items() if _moves(one.shown.value, [*values[USUAL::len(CASES)]])}
    if not moving:
        return one
    if one.candidate.role == "supply":
        ends = [value for values in moving.values() for value in values if not isnan(value)]
        return structs.replace(one, low=min(one.low, *ends), high=max(one.high, *ends))
    part = circuit.bench.parts.get(one.candidate.part)
    others = [name for name in moving if part is None or name != part.name]
    what = f"{one.candidate.what}, with {listed(others)} turned to the middle" if others else one.candidate.what
    return structs.replace(one, candidate=structs.replace(one.candidate, what=what), low=one.low * (1 - BY_HAND),
                           high=one.high * (1 + BY_HAND))


def _moves(value: float, ends: Sequence[float]) -> bool:
    found = [end for end in (value, *ends) if not isnan(end)]
    return max(found, default=0.0) > MOVED * min(found, default=0.0) + 1.0 if found else False
