"""The circuit of a wired list in one state, and how its currents are read back from a solution.

Input: a ``Wired`` list and a ``Setting`` (what every control is set to, and the corner). Output: a ``Network`` of elements.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from msgspec import Struct, field

from tests.faults.devices import Element
from tests.faults.nets import Wired


class Setting(Struct, frozen=True):
    """One state and corner. ``controls``: what each control is set to; ``forced``: coil → amps kept going at switch-off;
    ``bridge``: two nodes with a probe of 100 kohm between them."""

    controls: Mapping[tuple[str, ...], str]
    high: bool = False
    stalled: bool = False
    pulled: frozenset[str] = frozenset()
    forced: Mapping[str, float] = {}
    bridge: tuple[int, int] | None = None


class Network(Struct):
    """``own[part]`` are the elements of a part, so that its currents can be read back from a solution."""

    wired: Wired
    setting: Setting
    nodes: int
    own: dict[str, list[Element]] = field(default_factory=dict)
    inner: dict[tuple[str, str], int] = field(default_factory=dict)

    def node(self, part: str, pin: str) -> int:
        return self.wired.nets[part, pin]

    def extra(self, part: str, name: str) -> int:
        """A node inside a part."""
        if (part, name) not in self.inner:
            self.inner[part, name] = self.nodes
            self.nodes += 1
        return self.inner[part, name]

    def add(self, part: str, element: Element) -> None:
        self.own.setdefault(part, []).append(element)

    def into(self, part: str, v: np.ndarray, pin: str) -> float:
        """Amps that flow from the net of a pin into the part (all of the part's pins on that net together)."""
        return float(self.leaving(part, v)[self.node(part, pin)])

    def leaving(self, part: str, v: np.ndarray) -> np.ndarray:
        """Amps that leave every node into the part."""
        out = np.zeros(self.nodes)
        for element in self.own.get(part, []):
            for node, amps in zip(element.nodes, element.flow(*(float(v[at]) for at in element.nodes))):
                out[node] += amps
        return out

    def watts(self, part: str, v: np.ndarray) -> float:
        """What a part turns into heat: the sum of volts times amps over all its nodes."""
        return float(self.leaving(part, v) @ v)
