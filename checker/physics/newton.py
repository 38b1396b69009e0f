"""The front door: a stack in, its solution out."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
from msgspec import Struct

from .assemble import Mixed
from .currents import kirchhoff
from .iteration import Progress, iterate, rounding_amps
from .limits import PLAIN_ITERATIONS, RESIDUAL_AMPS, RESIDUAL_RELATIVE
from .networks import Network
from .path import path_following
from .rescue import conductance_stepping, damped, pinned, source_stepping
from .shared import Shared
from .stack import Floats, Stack
from .status import Status
from .wiring import pieces, trimmed

WAYS: tuple[Callable[[Network, Progress], Progress], ...] = (
    *(partial(iterate, most=most) for most in PLAIN_ITERATIONS),
    pinned,
    damped,
    conductance_stepping,
    source_stepping,
    path_following,
    pinned,
)
"""What is tried, in this order, on the members that are still unsolved."""

QUICK_WAYS = WAYS[:len(PLAIN_ITERATIONS) + 1]
"""What is tried where a member that stays unsolved may be given up: the rest costs hundreds of steps for one member."""


class Solution(Struct, frozen=True, eq=False):
    """Node voltages (B, N) in volts; `Status` (B,) as int8; Newton iterations spent (B,); the largest current (A) that
    Kirchhoff's law misses at any node (B,). The voltages of a member that did not converge are its last attempt."""

    voltages: Floats
    status: Any
    iterations: Any
    residual: Floats


def solve(stack: Stack, start: Floats | None = None, quick: bool = False) -> Solution:
    """Operating points of all members. ``start`` (B, N): voltages to start from, such as those of a similar circuit;
    ``quick`` gives members up that plain steps do not solve.

    Never raises for a bad member: see `Status`."""
    with np.errstate(all="ignore"):
        voltages = np.full((stack.members, stack.nodes), np.nan)
        status = np.full(stack.members, Status.NOT_FINITE, dtype=np.int8)
        iterations = np.zeros(stack.members, dtype=np.intp)
        residual = np.full(stack.members, np.nan)
        for members, share in pieces(stack, np.flatnonzero(stack.finite())):
            piece = stack if len(members) == stack.members else stack.take(members)
            piece = trimmed(piece) if share else piece
            from_where = None if start is None else start[members, : piece.nodes]
            progress, missing = _solved(piece, Shared.of(piece) if share else Mixed.of(piece), from_where,
                                        QUICK_WAYS if quick else WAYS)
            voltages[members] = 0.0
            voltages[members, : piece.nodes], status[members] = progress.voltages, progress.status
            iterations[members], residual[members] = progress.iterations, missing
        if quick:
            # nobody looks at where a member was given up, and its numbers may be beyond all bounds
            voltages[status != Status.CONVERGED] = 0.0
    return Solution(voltages, status, iterations, residual)


def _solved(stack: Stack, network: Network, start: Floats | None,
            ways: tuple[Callable[[Network, Progress], Progress], ...]) -> tuple[Progress, Floats]:
    progress = Progress.fresh(network, start)
    missing = np.empty(network.members)
    for way in ways:
        unsolved = np.flatnonzero(progress.status != Status.CONVERGED)
        if not len(unsolved):
            break
        every = len(unsolved) == network.members
        part, members = (network, stack) if every else (network.take(unsolved), stack.take(unsolved))
        attempt = way(part, progress.take(unsolved))
        missing[unsolved] = _judged(members, part, attempt)
        progress.put(unsolved, attempt)
    return progress, missing


def _judged(stack: Stack, network: Network, progress: Progress) -> Floats:
    """The largest miss (A) of each member. Kirchhoff's law decides: a member that it holds for has converged, although
    leakage may let an island drift on; one that it does not hold for has not."""
    missing, total = kirchhoff(stack, progress.voltages)
    missing = np.abs(missing)
    excess = missing - RESIDUAL_AMPS - RESIDUAL_RELATIVE * total
    doubtful = np.flatnonzero((excess > 0.0).any(axis=1))
    if len(doubtful):
        part, voltages = network.take(doubtful), progress.voltages[doubtful]
        matrix = part.matrix(voltages, part.respond(part.controls(voltages)))
        excess[doubtful] -= rounding_amps(matrix, np.abs(voltages))
    holds = (excess <= 0.0).all(axis=1)
    progress.status[~holds & (progress.status == Status.CONVERGED)] = Status.SPENT
    progress.status[holds & (progress.status == Status.SPENT)] = Status.CONVERGED
    largest: Floats = missing.max(axis=1)
    return largest
