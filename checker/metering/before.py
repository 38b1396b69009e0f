"""Before power: the readings of the sheet, chosen and put into words.

Input: the circuit with its spots, and the likely faults. Output: readings in the order to take them, and which faults change at
least one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, isinf, isnan, log

import numpy as np
from msgspec import Struct

from checker.circuit.model import Circuit
from checker.metering.candidate import Candidate
from checker.metering.candidates import ALWAYS, candidates
from checker.metering.choosing import choose
from checker.metering.dead import USUAL, Dead, dead
from checker.metering.measuring import Job, Shown, bands, measure
from checker.metering.model import Instead, Reading, Spot
from checker.metering.notes import notes_on
from checker.metering.spots import Spots
from checker.metering.words import SHORT_OHMS, VAGUE, expected, hold_in_words, in_short, range_in_words, shows, widened
from checker.suspects import Suspect

FEW, SOME = 10, 14
"""Readings before power at most: in a small circuit, and in one of more than ``SMALL`` parts."""

SMALL = 14

OUTSIDE_SHARE, OUTSIDE_OHMS, OUTSIDE_VOLTS = 1.3, 3.0, 0.08
"""How far outside its band a value has to be to be noticed by somebody who holds two probes and a board."""

FUNCTIONS = {"ohms": "resistance", "diode": "diode test"}
UNITS = {"ohms": "ohm", "diode": "V"}
MOST_INSTEAD, MOST_MEANS = 2, 3


class Measured(Struct, frozen=True):
    """A candidate with what it shows on the right circuit: usual value, band, and the same with the probes exchanged."""

    candidate: Candidate
    shown: Shown
    low: float
    high: float
    turned: float


def readings_before(circuit: Circuit, spots: Spots, suspects: Sequence[Suspect]) -> tuple[tuple[Reading, ...], set[int]]:
    """The readings, and the numbers of the suspects that at least one of them shows."""
    base = dead(circuit)
    measured = _measured(base, candidates(circuit, spots))
    values = _on_faults(measured, suspects)
    outcomes = np.array([[_outcome(one, value) for value in row] for one, row in zip(measured, values, strict=True)],
                        dtype=np.int64).reshape(len(measured), len(suspects))
    always = [number for number, one in enumerate(measured) if one.candidate.role in ALWAYS]
    most = FEW if len(circuit.bench.parts) <= SMALL else SOME
    priors = np.array([suspect.prior for suspect in suspects])
    chosen = choose(outcomes, np.array([_worth(one) for one in measured]), priors, always, max(most, len(always)))
    order = sorted(chosen, key=lambda number: _place_in_order(measured[number], number))
    seen: set[int] = set()
    readings = []
    for number in order:
        new = [fault for fault in range(len(suspects)) if outcomes[number, fault] and fault not in seen]
        seen.update(new)
        instead = _instead(measured[number], [(suspects[fault], values[number][fault]) for fault in new])
        readings.append(_reading(base, spots, measured[number], instead))
    return tuple(readings), seen


def _measured(base: Dead, found: Sequence[Candidate]) -> list[Measured]:
    """The candidates with their values; of two directions that show the same only the first stays."""
    rows = bands(base, [*found, *(one.turned for one in found)])
    measured = []
    said: dict[tuple[object, ...], float] = {}
    for one, (shown, low, high), (turned, _, _) in zip(found, rows, rows[len(found):], strict=False):
        if isnan(shown.value) or isnan(low) or isnan(high):
            continue
        key = (frozenset((one.red, one.black)), one.kind, one.position)
        if key in said and _alike(said[key], shown.value):
            continue
        said[key] = shown.value
        measured.append(Measured(one, shown, low, high, turned.value))
    return measured


def _alike(one: float, other: float) -> bool:
    return one == other or (not isinf(one) and not isinf(other) and abs(one - other) <= 0.02 * max(one, other))


def _on_faults(measured: Sequence[Measured], suspects: Sequence[Suspect]) -> list[list[float]]:
    """Value of each reading on each fault, with the lowest range and the one that the right circuit wants."""
    deads = [dead(suspect.circuit) for suspect in suspects]
    jobs = [Job(circuit, one.candidate, USUAL, tuple(sorted({0, one.shown.range}))) for one in measured for circuit in deads]
    shown = measure(jobs)
    width = len(deads)
    return [[s.value for s in shown[number * width:(number + 1) * width]] for number in range(len(measured))]


def _outcome(one: Measured, value: float) -> int:
    """0 where the value is fine; else a number that is the same for values that look the same."""
    if isnan(value) or not _differs(one, value):
        return 0
    if isinf(value):
        return 1
    if one.candidate.kind == "diode":
        return 100 + round(value * 5)
    return 2 if value < SHORT_OHMS else 200 + round(3 * log(value))


def _differs(one: Measured, value: float) -> bool:
    low, high = widened(one.candidate.kind, one.low, one.high)
    if isinf(value) or isinf(low):
        return not (isinf(value) and isinf(high))
    if one.candidate.kind == "diode":
        return value < low - OUTSIDE_VOLTS or value > high + OUTSIDE_VOLTS
    return value < low / OUTSIDE_SHARE - OUTSIDE_OHMS or value > high * OUTSIDE_SHARE + OUTSIDE_OHMS


def _worth(one: Measured) -> float:
    """How easy and certain a reading is, 0 to 1."""
    worth = 1.0 if one.candidate.kind == "ohms" else 0.8
    if one.low > 0 and not isinf(one.low) and one.high / one.low > VAGUE:
        worth *= 0.3
    if one.candidate.position[0]:
        worth *= 0.85
    if one.candidate.kind == "diode" and (one.high < 0.2 or _through_more(one)):
        worth *= 0.3
    return worth


def _through_more(one: Measured) -> bool:
    """True for a direction in which a part itself does not conduct, and what is around it does: hard to explain."""
    return one.candidate.role == "part" and not isinf(one.shown.value) and one.turned < 0.8 * one.shown.value


def _place_in_order(one: Measured, number: int) -> tuple[int, int]:
    """Shorts and grounds first, then all on ohms, then all on diode test, so that the dial is turned once."""
    ranks = {"supply": 0, "rails": 1, "grounds": 2, "apart": 3}
    return ranks.get(one.candidate.role, 4 if one.candidate.kind == "ohms" else 5), number


def _instead(one: Measured, faults: Sequence[tuple[Suspect, float]]) -> tuple[Instead, ...]:
    groups: dict[str, list[Suspect]] = {}
    for suspect, value in faults:
        groups.setdefault(shows(one.candidate.kind, value), []).append(suspect)
    return ranked_instead(groups)


def ranked_instead(groups: dict[str, list[Suspect]]) -> tuple[Instead, ...]:
    """The other readings, the likeliest first, each with its likeliest faults."""
    ranked = sorted(groups.items(), key=lambda item: -sum(suspect.prior for suspect in item[1]))[:MOST_INSTEAD]
    return tuple(_meaning(shown, sorted(found, key=lambda suspect: -suspect.prior)) for shown, found in ranked)


def _meaning(shown: str, found: Sequence[Suspect]) -> Instead:
    says = list(dict.fromkeys(in_short(suspect) for suspect in found))
    return Instead(shown, tuple(says[:MOST_MEANS]), max(len(says) - MOST_MEANS, 0))


def _at_wire_end(spot: Spot | None, pulled: str) -> Spot:
    """Where a wire is pulled out of a pin, the probe goes to its end."""
    assert spot is not None
    return Spot(spot.point, f"end of the wire from {pulled}") if spot.point == pulled else spot


def _reading(base: Dead, spots: Spots, one: Measured, instead: tuple[Instead, ...]) -> Reading:
    candidate = one.candidate
    red, black = (_at_wire_end(spots.of(c), candidate.position[0]) for c in (candidate.red, candidate.black))
    low, high = widened(candidate.kind, one.low, one.high)
    name, option = candidate.position
    return Reading(
        what=candidate.what, red=red, black=black, function=FUNCTIONS[candidate.kind],
        range=range_in_words(candidate.kind, one.shown.range), hold=hold_in_words(name, option),
        expect=expected(candidate.kind, one.shown.value, one.low, one.high), value=one.shown.value, low=low,
        high=high if not isinf(high) else inf, unit=UNITS[candidate.kind],
        notes=notes_on(base, candidate, one.shown, one.low, one.high, one.turned), instead=instead)
