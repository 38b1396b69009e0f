"""The netlist: a circuit's elements for all its points, with the pin that each terminal belongs to.

A part's model adds elements by the names of its pins or of inner nodes; the netlist gives nodes their numbers and turns
all into a ``Stack``. Node 0 is the reference; nets and inner nodes are numbered as elements come to them, so that nets on
which there is nothing cost nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import networkx as nx
import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.points import Floats, Points
from checker.physics.stack import (
    Bipolars,
    Channels,
    Conductances,
    Drivers,
    Forced,
    Junctions,
    Sources,
    Stack,
    Transfers,
)

REFERENCE_SIEMENS = 1.0
"""Ties one node of every island to the reference. An island is closed, so no current flows through it."""

BLOCKING_OHMS = 1e14
"""What is left of a breakdown path the other way round: a leakage."""

Value = float | Floats
KINDS: dict[str, tuple[type, tuple[str, ...]]] = {
    "conductances": (Conductances, ("siemens",)),
    "sources": (Sources, ("volts", "ohms", "most")),
    "forced": (Forced, ("amps",)),
    "junctions": (Junctions, ("saturation", "slope", "ohms", "breakdown", "breakdown_slope", "breakdown_ohms",
                              "breakdown_amps")),
    "bipolars": (Bipolars, ("polarity", "saturation", "slope", "gain", "reverse_gain", "knee")),
    "channels": (Channels, ("polarity", "transconductance", "threshold", "slope")),
    "transfers": (Transfers, ("siemens",)),
    "drivers": (Drivers, ("gain", "offset", "headroom_high", "headroom_low", "siemens", "source_limit",
                          "sink_limit")),
}


class _Rows(Struct, eq=False):
    """The elements of one kind, in the order added."""

    nodes: list[tuple[int, ...]] = []
    values: list[tuple[Value, ...]] = []
    owners: list[tuple[int, ...]] = []


class Netlist:
    """Collects the elements of one circuit at ``points``."""

    def __init__(self, circuit: Circuit, points: Points) -> None:
        self.circuit = circuit
        self.points = points
        self.pins = {pin: number for number, pin in enumerate(circuit.pin_net)}
        self._size = 1
        self.net_nodes: dict[int, int] = {}
        self._inner: dict[tuple[str, str], int] = {}
        self._rows = {kind: _Rows() for kind in KINDS}

    @property
    def size(self) -> int:
        """How many nodes there are, the reference included."""
        return self._size

    def node(self, part: str, name: str) -> int:
        """The number of a pin's net, or of the part's inner node of that name."""
        net = self.circuit.pin_net.get((part, name))
        if net is not None:
            if net not in self.net_nodes:
                self.net_nodes[net] = self._size
                self._size += 1
            return self.net_nodes[net]
        key = (part, name)
        if key not in self._inner:
            self._inner[key] = self._size
            self._size += 1
        return self._inner[key]

    def add(self, kind: str, part: str, names: Sequence[str], **values: Value) -> None:
        """One element of a part. ``names`` are pins or inner nodes; ``values`` one number, or one a point."""
        rows = self._rows[kind]
        rows.nodes.append(tuple(self.node(part, name) for name in names))
        rows.values.append(tuple(values[name] for name in KINDS[kind][1]))
        rows.owners.append(tuple(self.pins.get((part, name), -1) for name in names))

    def resistor(self, part: str, one: str, other: str, ohms: Value) -> None:
        self.add("conductances", part, (one, other), siemens=1.0 / np.maximum(ohms, 1e-6))

    def junction(self, part: str, anode: str, cathode: str, saturation: Value, slope: Value, ohms: Value,
                 breakdown: Value = np.inf, breakdown_ohms: Value = 1.0, breakdown_slope: Value = 0.05,
                 breakdown_amps: Value = 1e-3) -> None:
        self.add("junctions", part, (anode, cathode), saturation=saturation, slope=slope, ohms=ohms,
                 breakdown=breakdown, breakdown_slope=breakdown_slope, breakdown_ohms=breakdown_ohms,
                 breakdown_amps=breakdown_amps)

    def breakdown(self, part: str, plus: str, minus: str, volts: Value, ohms: Value = 1.0) -> None:
        """Conducts from ``plus`` to ``minus`` above ``volts`` and not at all the other way."""
        self.junction(part, minus, plus, 1e-15, 0.026, BLOCKING_OHMS, breakdown=volts, breakdown_ohms=ohms)

    def finished(self) -> tuple[Stack, dict[str, NDArray[np.int64]]]:
        """The stack, and for each kind the pin number of every terminal (-1 for inner ones)."""
        self._tie_islands()
        parts = {}
        owners = {}
        for kind, (form, names) in KINDS.items():
            rows = self._rows[kind]
            terminals = {"bipolars": 3, "channels": 3, "transfers": 4, "drivers": 5}.get(kind, 2)
            count = len(rows.nodes)
            nodes = np.array(rows.nodes, dtype=np.int64).reshape(count, terminals)
            shape = (self.points.count, count)
            values = {name: np.empty(shape) for name in names}
            for column, row in enumerate(rows.values):
                for name, value in zip(names, row):
                    values[name][:, column] = value
            parts[kind] = form(nodes=np.broadcast_to(nodes, (self.points.count, count, terminals)), **values)
            owners[kind] = np.array(rows.owners, dtype=np.int64).reshape(count, terminals)
        return Stack(nodes=self._size, **parts), owners

    def _tie_islands(self) -> None:
        graph: nx.Graph[int] = nx.Graph()
        graph.add_nodes_from(range(1, self._size))
        ends = [nodes for kind, rows in self._rows.items() if kind != "transfers" for nodes in rows.nodes]
        # what a transfer senses is another island than the one it drives: light passes between them, no current
        ends += [pair for nodes in self._rows["transfers"].nodes for pair in (nodes[:2], nodes[2:])]
        graph.add_edges_from((nodes[0], other) for nodes in ends for other in nodes[1:] if other != nodes[0])
        grounds = self._grounds()
        rank = {node: grounds.index(node) for node in grounds}
        rows = self._rows["conductances"]
        for island in nx.connected_components(graph):
            node = min(island, key=lambda n: (rank.get(n, len(grounds)), n))
            rows.nodes.append((node, 0))
            rows.values.append((REFERENCE_SIEMENS,))
            rows.owners.append((-1, -1))

    def _grounds(self) -> list[int]:
        """Nodes that people call ground, the first to be the reference: controllers' GND, then supplies' minus, the one on
        which most supplies meet before the others (the middle of two batteries)."""
        bench = self.circuit.bench
        grounds = [self.node(key, "GND") for key, part in bench.parts.items() if part.is_controller]
        nets = {key: self.circuit.pin_net[key, "-"] for key, part in bench.parts.items() if part.is_supply}
        meeting = {net: sum(self.circuit.part(key).is_supply for key, _ in self.circuit.pins_on[net]) for net in nets.values()}
        grounds += [self.node(key, "-") for key in sorted(nets, key=lambda key: -meeting[nets[key]])]
        return grounds
