"""The equations of a batch: what is linear is stamped once, what is not is scattered into it at every iteration.

All devices of all kinds are seen as one list of control voltages, branch currents and derivatives, whose places in the
vectors and matrices are worked out once as flat indices. Node 0 keeps its row and column, which are never solved.

Input: a `Stack`. Output: a `Network` of members whose wiring may differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple, Self

import numpy as np
from msgspec import structs

from .devices import Response
from .limits import LEAKAGE, SPARK_SIEMENS, SPARK_VOLTS
from .matrix import Dense
from .models import Model, chosen_columns, limited_columns, models_of
from .networks import Network, spark_amps
from .stack import Floats, Ints, Stack

# Signs of a branch at its two ends, and of a derivative at (from, plus) (from, minus) (to, plus) (to, minus).
ENDS = np.array([1.0, -1.0])
CORNERS = np.array([1.0, -1.0, -1.0, 1.0])


def scattered(places: Ints, values: Floats, size: int) -> Floats:
    """``values`` added up at their places in a vector of this size. (bincount alone counts in integers when it gets
    none.)"""
    if not places.size:
        return np.zeros(size)
    return np.asarray(np.bincount(places.ravel(), values.ravel(), size), dtype=np.float64)


def corner_places(branches: Ints, controls: Ints, nodes: int, axis: int = -1) -> Ints:
    """row * N + column of a derivative at (from, plus) (from, minus) (to, plus) (to, minus), the ends being along
    ``axis``.

    What begins and ends at one node changes nothing; it goes to place 0, which is never solved, because adding and
    subtracting it would cost the other elements digits."""
    ends = [np.moveaxis(pairs, axis, 0) for pairs in (branches, controls)]
    places = ends[0][[0, 0, 1, 1]] * nodes + ends[1][[0, 1, 0, 1]]
    idle = (ends[0][0] == ends[0][1]) | (ends[1][0] == ends[1][1])
    return np.moveaxis(np.where(idle, 0, places), 0, axis)


def linear_part(stack: Stack) -> tuple[Floats, Floats]:
    """Matrix (B, N, N) and driving currents (B, N) of everything linear, leakage included."""
    members, nodes = stack.members, stack.nodes
    sources = chosen_columns(stack.sources, ~limited_columns(stack.sources))
    siemens = 1.0 / sources.ohms
    base = (np.arange(members) * nodes)[:, None, None]
    pairs = np.concatenate((stack.conductances.nodes, sources.nodes), axis=1)
    transfers = stack.transfers.nodes
    branches = np.concatenate((pairs, transfers[..., 2:]), axis=1)
    controls = np.concatenate((pairs, transfers[..., :2]), axis=1)
    values = np.concatenate((stack.conductances.siemens, siemens, stack.transfers.siemens), axis=1)
    places = base * nodes + corner_places(branches, controls, nodes)
    matrix = scattered(places, values[..., None] * CORNERS, members * nodes * nodes)
    matrix = matrix.reshape(members, nodes, nodes)
    diagonal = np.arange(nodes)
    matrix[:, diagonal, diagonal] += LEAKAGE
    driven = np.concatenate((sources.nodes, stack.forced.nodes[..., ::-1]), axis=1) + base
    amps = np.concatenate((sources.volts * siemens, stack.forced.amps), axis=1)
    drive = scattered(driven, amps[..., None] * ENDS, members * nodes)
    return matrix, drive.reshape(members, nodes)


class Places(NamedTuple):
    """Where the devices meet the network: ``controls`` (2, C, B) nodes of the control voltages, ``branches`` (2, M,
    B) nodes of the branches, ``corners`` (4, P, B) row * N + column of the derivatives; each of its own member."""

    controls: Ints
    branches: Ints
    corners: Ints

    @classmethod
    def of(cls, models: tuple[Model, ...], nodes: int, members: int) -> Places:
        controls, branches, corners = ([np.zeros((ends, 0, members), dtype=np.intp)] for ends in (2, 2, 4))
        for model in models:
            shape, terminals = model.kind.shape, model.nodes
            control = terminals[np.array(shape.controls)].swapaxes(0, 1)
            branch = terminals[np.array(shape.branches)].swapaxes(0, 1)
            which = np.array(shape.derivatives)
            rows, columns = branch[:, which[:, 0]], control[:, which[:, 1]]
            corner = corner_places(rows, columns, nodes, axis=0)
            for places, found in ((controls, control), (branches, branch), (corners, corner)):
                places.append(found.reshape(len(found), -1, found.shape[-1]))
        return cls(*(np.ascontiguousarray(np.concatenate(places, axis=1)) for places in (controls, branches, corners)))

    def take(self, keep: Any) -> Places:
        return Places(*(places[..., keep] for places in self))

    def flat(self, nodes: int) -> Places:
        """As indices into the raveled voltages (B, N), residuals (B, N) and matrices (B, N, N)."""
        first = np.arange(self.controls.shape[-1]) * nodes
        return Places(self.controls + first, self.branches + first, self.corners + first * nodes)


class Touched(NamedTuple):
    """Which entries of the raveled matrices the devices change (T,), their linear values (T,), and to which of them
    each derivative goes (4, P, B). The other entries of ``whole`` (B, N, N) stay as they are from one iteration to
    the next."""

    entries: Ints
    linear: Floats
    each: Ints
    whole: Floats

    @classmethod
    def of(cls, corners: Ints, linear: Floats) -> Touched:
        hit = np.zeros(linear.size, dtype=bool)
        hit[corners.ravel()] = True
        entries = np.flatnonzero(hit)
        number = np.empty(linear.size, dtype=np.intp)
        number[entries] = np.arange(len(entries))
        return cls(entries, linear.ravel()[entries], number[corners], linear.copy())


@dataclass(frozen=True, slots=True)
class Mixed(Network):
    """Members of any wiring. ``linear`` (B, N, N), ``drive`` (B, N)."""

    nodes: int
    linear: Floats
    drive: Floats
    models: tuple[Model, ...]
    places: Places
    flat: Places
    touched: Touched

    @classmethod
    def of(cls, stack: Stack) -> Mixed:
        linear, drive = linear_part(stack)
        models = tuple(models_of(stack).values())
        return cls._laid_out(stack.nodes, linear, drive, models, Places.of(models, stack.nodes, stack.members))

    @classmethod
    def _laid_out(cls, nodes: int, linear: Floats, drive: Floats, models: tuple[Model, ...], places: Places) -> Self:
        flat = places.flat(nodes)
        return cls(nodes, linear, drive, models, places, flat, Touched.of(flat.corners, linear))

    @property
    def members(self) -> int:
        return len(self.drive)

    def take(self, keep: Any) -> Self:
        models = tuple(model.take(keep) for model in self.models)
        return self._laid_out(self.nodes, self.linear[keep], self.drive[keep], models, self.places.take(keep))

    def eased(self, leakage: float = 0.0, share: float = 1.0) -> Self:
        linear = self.linear.copy()
        diagonal = np.arange(self.nodes)
        linear[:, diagonal, diagonal] += leakage
        models = tuple(structs.replace(model, constants=model.constants.eased(share)) for model in self.models)
        return self._laid_out(self.nodes, linear, self.drive * share, models, self.places)

    def controls(self, voltages: Floats) -> Floats:
        both = voltages.ravel()[self.flat.controls]
        difference: Floats = both[0] - both[1]
        return difference

    def residual(self, voltages: Floats, responses: list[Response], away: Floats | None = None) -> Floats:
        total: Floats = np.matmul(self.linear, voltages[..., None])[..., 0] - self.drive + spark_amps(voltages)
        if not self.models:
            return total
        flow = self._flow(responses, away)
        total += scattered(self.flat.branches, np.concatenate((flow, -flow)), total.size).reshape(total.shape)
        return total

    def matrix(self, voltages: Floats, responses: list[Response]) -> Dense:
        whole = self.touched.whole
        if self.models:
            slopes = self._slopes(responses)
            signed = np.concatenate((slopes, -slopes, -slopes, slopes))
            added = scattered(self.touched.each, signed, len(self.touched.entries))
            whole.reshape(-1)[self.touched.entries] = self.touched.linear + added
        sparking = np.abs(voltages) > SPARK_VOLTS
        if sparking.any():
            whole, diagonal = whole.copy(), np.arange(self.nodes)
            whole[:, diagonal, diagonal] += SPARK_SIEMENS * sparking
        return Dense(whole)

