"""The last way to a solution: follow it from a trivial circuit along its path, around any turn.

Every node is first joined to 0 V by a conductance, with the circuit's own currents turned off; then the one is turned
down while the other is turned up: share * (currents of the circuit) + (1 - share) * conductance * voltage = 0. The
solutions form a path from share 0 to share 1 that may turn back on the way (a latch does that), so the steps are
taken along the path, with the share as one more unknown. Chow, Mallet-Paret and Yorke (Mathematics of Computation 32,
1978, from memory) show that such a path arrives for almost every start. It takes many more steps than any other way.

Input: the network of the unsolved members. Output: their progress.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from msgspec import Struct

from .iteration import Progress, iterate
from .limits import (
    PATH_CLOSE,
    PATH_CORRECTIONS,
    PATH_ENTRIES,
    PATH_GROW,
    PATH_LONGEST,
    PATH_SHORTEST,
    PATH_SHRINK,
    PATH_SIEMENS,
    PATH_START,
    PATH_STEPS,
    RUNG_ITERATIONS,
)
from .networks import Network
from .stack import Bools, Floats


class Walk(Struct, frozen=True, eq=False):
    """Where the members are: ``place`` (B, N) is the voltages of nodes 1... and, last, the share; ``ahead`` (B, N) the
    direction of the path there; ``length`` (B,) of the next step."""

    place: Floats
    ahead: Floats
    length: Floats

    def take(self, keep: Any) -> Walk:
        """The members ``keep``."""
        return Walk(self.place[keep], self.ahead[keep], self.length[keep])


def path_following(network: Network, before: Progress) -> Progress:
    """Walk every member from share 0 to share 1, then iterate it to its end."""
    result = Progress.fresh(network, np.zeros((network.members, network.nodes)), before.iterations)
    place = np.zeros((network.members, network.nodes))
    ahead = np.zeros_like(place)
    ahead[:, -1] = 1.0
    walk, part, active = Walk(place, ahead, np.full(network.members, PATH_START)), network, np.arange(network.members)
    for _ in range(min(PATH_STEPS, PATH_ENTRIES // network.nodes**2)):
        walk = stepped(part, walk)
        result.voltages[active, 1:] = walk.place[:, :-1]
        result.iterations[active] += 1
        going = (walk.place[:, -1] < 1.0) & (walk.length > PATH_SHORTEST)
        if not going.all():
            part, walk, active = part.take(going), walk.take(going), active[going]
        if not len(active):
            break
    landed = Progress.fresh(network, _landed(network, result.voltages), result.iterations)
    return iterate(network, landed, RUNG_ITERATIONS)


def _landed(network: Network, voltages: Floats) -> Floats:
    """Plain Newton steps (B, N) from the end of the path, which is too close to the solution for step control."""
    for _ in range(PATH_CORRECTIONS):
        responses = network.respond(network.controls(voltages))
        residual, matrix = network.residual(voltages, responses), network.matrix(voltages, responses)
        voltages = voltages - matrix.solved(residual)[0]
    return voltages


def stepped(network: Network, walk: Walk) -> Walk:
    """One step along the path of every member, and back onto the path; or none, and a shorter one next time. The step
    that would go beyond share 1 ends there."""
    ahead = _direction(network, walk)
    rise, left = walk.length * ahead[:, -1], 1.0 - walk.place[:, -1]
    arrives = rise >= left
    length = walk.length * np.where(arrives, left / np.where(arrives, rise, 1.0), 1.0)
    foretold = walk.place + length[:, None] * ahead
    across = np.where(arrives[:, None], np.eye(network.nodes)[-1], ahead)
    place = foretold
    change = np.zeros_like(length)
    for _ in range(PATH_CORRECTIONS):
        residual, matrix = _equations(network, place, across)
        residual[:, -1] = (across * (place - foretold)).sum(axis=1)
        correction = _solved(matrix, residual)
        place = place - correction
        change = np.abs(correction).max(axis=1)
    on_path: Bools = (change <= PATH_CLOSE) & (np.abs(place - foretold).max(axis=1) <= walk.length)
    place[on_path & arrives, -1] = 1.0
    longer = np.where(on_path, PATH_GROW * walk.length, PATH_SHRINK * length)
    return Walk(
        np.where(on_path[:, None], place, walk.place),
        np.where(on_path[:, None], ahead, walk.ahead),
        np.minimum(longer, PATH_LONGEST),
    )


def _equations(network: Network, place: Floats, last_row: Floats) -> tuple[Floats, Floats]:
    """What is wrong at a place (B, N) and its derivatives (B, N, N), both with a last row for the direction."""
    voltages = np.concatenate((np.zeros((len(place), 1)), place[:, :-1]), axis=1)
    share = place[:, -1:]
    responses = network.respond(network.controls(voltages))
    currents = network.residual(voltages, responses)[:, 1:]
    held = PATH_SIEMENS * voltages[:, 1:]
    residual = np.zeros_like(place)
    residual[:, :-1] = share * currents + (1.0 - share) * held
    matrix = np.empty((*place.shape, place.shape[1]))
    matrix[:, :-1, :-1] = share[..., None] * network.matrix(voltages, responses).dense()[:, 1:, 1:]
    diagonal = np.arange(place.shape[1] - 1)
    matrix[:, diagonal, diagonal] += PATH_SIEMENS * (1.0 - share)
    matrix[:, :-1, -1] = currents - held
    matrix[:, -1] = last_row
    return residual, matrix


def _direction(network: Network, walk: Walk) -> Floats:
    """The unit vector (B, N) along the path, the way the last one went."""
    _, matrix = _equations(network, walk.place, walk.ahead)
    forward = np.zeros_like(walk.place)
    forward[:, -1] = 1.0
    ahead = _solved(matrix, forward)
    unit: Floats = ahead / np.sqrt((ahead * ahead).sum(axis=1, keepdims=True))
    return unit


def _solved(matrix: Floats, wanted: Floats) -> Floats:
    """Solutions (B, N); those of singular members are not numbers, so that their step is not taken."""
    singular = np.linalg.slogdet(matrix)[0] == 0.0
    matrix[singular] = np.eye(matrix.shape[1])
    solution = np.asarray(np.linalg.solve(matrix, wanted[..., None])[..., 0], dtype=np.float64)
    solution[singular] = np.nan
    return solution
