"""Nets in layers for a diagram: plus at the top, minus at the bottom, what lies between by potential.

Input: a survey. Output: ``Levels``: for each net that joins at least two pins its name and its layer, counted from the
top. Potentials are those of a network in which every part is a plain resistor between its pins and every supply holds its
nominal voltage: so they do not hang on what is switched on. A net is one layer below the lowest net that feeds it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import networkx as nx
import numpy as np
from msgspec import Struct

from checker.circuit.model import Circuit, NamedNode
from checker.seating.boards import RailPiece, Strip
from checker.survey import Survey
from parts_library.schema import Bipolar, Chip, Controller, Mosfet, SupplyKind

_WEAK = 0.05
"""How strongly an input or output is tied to its supplies, beside 1 between the two pins of a plain part."""

_PLUS_PIN, _MINUS_PIN = frozenset({"+", "5V", "3V3"}), frozenset({"-", "GND"})


class Net(Struct, frozen=True):
    """A net of the diagram: ``end`` is "plus" or "minus" where a supply holds it, else ""; ``pins`` of parts on it."""

    number: int
    name: str
    layer: int
    end: str
    pins: tuple[tuple[str, str], ...]


class Levels(Struct, frozen=True):
    """All nets by number, and how many layers there are."""

    nets: dict[int, Net]
    layers: int


def levels_of(surveyed: Survey) -> Levels:
    """The nets of the first reading in layers."""
    operating = surveyed.operatings[0]
    circuit = operating.circuit
    nets = {net: touched for net, pins in circuit.pins_on.items() if not circuit.is_alone(net)
            and (touched := tuple(pin for pin in pins if pin in circuit.touched))}
    held = _held(surveyed, nets)
    edges = [(one, other, weight) for one, other, weight in _edges(circuit) if one in nets and other in nets and one != other]
    potential = _potentials(list(nets), held, edges)
    ends = {net: _end(circuit, net, nets[net]) for net in nets}
    order = sorted(nets, key=lambda net: ({"plus": 0, "": 1, "minus": 2}[ends[net]], -round(potential[net], 6), net))
    layers = _layers(order, [(one, other) for one, other, weight in edges if weight >= 1.0], ends)
    return Levels(nets={net: Net(net, _name(circuit, net, nets[net]), layers[net], ends[net], nets[net]) for net in order},
                  layers=max(layers.values(), default=-1) + 1)


# ── potentials ────────────────────────────────────────────────────────────────────────────────────────────────────


def _held(surveyed: Survey, nets: dict[int, tuple[tuple[str, str], ...]]) -> dict[int, float]:
    """Nominal volts of the nets that a supply holds."""
    operating = surveyed.operatings[0]
    mask = operating.mask("nominal") & operating.converged if len(operating.points) else np.zeros(0, dtype=bool)
    held = {}
    for net, pins in nets.items():
        if _end(operating.circuit, net, pins) and mask.any():
            held[net] = float(operating.volts[mask][:, net].mean())
    return held


def _end(circuit: Circuit, net: int, pins: tuple[tuple[str, str], ...]) -> str:
    """"plus" or "minus" where a supply, or a controller as a supply, holds the net; a middle of two supplies is neither."""
    found = set()
    for key, pin in pins:
        entry = circuit.part(key).entry
        if isinstance(entry, SupplyKind) or (isinstance(entry, Controller) and pin in ("5V", "3V3", "GND")):
            found.add("plus" if pin in _PLUS_PIN else "minus" if pin in _MINUS_PIN else "")
    if found == {"plus", "minus"}:
        return "minus" if any(pin == "GND" for _, pin in pins) else ""
    return next(iter(found)) if len(found) == 1 else ""


def _edges(circuit: Circuit) -> Iterator[tuple[int, int, float]]:
    """Pairs of nets between which a part conducts, with how well."""
    for key, part in circuit.bench.parts.items():
        net = {pin: circuit.pin_net[key, pin] for pin in part.pins if (key, pin) in circuit.touched}
        entry = part.entry
        if isinstance(entry, SupplyKind | Controller | Chip):
            supply, ground = _rails_of(entry)
            for pin in net:
                for rail in (supply, ground):
                    if rail in net and pin != rail:
                        yield net[pin], net[rail], _WEAK
        elif isinstance(entry, Bipolar | Mosfet) and len(net) == 3:
            control, one, other = ("B", "C", "E") if isinstance(entry, Bipolar) else ("G", "D", "S")
            yield net[one], net[other], 1.0
            yield net[control], net[other], 1.0
        else:
            for one, other in pairwise(net):
                yield net[one], net[other], 1.0


def _rails_of(entry: SupplyKind | Controller | Chip) -> tuple[str, str]:
    if isinstance(entry, SupplyKind):
        return "+", "-"
    if isinstance(entry, Controller):
        return "5V", "GND"
    return entry.supply or "", entry.ground or ""


def _potentials(nets: list[int], held: dict[int, float], edges: list[tuple[int, int, float]]) -> dict[int, float]:
    """Volts of each net where every edge is a conductance and the held nets are held; free pieces lie at the middle."""
    place = {net: index for index, net in enumerate(nets)}
    matrix = np.eye(len(nets)) * 1e-6
    right = np.full(len(nets), 1e-6 * (sum(held.values()) / len(held) if held else 0.0))
    for one, other, weight in edges:
        i, j = place[one], place[other]
        matrix[[i, j], [i, j]] += weight
        matrix[i, j] -= weight
        matrix[j, i] -= weight
    for net, volts in held.items():
        matrix[place[net], place[net]] += 1e6
        right[place[net]] += 1e6 * volts
    found = np.linalg.solve(matrix, right) if nets else right
    return {net: float(found[index]) for net, index in place.items()}


# ── layers ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _layers(order: list[int], edges: list[tuple[int, int]], ends: dict[int, str]) -> dict[int, int]:
    """The longest way down from a net with nothing above it; what a supply's minus holds is at the very bottom."""
    rank = {net: index for index, net in enumerate(order)}
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(order)
    for one, other in edges:
        graph.add_edge(*sorted((one, other), key=lambda net: rank[net]))
    layers: dict[int, int] = {}
    for net in order:
        above = [layers[other] for other in graph.predecessors(net)]
        layers[net] = max(above, default=-1) + 1 if ends[net] != "plus" else 0
    for net in order:
        if not ends[net] and not any(graph.predecessors(net)):
            below = [layers[other] for other in graph.successors(net)]
            layers[net] = max(0, min(below, default=2) - 1) if below else 1
            layers[net] = max(layers[net], 1) if any(ends.values()) else layers[net]
    for net in order:
        if not ends[net]:
            above = [layers[other] for other in graph.predecessors(net)]
            layers[net] = max([layers[net], *(layer + 1 for layer in above)])
    lowest = max([1, *(layer + 1 for net, layer in layers.items() if ends[net] != "minus")]) if layers else 0
    for net in order:
        if ends[net] == "minus" and not any(ends[other] == "minus" for other in graph.successors(net)):
            layers[net] = lowest
    return layers


# ── names ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _name(circuit: Circuit, net: int, pins: tuple[tuple[str, str], ...]) -> str:
    """What a net is called: after its supply, its own name in the list, its controller's pin, its strip, its first pin."""
    for wanted in (SupplyKind, Controller):
        for key, pin in pins:
            if isinstance(circuit.part(key).entry, wanted):
                name = circuit.part(key).name
                return f"{name} {'−' if pin == '-' else pin}" if wanted is SupplyKind else f"{name}.{pin}"
    members = circuit.members[net]
    for kind in (NamedNode, RailPiece, Strip):
        for member in members:
            if isinstance(member, kind):
                return f"@{member.name}" if isinstance(member, NamedNode) else str(member)
    key, pin = pins[0]
    return f"{circuit.part(key).name}.{pin}"
