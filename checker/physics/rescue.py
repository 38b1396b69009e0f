"""For members that the plain iteration left unsolved: easier circuits that lead to theirs.

Damping (every node held to where it was, ever more loosely), conductance stepping (every node held to 0 V, likewise),
source stepping (every source turned up from nothing), and pinning, for what is solved but for the drift of an island.
`path` has one more. Damping comes first because it alone solves nearly all that is left over.

Input: the network of the unsolved members and their progress. Output: their progress.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from msgspec import Struct

from .iteration import Progress, iterate, rounding_amps
from .limits import (
    CONDUCTANCE_LADDER,
    DAMPED_ITERATIONS,
    HOLD_DROP,
    HOLD_GROW,
    HOLD_LEAST,
    HOLD_MOST,
    HOLD_SHRINK,
    HOLD_START,
    PIN_ITERATIONS,
    PIN_SIEMENS,
    RESIDUAL_AMPS,
    RUNG_ITERATIONS,
    SOURCE_LADDER,
    SURPRISE_MOST,
    SURPRISE_NONE,
    SURPRISE_SMALL,
)
from .matrix import Matrix
from .networks import Network
from .stack import Bools, Floats
from .status import Status


def conductance_stepping(network: Network, before: Progress) -> Progress:
    """From a large leakage at every node down to none."""
    return _climb(network, before, [{"leakage": leakage} for leakage in CONDUCTANCE_LADDER])


def source_stepping(network: Network, before: Progress) -> Progress:
    """From sources turned down to the full ones."""
    return _climb(network, before, [{"share": share} for share in SOURCE_LADDER])


def _climb(network: Network, before: Progress, rungs: list[dict[str, float]]) -> Progress:
    progress = Progress.fresh(network, iterations=before.iterations)
    on = np.arange(network.members)
    for rung in rungs:
        attempt = iterate(network.take(on).eased(**rung), progress.take(on), RUNG_ITERATIONS)
        progress.put(on, attempt)
        on = on[attempt.status == Status.CONVERGED]
        if not len(on):
            break
    return progress


def damped(network: Network, before: Progress) -> Progress:
    """The circuit as it settles: every node is held to where it was by a conductance, as by a charge on it. The hold
    shrinks while the tangents foretell what happens, and a step that they do not foretell is taken again with a
    stronger one."""
    result = Progress.fresh(network, np.zeros((network.members, network.nodes)), before.iterations)
    active, part, held = np.arange(network.members), network, Held.nowhere(network)
    for _ in range(DAMPED_ITERATIONS):
        held = settle(part, held)
        result.voltages[active] = held.voltages
        result.iterations[active] += 1
        going = (held.hold > HOLD_LEAST) & ~held.at_rest()
        if not going.all():
            part, held, active = part.take(going), held.take(going), active[going]
        if not len(active):
            break
    return iterate(network, Progress.fresh(network, result.voltages, result.iterations), RUNG_ITERATIONS)


def pinned(network: Network, before: Progress) -> Progress:
    """Newton steps from where the members are, with every node held a little to where it was. What only leakage holds
    stays, instead of drifting on rounding errors, and the rest comes to rest around it."""
    voltages = before.voltages
    for _ in range(PIN_ITERATIONS):
        responses = network.respond(network.controls(voltages))
        held = network.matrix(voltages, responses).held(PIN_SIEMENS)
        voltages = voltages + held.solved(-network.residual(voltages, responses))[0]
    progress = Progress.fresh(network, voltages, before.iterations + PIN_ITERATIONS)
    progress.status[before.status == Status.SINGULAR] = Status.SINGULAR
    return progress


class Held(Struct, frozen=True, eq=False):
    """Voltages (B, N), what is wrong there (B, N), its derivatives, and the hold (B,) of the next step."""

    voltages: Floats
    residual: Floats
    matrix: Matrix
    hold: Floats

    @classmethod
    def nowhere(cls, network: Network) -> Held:
        """Every node at 0 V."""
        voltages = np.zeros((network.members, network.nodes))
        return cls(voltages, *_exact(network, voltages), np.full(network.members, HOLD_START))

    def at_rest(self) -> Bools:
        """Where (B,) nothing is wrong beyond rounding."""
        allowed = RESIDUAL_AMPS + rounding_amps(self.matrix, np.abs(self.voltages))
        resting: Bools = np.asarray((np.abs(self.residual) <= allowed)[:, 1:].all(axis=1))
        return resting

    def take(self, keep: Any) -> Held:
        """The members ``keep``."""
        return Held(self.voltages[keep], self.residual[keep], self.matrix.take(keep), self.hold[keep])


def settle(network: Network, held: Held) -> Held:
    """One step of every member, taken or not."""
    step, _ = held.matrix.held(held.hold).solved(-held.residual)
    voltages = held.voltages + step
    residual, derivatives = _exact(network, voltages)
    surprise = _size(residual + held.hold[:, None] * step) / _size(held.residual)
    taken = surprise < SURPRISE_MOST
    change = np.select((surprise < SURPRISE_NONE, surprise < SURPRISE_SMALL, taken), (HOLD_DROP, HOLD_SHRINK, 1.0), HOLD_GROW)
    return Held(
        np.where(taken[:, None], voltages, held.voltages),
        np.where(taken[:, None], residual, held.residual),
        derivatives.chosen(taken, held.matrix),
        np.minimum(held.hold * change, HOLD_MOST),
    )


def _exact(network: Network, voltages: Floats) -> tuple[Floats, Matrix]:
    responses = network.respond(network.controls(voltages))
    return network.residual(voltages, responses), network.matrix(voltages, responses).held(0.0)


def _size(residual: Floats) -> Any:
    return np.abs(residual[:, 1:]).sum(axis=1) + RESIDUAL_AMPS
