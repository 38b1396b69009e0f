"""Before power: the readings of the sheet, chosen and put into words.

Input: the circuit with its spots, and the likely faults. Output: readings in the order to take them, and which faults change at
least one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, isinf, isnan, log

import numpy as np

from checker.circuit.model import Circuit
from checker.metering.candidates import ALWAYS, candidates
from checker.metering.choosing import choose
from checker.metering.dead import USUAL, Dead, dead
from checker.metering.instead import instead
from checker.metering.measured import Measured, measured_on
from checker.metering.measuring import Job, measure
from checker.metering.model import Instead, Reading, Spot
from checker.metering.notes import notes_on
from checker.metering.spots import Spots
from checker.metering.words import VAGUE, expected, hold_in_words, range_in_words, short_below, widened
from checker.suspects import Suspect

FEW, SOME = 10, 14
"""Readings before power at most: in a small circuit, and in one of more than ``SMALL`` parts."""

SMALL = 14

OUTSIDE_SHARE, OUTSIDE_OHMS, OUTSIDE_VOLTS = 1.3, 3.0, 0.08
"""How far outside its band a value has to be to be noticed by somebody who holds two probes and a board."""

FUNCTIONS = {"ohms": "resistance", "diode": "diode test"}
UNITS = {"ohms": "ohm", "diode": "V"}


def readings_before(circuit: Circuit, spots: Spots, suspects: Sequence[Suspect]) -> tuple[tuple[Reading, ...], set[int]]:
    """The readings, and the numbers of the suspects that at least one of them shows."""
    base = dead(circuit)
    measured = measured_on(base, candidates(circuit, spots))
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
        one = measured[number]
        meant = instead(one.candidate.kind, [(suspects[fault], values[number][fault]) for fault in new], short_below(one.low))
        readings.append(_reading(base, spots, one, meant))
    return tuple(readings), seen


def _on_faults(measured: Sequence[Measured], suspects: Sequence[Suspect]) -> list[list[float]]:
    """Value of each reading on each fault."""
    deads = [dead(suspect.circuit) for suspect in suspects]
    jobs = [Job(circuit, one.candidate, USUAL) for one in measured for circuit in deads]
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
    return 2 if value < short_below(one.low) else 200 + round(3 * log(value))


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
    if one.candidate.role == "path" and one.candidate.kind == "diode" and isinf(one.shown.value):
        worth *= 0.3
    if one.candidate.kind == "diode" and (one.high < 0.2 or _through_more(one)):
        worth *= 0.3
    return worth


def _through_more(one: Measured) -> bool:
    """True for a direction in which a part itself does not conduct, and what is around it does: hard to explain."""
    return one.candidate.role == "part" and not isinf(one.shown.value) and (
        one.candidate.against or one.turned.value < 0.8 * one.shown.value)


def _place_in_order(one: Measured, number: int) -> tuple[int, int]:
    """Shorts and grounds first, then all on ohms, then all on diode test, so that the dial is turned once."""
    ranks = {"supply": 0, "rails": 1, "grounds": 2, "apart": 3}
    return ranks.get(one.candidate.role, 4 if one.candidate.kind == "ohms" else 5), number


def _at_wire_end(spot: Spot | None, pulled: str) -> Spot:
    """Where a wire is pulled out of a pin, the probe goes to its end."""
    assert spot is not None
    return Spot(spot.point, f"end of the wire from {pulled}") if spot.point == pulled else spot


def _reading(base: Dead, spots: Spots, one: Measured, meant: tuple[Instead, ...]) -> Reading:
    candidate = one.candidate
    red, black = (_at_wire_end(spots.of(c), candidate.position[0]) for c in (candidate.red, candidate.black))
    low, high = widened(candidate.kind, one.low, one.high)
    name, option = candidate.position
    return Reading(
        what=candidate.what, red=red, black=black, function=FUNCTIONS[candidate.kind],
        range=range_in_words(candidate.kind, one.shown.value, high), hold=hold_in_words(name, option),
        expect=expected(candidate.kind, one.shown.value, one.low, one.high), value=one.shown.value, low=low,
        high=high if not isinf(high) else inf, unit=UNITS[candidate.kind],
        notes=notes_on(base, candidate, one.shown, (one.low, one.high), one.turned), instead=meant)
