"""Which nets belong together electrically, and where the black probe goes in each such island.

A relay's contacts and an optocoupler's two sides share no current, so they have no voltage between them that means anything:
each side is measured from its own minus.
"""

from __future__ import annotations

import networkx as nx

from checker.circuit.model import Circuit
from checker.operating.models import add_part
from checker.operating.netlist import Netlist
from checker.operating.points import Point, Points
from checker.physics import Stack

LEAST_SIEMENS = 1e-7
"""A conductance that carries less than this joins nothing: 10 MΩ, the input of a meter."""

COUPLED = ("conductances", "sources", "junctions", "bipolars", "channels", "drivers")


def powered(circuit: Circuit, points: list[Point]) -> tuple[Stack, dict[int, int]]:
    """The elements of a circuit at the points, and the node of each net."""
    netlist = Netlist(circuit, Points(points))
    for key, part in circuit.bench.parts.items():
        add_part(netlist, key, part)
    stack, _ = netlist.finished()
    return stack, dict(netlist.net_nodes)


def references(circuit: Circuit, stack: Stack, net_nodes: dict[int, int]) -> dict[int, int]:
    """For each net the net of the black probe: the first ground of its island (controllers' GND, then supplies' minus); nets
    without any are left out."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(net_nodes.values())
    for name in COUPLED:
        kind = stack.kinds()[name]
        if not kind.count:
            continue
        for column in range(kind.count):
            nodes = [int(node) for node in kind.nodes[0, column] if node]
            joined = name != "conductances" or bool((kind.siemens[:, column] > LEAST_SIEMENS).any())  # type: ignore[attr-defined]
            if joined:
                graph.add_edges_from((nodes[0], other) for other in nodes[1:])
    island = {node: number for number, nodes in enumerate(nx.connected_components(graph)) for node in nodes}
    ground: dict[int, int] = {}
    for net in _grounds(circuit):
        if net in net_nodes:
            ground.setdefault(island[net_nodes[net]], net)
    return {net: ground[island[node]] for net, node in net_nodes.items() if island[node] in ground}


def _grounds(circuit: Circuit) -> list[int]:
    parts = circuit.bench.parts.items()
    return [circuit.pin_net[key, "GND"] for key, part in parts if part.is_controller] + [
        circuit.pin_net[key, "-"] for key, part in parts if part.is_supply and (key, "-") in circuit.touched]
