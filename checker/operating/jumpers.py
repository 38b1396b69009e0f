"""Inside a net: which jumper carries how much.

Nets are ideal for the operating point; within one, jumpers and their two contacts are small resistances. The currents
that parts draw from the net's conductors are known, so a small linear network gives the current of every jumper and the
few millivolts between the conductors.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from checker.circuit.model import Conductor
from checker.operating.operate import Operating

JUMPER_OHMS = 0.03
"""A jumper of 0.5 mm² or thinner, 10-20 cm, with two spring contacts: 20 to 50 mΩ (common practice, no source; copper of
0.2 mm² has 86 mΩ a metre, IEC 60228 class 5)."""


class Flow(Struct, frozen=True):
    """Currents in one net at one point: ``edges`` (one end, other end, amps from one to other), ``volts`` of each conductor
    from the first, ``injected`` amps that parts push into each conductor."""

    edges: tuple[tuple[Conductor, Conductor, float], ...]
    volts: dict[Conductor, float]
    injected: dict[Conductor, float]

    def at(self, conductor: Conductor) -> list[float]:
        """The currents of the jumpers that end at a conductor."""
        return [amps for one, other, amps in self.edges if conductor in (one, other)]


def flow_in_net(operating: Operating, net: int, point: int) -> Flow:
    """The flow inside one net at one point of the operating points."""
    circuit = operating.circuit
    nodes = list(circuit.members[net])
    index = {node: number for number, node in enumerate(nodes)}
    injected = np.zeros(len(nodes))
    for key, pin in circuit.pins_on[net]:
        injected[index[circuit.conductor_of[key, pin]]] -= operating.amps_into(key, pin)[point]
    edges = [(one, other) for one, other in circuit.conductors.subgraph(nodes).edges() if one != other]
    laplacian = np.zeros((len(nodes), len(nodes)))
    for one, other in edges:
        i, j = index[one], index[other]
        laplacian[[i, j], [i, j]] += 1 / JUMPER_OHMS
        laplacian[[i, j], [j, i]] -= 1 / JUMPER_OHMS
    volts = np.zeros(len(nodes))
    if len(nodes) > 1:
        volts[1:] = np.linalg.solve(laplacian[1:, 1:], injected[1:])
    told = {node: float(volts[number]) for node, number in index.items()}
    flows = tuple((one, other, (told[one] - told[other]) / JUMPER_OHMS) for one, other in edges)
    return Flow(edges=flows, volts=told, injected={node: float(injected[i]) for node, i in index.items()})
