"""The equations of members that share their wiring: sparse, laid out once for all of them.

Input: a `Stack` whose members have the same nodes at the same elements. Output: a `Network`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, NamedTuple, Self

import numpy as np
from msgspec import structs

from .assemble import CORNERS, ENDS
from .constants import batch_last
from .devices import Response
from .elimination import plan_of
from .limits import LEAKAGE, SPARK_SIEMENS, SPARK_VOLTS
from .models import Model, chosen_columns, limited_columns, models_of
from .networks import Network, spark_amps
from .sparse import Pattern, Sparse
from .stack import Floats, Ints, Stack
from .sums import Sums


class Signed(NamedTuple):
    """Values with a sign: row ``source`` of the given values times ``sign``."""

    source: Ints
    sign: Floats

    def chosen(self, values: Floats) -> Floats:
        found: Floats = values[self.source]
        found *= self.sign[:, None]
        return found


class Layout(NamedTuple):
    """Where everything is, the same for all members: ``controls`` (2, C) nodes; ``at_nodes`` adds up the terms of the linear
    entries and, after them, the ``flow`` of the branches; ``at_entries`` adds up the ``slopes`` of the devices for
    ``touched`` (T,), the entries that they change."""

    pattern: Pattern
    controls: Ints
    flow: Signed
    at_nodes: Sums
    slopes: Signed
    at_entries: Sums
    touched: Ints


@dataclass(frozen=True, slots=True)
class Shared(Network):
    """Members of one wiring. ``linear`` (E, B), ``drive`` (N, B)."""

    nodes: int
    linear: Floats
    drive: Floats
    models: tuple[Model, ...]
    layout: Layout

    @classmethod
    def of(cls, stack: Stack) -> Shared:
        models = tuple(structs.replace(model, nodes=model.nodes[..., :1]) for model in models_of(stack).values())
        linear, driven = _linear_places(stack)
        devices = _device_places(models)
        stamps, slopes = _Stamps.of(linear, stack.nodes), _Stamps.of(devices.derivatives, stack.nodes)
        pattern = _pattern(np.concatenate((stamps.places, slopes.places)), stack.nodes)
        numbers = pattern.rows * (stack.nodes - 1) + pattern.columns
        values, amps = _linear_values(stack)
        entries = Sums(np.searchsorted(numbers, stamps.places), len(numbers)).of(Signed(*stamps[:2]).chosen(values))
        entries[pattern.diagonal] += LEAKAGE
        drive = Sums(driven.ravel(), stack.nodes).of((ENDS[:, None, None] * amps).reshape(-1, stack.members))
        touched, into = np.unique(np.searchsorted(numbers, slopes.places), return_inverse=True)
        branches = devices.branches
        flow = Signed(np.tile(np.arange(branches.shape[1]), 2), np.repeat(ENDS, branches.shape[1]))
        at_nodes = Sums(np.concatenate((pattern.rows + 1, branches.ravel())), stack.nodes)
        layout = Layout(pattern, devices.controls, flow, at_nodes, Signed(*slopes[:2]), Sums(into.ravel(), len(touched)),
                        touched)
        return cls(stack.nodes, entries, drive, models, layout)

    @property
    def members(self) -> int:
        return int(self.drive.shape[1])

    def take(self, keep: Any) -> Self:
        models = tuple(structs.replace(model, constants=model.constants.take(keep)) for model in self.models)
        return replace(self, linear=self.linear[:, keep], drive=self.drive[:, keep], models=models)

    def eased(self, leakage: float = 0.0, share: float = 1.0) -> Self:
        linear = self.linear.copy()
        linear[self.layout.pattern.diagonal] += leakage
        models = tuple(structs.replace(model, constants=model.constants.eased(share)) for model in self.models)
        return replace(self, linear=linear, drive=self.drive * share, models=models)

    def controls(self, voltages: Floats) -> Floats:
        by_node = np.ascontiguousarray(voltages.T)
        difference: Floats = by_node[self.layout.controls[0]] - by_node[self.layout.controls[1]]
        return difference

    def residual(self, voltages: Floats, responses: list[Response], away: Floats | None = None) -> Floats:
        pattern, by_node = self.layout.pattern, np.ascontiguousarray(voltages.T)
        amps = self.linear * by_node[pattern.columns + 1]
        if self.models:
            amps = np.concatenate((amps, self.layout.flow.chosen(self._flow(responses, away))))
        total = self.layout.at_nodes.of(amps) - self.drive
        return np.ascontiguousarray(total.T) + spark_amps(voltages)

    def matrix(self, voltages: Floats, responses: list[Response]) -> Sparse:
        entries = self.linear.copy()
        if self.models:
            slopes = self.layout.slopes.chosen(self._slopes(responses))
            entries[self.layout.touched] += self.layout.at_entries.of(slopes)
        sparking = np.abs(voltages) > SPARK_VOLTS
        if sparking.any():
            entries[self.layout.pattern.diagonal] += SPARK_SIEMENS * sparking[:, 1:].T
        return Sparse(self.layout.pattern, entries)


class _Stamps(NamedTuple):
    """Entries of the matrix that values go to: number of the value, its sign, row * (N - 1) + column of nodes 1..."""

    source: Ints
    sign: Floats
    places: Ints

    @classmethod
    def of(cls, pairs: tuple[Ints, Ints], nodes: int) -> _Stamps:
        """Of derivatives between branches and controls (2, n): at (from, plus) (from, minus) (to, plus) (to, minus), but
        none at node 0 and none of what begins and ends at one node."""
        branches, controls = pairs
        rows, columns = branches[[0, 0, 1, 1]], controls[[0, 1, 0, 1]]
        counts = (rows > 0) & (columns > 0) & (branches[0] != branches[1]) & (controls[0] != controls[1])
        corner, source = np.nonzero(counts)
        return cls(source, CORNERS[corner], (rows[counts] - 1) * (nodes - 1) + columns[counts] - 1)


class _Devices(NamedTuple):
    """Nodes of all controls (2, C) and branches (2, M); ``derivatives``, the branches and controls (2, P) of each."""

    controls: Ints
    branches: Ints
    derivatives: tuple[Ints, Ints]


def _device_places(models: tuple[Model, ...]) -> _Devices:
    empty = np.zeros((2, 0), dtype=np.intp)
    controls, branches, rows, columns = [empty], [empty], [empty], [empty]
    for model in models:
        shape, terminals = model.kind.shape, model.nodes[..., 0]
        control = terminals[np.array(shape.controls)].swapaxes(0, 1)
        branch = terminals[np.array(shape.branches)].swapaxes(0, 1)
        which = np.array(shape.derivatives)
        for places, found in ((controls, control), (branches, branch), (rows, branch[:, which[:, 0]]),
                              (columns, control[:, which[:, 1]])):
            places.append(found.reshape(2, -1))
    every = [np.concatenate(places, axis=1) for places in (controls, branches, rows, columns)]
    return _Devices(every[0], every[1], (every[2], every[3]))


def _linear_places(stack: Stack) -> tuple[tuple[Ints, Ints], Ints]:
    """Branches and controls (2, n) of what is linear, and the nodes (2, m) that sources drive."""
    sources = chosen_columns(stack.sources, ~limited_columns(stack.sources))
    pairs, fed, transfers, forced = (
        kind.nodes[0].T for kind in (stack.conductances, sources, stack.transfers, stack.forced))
    branches = np.concatenate((pairs, fed, transfers[2:]), axis=1)
    controls = np.concatenate((pairs, fed, transfers[:2]), axis=1)
    return (branches, controls), np.concatenate((fed, forced[::-1]), axis=1)


def _linear_values(stack: Stack) -> tuple[Floats, Floats]:
    """Siemens (n, B) and driving amps (m, B) at the places of ``_linear_places``."""
    sources = chosen_columns(stack.sources, ~limited_columns(stack.sources))
    siemens = 1.0 / sources.ohms
    values = np.concatenate((stack.conductances.siemens, siemens, stack.transfers.siemens), axis=1)
    amps = np.concatenate((sources.volts * siemens, stack.forced.amps), axis=1)
    return batch_last(values), batch_last(amps)


def _pattern(places: Ints, nodes: int) -> Pattern:
    """The entries at these places and on the diagonal, each once, in their order."""
    size = nodes - 1
    on_diagonal = np.arange(size) * (size + 1)
    numbers = np.unique(np.concatenate((places, on_diagonal)))
    rows, columns = numbers // max(size, 1), numbers % max(size, 1)
    return Pattern(nodes, rows, columns, np.searchsorted(numbers, on_diagonal), plan_of(rows, columns, size),
                   Sums(rows, size))
