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
    """``candidate`` on ``dead``, in a case, on these ranges (numbers of ``RANGES``)."""

    dead: Dead
    candidate: Candidate
    case: int = USUAL
    ranges: tuple[int, ...] = tuple(range(len(RANGES)))


class Shown(Struct, frozen=True):
    """``value`` in ohms or volts, and the range it was found on."""

    value: float
    range: int = 0


def measure(jobs: Sequence[Job]) -> list[Shown]:
    """What is shown for each job."""
    known: dict[int, Shown] = {}
    attachments: list[Attachment] = []
    owners: list[tuple[int, int]] = []
    for number, job in enumerate(jobs):
        red, black = (job.dead.node(c) for c in (job.candidate.red, job.candidate.black))
        if _same(job.dead, job.candidate.red, job.candidate.black):
            known[number] = Shown(0.0)
        elif red is None or black is None:
            known[number] = Shown(inf, len(RANGES) - 1)
        else:
            for which in job.ranges if job.candidate.kind == "ohms" else (0,):
                attachments.append(_attachment(job, red, black, which))
                owners.append((number, which))
    probed = probe(attachments)
    ohms = ohms_shown(probed.volts, probed.amps)
    for place, (number, which) in enumerate(owners):
        shown = float(ohms[place]) if jobs[number].candidate.kind == "ohms" else _diode(float(probed.volts[place]))
        _keep(known, number, which, shown if probed.fine[place] else nan, jobs[number].candidate.kind)
    return [known[number] for number in range(len(jobs))]


def _same(dead: Dead, red: Conductor, black: Conductor) -> bool:
    return red == black or (dead.net(red) is not None and dead.net(red) == dead.net(black))


def _attachment(job: Job, red: int, black: int, which: int) -> Attachment:
    row = _row(job)
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


def _keep(known: dict[int, Shown], number: int, which: int, shown: float, kind: str) -> None:
    """The first range that shows a number; OL on all is OL."""
    before = known.get(number)
    if before is not None and before.value <= RANGES[before.range].full:
        return
    if kind == "ohms" and shown > RANGES[which].full:
        shown = inf
    known[number] = Shown(shown, which)


def bands(deads: Dead, chosen: Sequence[Candidate]) -> list[tuple[Shown, float, float]]:
    """For each candidate what it usually shows, and the least and most over the cases."""
    shown = measure([Job(deads, one, case) for one in chosen for case in range(len(CASES))])
    rows = [shown[number:number + len(CASES)] for number in range(0, len(shown), len(CASES))]
    return [(row[USUAL], float(np.min([s.value for s in row])), float(np.max([s.value for s in row]))) for row in rows]
