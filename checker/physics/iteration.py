"""Newton's method on a whole batch: evaluate, solve, step, test, let the finished members go.

Each member has its own status and its own number of iterations; a member that fails never disturbs another. What the
plain iteration cannot solve goes through the ladders of `rescue`.

Input: a `Stack`, optionally voltages to start from. Output: a `Solution`.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from msgspec import Struct

from .limits import (
    LEAVE_SHARE,
    PACE_FALL,
    PACE_RISE,
    ROUNDING_AMPS,
    ROUNDING_MOST,
    ROUNDING_UNITS,
    STEADY_AFTER,
    STEP_RELATIVE,
    STEP_VOLTS,
    SWING_SHARE,
    SWING_VOLTS,
)
from .matrix import EPSILON, Matrix
from .networks import Network
from .stack import Bools, Floats
from .status import Status


class Progress(Struct, eq=False):
    """How far the members have come: ``voltages`` (B, N); ``met`` (C, B), the control voltages at which the devices are
    linearised, the last ``move`` of each and its ``pace`` (1: free); ``status`` int8 (B,), SPENT until something
    better is known; ``iterations`` (B,)."""

    voltages: Floats
    met: Floats
    move: Floats
    pace: Floats
    status: Any
    iterations: Any

    @classmethod
    def fresh(cls, network: Network, voltages: Floats | None = None, iterations: Any = 0) -> Progress:
        """From nothing, or from given voltages; ``iterations`` (B,) have gone before."""
        members = network.members
        at_rest = np.zeros((members, network.nodes)) if voltages is None else voltages.copy()
        met = network.start() if voltages is None else network.controls(at_rest)
        status = np.full(members, Status.SPENT, dtype=np.int8)
        spent = np.zeros(members, dtype=np.intp) + iterations
        return cls(at_rest, met, np.zeros_like(met), np.ones_like(met), status, spent)

    def take(self, keep: Any) -> Progress:
        """The members ``keep``."""
        met, move, pace = self.met[:, keep], self.move[:, keep], self.pace[:, keep]
        return Progress(self.voltages[keep], met, move, pace, self.status[keep], self.iterations[keep])

    def put(self, where: Any, other: Progress) -> None:
        """Write the members of ``other`` to the places ``where``."""
        self.voltages[where], self.status[where], self.iterations[where] = (
            other.voltages,
            other.status,
            other.iterations,
        )
        self.met[:, where], self.move[:, where], self.pace[:, where] = other.met, other.move, other.pace


def iterate(network: Network, start: Progress, most: int) -> Progress:
    """At most ``most`` iterations of every member from ``start``; iterations are counted on."""
    result = start.take(slice(None))
    result.status[:] = Status.SPENT
    active = np.arange(network.members)
    now = result.take(active)
    result.pace[:] = 1.0
    for iteration in range(most):
        if not len(active):
            break
        now = advance(network, now, steady=iteration >= STEADY_AFTER)
        finished = now.status != Status.SPENT
        if finished.sum() >= LEAVE_SHARE * len(active):
            result.put(active, now)
            network, now, active = network.take(~finished), now.take(~finished), active[~finished]
    result.put(active, now)
    return result


def advance(network: Network, now: Progress, steady: bool = False) -> Progress:
    """One Newton step of every member. Finished members stay where they are."""
    responses = network.respond(now.met)
    away = network.controls(now.voltages) - now.met
    exact = ~away.any(axis=0)
    residual = network.residual(now.voltages, responses, None if exact.all() else away)
    matrix = network.matrix(now.voltages, responses)
    step, singular = matrix.solved(-residual)
    voltages = now.voltages + step
    met = network.approach(network.controls(voltages), now.met, responses)
    move, pace = met - now.met, now.pace
    if steady:
        met, move, pace = steadied(met, move, now)
    size = np.abs(voltages)
    small = np.abs(step) <= STEP_VOLTS + STEP_RELATIVE * size
    done: Bools = np.asarray(exact & (small | (np.abs(residual) <= ROUNDING_MOST))[:, 1:].all(axis=1))
    doubtful = np.flatnonzero(done & ~small[:, 1:].all(axis=1))
    if len(doubtful):
        finest = rounding_amps(matrix, size[doubtful], doubtful)
        done[doubtful] = (small[doubtful] | (np.abs(residual[doubtful]) <= finest))[:, 1:].all(axis=1)
    status = np.where(done, np.int8(Status.CONVERGED), np.int8(Status.SPENT))
    status[~np.isfinite(step).all(axis=1)] = Status.NOT_FINITE
    status[singular] = Status.SINGULAR
    going = now.status == Status.SPENT
    if going.all():
        return Progress(voltages, met, move, pace, status, now.iterations + 1)
    return Progress(
        np.where(going[:, None], voltages, now.voltages),
        np.where(going, met, now.met),
        move,
        pace,
        np.where(going, status, now.status),
        now.iterations + going,
    )


def rounding_amps(matrix: Matrix, size: Floats, members: Any = slice(None)) -> Floats:
    """What the rounding of voltages of magnitude ``size`` (B, N) makes of the residuals (B, N) of these members: nothing
    can be better."""
    units: Floats = matrix.sizes(members) * size.max(axis=1, keepdims=True)
    return np.minimum(ROUNDING_AMPS + (ROUNDING_UNITS * EPSILON) * units, ROUNDING_MOST)


def steadied(met: Floats, move: Floats, now: Progress) -> tuple[Floats, Floats, Floats]:
    """Where to meet the devices, the moves and the paces (C, B), with swinging control voltages slowed down."""
    size = np.abs(move)
    swings = (move * now.move < 0.0) & (size > SWING_SHARE * np.abs(now.move)) & (size > SWING_VOLTS)
    pace = np.where(swings, PACE_FALL * now.pace, np.minimum(PACE_RISE * now.pace, 1.0))
    slowed = pace * move
    return np.where(pace < 1.0, now.met + slowed, met), slowed, pace
