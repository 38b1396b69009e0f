"""What the meter shows: candidates measured on circuits without power, all of them as one stack.

Input: jobs (a circuit, two conductors, a kind, a position, a case). Output: ohms or volts as shown; infinite is OL, NaN
what could not be computed. The range is the lowest that shows a number, as an automatic meter finds it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, nan

import numpy as np
from msgspec import Struct

from checker.circuit.model import Conductor
from checker.metering.candidate import Candidate
from checker.metering.dead import CASES, USUAL, Dead
from checker.metering.meter import DIODE_AMPS, DIODE_SHOWN, DIODE_VOLTS, METERS, RANGES, ohms_shown
from checker.metering.probing import Attachment, probe


class Job(Struct, frozen=True):
    """``candidate`` on ``dead``, in a case."""

    dead: Dead
    candidate: Candidate
    case: int = USUAL


class Shown(Struct, frozen=True):
    """``value`` in ohms or volts, and the range it was found on."""

    value: float
    range: int = 0


def measure(jobs: Sequence[Job]) -> list[Shown]:
    """What is shown for each job: first on the highest range, since what is OL there is OL on all; then from the lowest up."""
    known: dict[int, Shown] = {}
    for number, job in enumerate(jobs):
        if _same(job.dead, job.candidate.red, job.candidate.black):
            known[number] = Shown(0.0)
        elif None in (job.dead.node(job.candidate.red), job.dead.node(job.candidate.black)):
            known[number] = Shown(inf, LAST)
    diodes = [number for number, job in enumerate(jobs) if number not in known and job.candidate.kind == "diode"]
    known |= _on_range(jobs, diodes, 0)
    left = [number for number in range(len(jobs)) if number not in known]
    highest = _on_range(jobs, left, LAST)
    known |= {number: shown for number, shown in highest.items() if not shown.value <= RANGES[LAST].full}
    for which in range(LAST):
        left = [number for number in left if number not in known]
        known |= {number: shown for number, shown in _on_range(jobs, left, which).items()
                  if not shown.value > RANGES[which].full}
    return [known.get(number) or highest[number] for number in range(len(jobs))]


LAST = len(RANGES) - 1


def _on_range(jobs: Sequence[Job], numbers: Sequence[int], which: int) -> dict[int, Shown]:
    """What these jobs show on one range; NaN where that could not be computed."""
    probed = probe([_attachment(jobs[number], which) for number in numbers])
    ohms = ohms_shown(probed.volts, probed.amps)
    found = {}
    for place, number in enumerate(numbers):
        shown = float(ohms[place]) if jobs[number].candidate.kind == "ohms" else _diode(float(probed.volts[place]))
        if jobs[number].candidate.kind == "ohms" and shown > RANGES[which].full:
            shown = inf
        found[number] = Shown(shown if probed.fine[place] else nan, which)
    return found


def _same(dead: Dead, red: Conductor, black: Conductor) -> bool:
    return red == black or (dead.net(red) is not None and dead.net(red) == dead.net(black))


def _attachment(job: Job, which: int) -> Attachment:
    row = _row(job)
    red, black = (job.dead.node(c) for c in (job.candidate.red, job.candidate.black))
    assert red is not None and black is not None
    if job.candidate.kind == "diode":
        return Attachment(job.dead.stack, row, red, black, DIODE_VOLTS, DIODE_VOLTS / DIODE_AMPS)
    volts = METERS[job.case]
    return Attachment(job.dead.stack, row, red, black, volts, volts / RANGES[which].amps)


def _row(job: Job) -> int:
    positions = job.dead.positions
    place = positions.index(job.candidate.position) if job.candidate.position in positions else 0
    return len(CASES) * place + job.case


def _diode(volts: float) -> float:
    return volts if volts <= DIODE_SHOWN else inf


def bands(deads: Dead, chosen: Sequence[Candidate]) -> list[tuple[Shown, float, float]]:
    """For each candidate what it usually shows, and the least and most over the cases."""
    shown = measure([Job(deads, one, case) for one in chosen for case in range(len(CASES))])
    rows = [shown[number:number + len(CASES)] for number in range(0, len(shown), len(CASES))]
    return [(row[USUAL], float(np.min([s.value for s in row])), float(np.max([s.value for s in row]))) for row in rows]
