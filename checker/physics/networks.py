"""A batch ready to iterate: what both forms of it have in common, and what the iteration asks of either.

`assemble` has the form for members that differ in their wiring (dense matrices), `shared` the one for members that do not
(sparse ones).
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any, Self

import numpy as np

from .devices import Response
from .limits import SPARK_SIEMENS, SPARK_VOLTS
from .matrix import Matrix
from .models import Model
from .stack import Floats


class Network(ABC):
    """``nodes`` of every member, node 0 included; its nonlinear ``models``. Control voltages are (C, B), one row for each of
    the models' controls in their order."""

    nodes: int
    models: tuple[Model, ...]

    @property
    @abstractmethod
    def members(self) -> int: ...

    @abstractmethod
    def take(self, keep: Any) -> Self:
        """The members ``keep``."""

    @abstractmethod
    def eased(self, leakage: float = 0.0, share: float = 1.0) -> Self:
        """An easier network: more leakage (siemens) at every node, only a share of every source."""

    @abstractmethod
    def controls(self, voltages: Floats) -> Floats:
        """The control voltages (C, B) at these node voltages (B, N)."""

    @abstractmethod
    def residual(self, voltages: Floats, responses: list[Response], away: Floats | None = None) -> Floats:
        """Current (A) that leaves each node (B, N) through the elements less what the sources bring; devices follow
        their tangents ``away`` (C, B) volts from where they were met."""

    @abstractmethod
    def matrix(self, voltages: Floats, responses: list[Response]) -> Matrix:
        """Derivatives of the residual. It may be the network's own and change with the next call."""

    def start(self) -> Floats:
        """Where the devices are met first (C, B)."""
        first = [model.kind.start(model.constants) for model in self.models]
        return np.concatenate([part.reshape(-1, self.members) for part in first] or [np.zeros((0, self.members))])

    def respond(self, met: Floats) -> list[Response]:
        """What the devices do at the control voltages ``met`` (C, B)."""
        parts = self._split(met)
        return [model.kind.respond(part, model.constants) for model, part in zip(self.models, parts, strict=True)]

    def approach(self, proposed: Floats, previous: Floats, responses: list[Response]) -> Floats:
        """Where the devices are met next (C, B)."""
        every = zip(self.models, self._split(proposed), self._split(previous), responses, strict=True)
        met = [model.kind.approach(new, old, response, model.constants) for model, new, old, response in every]
        return np.concatenate([part.reshape(-1, self.members) for part in met] or [proposed])

    def _split(self, controls: Floats) -> list[Floats]:
        """Control voltages (C, B) by model, (k, n, B) each."""
        parts, first = [], 0
        for model in self.models:
            size = len(model.kind.shape.controls) * model.count
            parts.append(controls[first : first + size].reshape(-1, model.count, self.members))
            first += size
        return parts

    def _flow(self, responses: list[Response], away: Floats | None) -> Floats:
        """Branch currents (M, B) of all devices, on their tangents where ``away`` is given."""
        currents = [response.currents for response in responses]
        if away is not None:
            currents = self._on_tangents(responses, self._split(away))
        return np.concatenate([part.reshape(-1, self.members) for part in currents])

    def _on_tangents(self, responses: list[Response], away: list[Floats]) -> list[Floats]:
        result = []
        for model, (currents, derivatives), offset in zip(self.models, responses, away, strict=True):
            shifted = currents.copy()
            for derivative, (branch, control) in zip(derivatives, model.kind.shape.derivatives, strict=True):
                shifted[branch] += derivative * offset[control]
            result.append(shifted)
        return result

    def _slopes(self, responses: list[Response]) -> Floats:
        """Derivatives (P, B) of all devices."""
        return np.concatenate([response.derivatives.reshape(-1, self.members) for response in responses])


def spark_amps(voltages: Floats) -> Floats:
    """Current (A) from each node (B, N) to node 0 through the air."""
    beyond: Floats = voltages - np.clip(voltages, -SPARK_VOLTS, SPARK_VOLTS)
    return SPARK_SIEMENS * beyond
