"""Which nets belong together electrically: the islands of a circuit between which no current passes.

A relay's contacts and an optocoupler's two sides share no current, so there is no voltage between them that means anything.
"""

from __future__ import annotations

from collections.abc import Sequence

import networkx as nx

from checker.circuit.model import Circuit
from checker.operating.models import netlist_of
from checker.operating.points import Point
from checker.physics import Stack

JOINS_SIEMENS = 1e-7
"""A conductance that carries less than this joins nothing: 10 MΩ, the input of a meter."""

_CARRY = ("conductances", "sources", "junctions", "bipolars", "channels", "drivers")


def powered(circuit: Circuit, points: Sequence[Point]) -> tuple[Stack, dict[int, int]]:
    """The elements of a circuit at the points, and the node of each net."""
    netlist = netlist_of(circuit, points)
    stack, _ = netlist.finished()
    return stack, dict(netlist.net_nodes)


def islands_of(stack: Stack, net_nodes: dict[int, int]) -> list[set[int]]:
    """Nets between which current can pass at some point of the stack; every net is in one island."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(net_nodes.values())
    for name in _CARRY:
        kind = getattr(stack, name)
        for column, nodes in enumerate(kind.nodes[0]):
            if name != "conductances" or (kind.siemens[:, column] > JOINS_SIEMENS).any():
                ends = [int(node) for node in nodes if node]
                graph.add_edges_from((ends[0], other) for other in ends[1:])
    net_at = {node: net for net, node in net_nodes.items()}
    return [{net_at[node] for node in nodes if node in net_at} for nodes in nx.connected_components(graph)]
