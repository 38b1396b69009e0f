"""Parts of a diagram in columns: what is in series stands one below the other, what belongs together side by side.

Input: the levels and the parts. Output: columns from left to right, each with its parts from top to bottom and the band
(the space between two layers of nets) that each stands in. Columns are put in the order of the second eigenvector of
their graph, which brings neighbours together (M. Fiedler, Algebraic connectivity of graphs, 1973; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median_low

import networkx as nx
import numpy as np
from msgspec import Struct, structs

from checker.circuit.model import Circuit
from checker.drawing.benchtop import short
from checker.drawing.levels import Levels
from checker.drawing.seen import kind_of
from checker.drawing.signs import Symbol, box_of_pins
from checker.drawing.symbols import axis_of, symbol_of
from parts_library.schema import SupplyKind


class Standing(Struct, frozen=True):
    """A part in a band; ``nets`` maps the pins that are drawn to their nets."""

    key: str
    name: str
    kind: str
    symbol: Symbol
    band: int
    nets: dict[str, int]
    top: int | None
    bottom: int | None


Column = tuple[Standing, ...]


def columns_of(circuit: Circuit, levels: Levels) -> list[Column]:
    """The columns from left to right."""
    parts = [part for key in circuit.bench.parts if (part := _standing(circuit, levels, key)) is not None]
    columns = _stacks(parts, levels)
    ordered = _ordered(columns, levels, {part.key: index for index, part in enumerate(parts)}, circuit)
    return [tuple(_pins_in_order(part, index, ordered) if part.symbol.boxed else part for part in column)
            for index, column in enumerate(ordered)]


def _pins_in_order(part: Standing, own: int, columns: Sequence[Column]) -> Standing:
    """A box with its pins at each edge in the order in which the columns stand that they go to."""
    def toward(pin: str) -> float:
        on = [index for index, column in enumerate(columns) for other in column
              if other.key != part.key and part.nets[pin] in other.nets.values()]
        return sum(on) / len(on) if on else float(own)

    edges: list[list[str]] = [[], []]
    for pin, place in part.symbol.pins.items():
        edges[0 if place.up else 1].append(pin)
    up, down = (sorted(edge, key=toward) for edge in edges)
    return structs.replace(part, symbol=box_of_pins(part.name, part.kind, up, down))


def left_over(circuit: Circuit, levels: Levels) -> list[str]:
    """The names of parts that nothing is wired to."""
    wired = {key for net in levels.nets.values() for key, _ in net.pins}
    return [part.name for key, part in circuit.bench.parts.items() if key not in wired]


# ── bands ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _standing(circuit: Circuit, levels: Levels, key: str) -> Standing | None:
    part = circuit.part(key)
    nets = {pin: net for pin in part.pins if (net := circuit.pin_net[key, pin]) in levels.nets and (key, pin) in circuit.touched}
    if not nets:
        return None
    rank = {net: index for index, net in enumerate(levels.nets)}
    name, kind = short(part.name, 14), short(kind_of(part), 16)
    axis = axis_of(part)
    if axis is None or not set(axis) & set(nets):
        return _boxed(levels, key, name, kind, nets)
    ends = sorted((pin for pin in axis if pin in nets), key=lambda pin: (levels.nets[nets[pin]].layer, rank[nets[pin]]))
    top = ends[0] if len(ends) == 2 or ends[0] == axis[0] else next(pin for pin in axis if pin != ends[0])
    bottom = axis[1] if top == axis[0] else axis[0]
    band = _band(levels, nets.get(top), nets.get(bottom))
    return Standing(key, name, kind, symbol_of(part, top), band, nets, nets.get(top), nets.get(bottom))


def _band(levels: Levels, top: int | None, bottom: int | None) -> int:
    """Near the net that is no rail; in the middle between two rails."""
    last = max(0, levels.layers - 2)
    if bottom is None:
        return min(last, levels.nets[top].layer) if top is not None else 0
    if top is None:
        return min(last, max(0, levels.nets[bottom].layer - 1))
    high, low = levels.nets[top], levels.nets[bottom]
    first, final = high.layer, max(high.layer, low.layer - 1)
    if high.end and low.end:
        return min(last, (first + final) // 2)
    return min(last, final if high.end else first)


def _boxed(levels: Levels, key: str, name: str, kind: str, nets: dict[str, int]) -> Standing:
    inner = [levels.nets[net].layer for net in nets.values() if not levels.nets[net].end]
    last = max(0, levels.layers - 2)
    band = min(last, median_low(inner) if inner else last // 2)
    up = [pin for pin, net in nets.items() if levels.nets[net].layer <= band]
    down = [pin for pin in nets if pin not in up]
    return Standing(key, name, kind, box_of_pins(name, kind, up, down), band, nets, None, None)


# ── one below the other ───────────────────────────────────────────────────────────────────────────────────────────


def _stacks(parts: Sequence[Standing], levels: Levels) -> list[Column]:
    """Chains of parts with an axis: a part and the one that its lower net goes on to."""
    below: dict[str, Standing] = {}
    has_above: set[str] = set()
    for net in levels.nets.values():
        if net.end:
            continue
        uppers = [part for part in parts if part.bottom == net.number and part.top != net.number and part.key not in below]
        lowers = [part for part in parts if part.top == net.number and part.bottom != net.number]
        for upper in sorted(uppers, key=lambda part: not part.kind):
            lower = next((one for one in lowers if one.band > upper.band and one.key not in has_above), None)
            if lower is not None:
                below[upper.key] = lower
                has_above.add(lower.key)
    columns = []
    for part in parts:
        if part.key not in has_above:
            column = [part]
            while column[-1].key in below:
                column.append(below[column[-1].key])
            columns.append(tuple(column))
    return columns


# ── side by side ──────────────────────────────────────────────────────────────────────────────────────────────────


def _ordered(columns: Sequence[Column], levels: Levels, order: dict[str, int], circuit: Circuit) -> list[Column]:
    graph = _graph(columns, levels)
    groups = [sorted(group, key=lambda index: _first(columns[index], order)) for group in nx.connected_components(graph)]

    def supplies_first(group: list[int]) -> tuple[bool, int]:
        supply = all(isinstance(circuit.part(part.key).entry, SupplyKind) for index in group for part in columns[index])
        return not supply, _first(columns[group[0]], order)

    return [columns[index] for group in sorted(groups, key=supplies_first) for index in _by_nearness(graph, group)]


def _first(column: Column, order: dict[str, int]) -> int:
    return min(order[part.key] for part in column)


def _graph(columns: Sequence[Column], levels: Levels) -> nx.Graph[int]:
    """Columns joined where they share a net that is no rail, the more the fewer are on it."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(len(columns)))
    on: dict[int, list[int]] = {}
    for index, column in enumerate(columns):
        for net in {net for part in column for net in part.nets.values()}:
            if not levels.nets[net].end:
                on.setdefault(net, []).append(index)
    for members in on.values():
        for one in members:
            for other in members:
                if one < other:
                    weight = graph.get_edge_data(one, other, {"weight": 0.0})["weight"]
                    graph.add_edge(one, other, weight=weight + 1.0 / (len(members) - 1))
    return graph


def _by_nearness(graph: nx.Graph[int], group: list[int]) -> list[int]:
    if len(group) < 3:
        return group
    place = {index: row for row, index in enumerate(group)}
    matrix = np.zeros((len(group), len(group)))
    for one, other, data in graph.edges(group, data=True):
        i, j, weight = place[one], place[other], data["weight"]
        matrix[[i, j], [i, j]] += weight
        matrix[i, j] = matrix[j, i] = -weight
    vector = np.round(np.linalg.eigh(matrix)[1][:, 1], 6)
    if vector[0] > vector[-1]:
        vector = -vector
    return sorted(group, key=lambda index: (vector[place[index]], place[index]))

