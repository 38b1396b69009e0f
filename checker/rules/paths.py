"""Between which pins a part can carry current: what the graph of currents is made of."""

from __future__ import annotations

import networkx as nx

from checker.bench.model import BenchPart
from parts_library.schema import Chip, Controller, LedGroup, Relay, Stepper, Switch

Pairs = list[tuple[str, str]]
_known: dict[int, tuple[object, Pairs]] = {}

MOST_KNOWN = 2_000
"""Entries that are remembered: those of the library and of some lists. A list's own values make new entries, so that without a
bound a server would grow with every list."""


def paths_of(part: BenchPart) -> Pairs:
    """The pairs of pins between which a part can carry current. A gate counts as joined to its source, a chip's pin to its
    ground; what is isolated inside (coil and contact, the two sides of an optocoupler) is not joined."""
    entry = part.entry
    if id(entry) not in _known:
        if len(_known) >= MOST_KNOWN:
            del _known[next(iter(_known))]
        # entries hold tables and cannot be keys themselves: their identity is, and the entry is kept alive with it
        _known[id(entry)] = (entry, _paths(part))
    return _known[id(entry)][1]


def _paths(part: BenchPart) -> Pairs:
    entry = part.entry
    if isinstance(entry, Controller):
        return [("GND", pin) for pin in part.pins if pin != "GND"]
    if isinstance(entry, Relay):
        return [("A1", "A2"), *(contact.pins for contact in entry.contacts)]
    if isinstance(entry, Switch):
        return [contact.pins for contact in entry.contacts]
    if isinstance(entry, Stepper):
        return list(entry.coils)
    if isinstance(entry, LedGroup):
        return [(member.anode, member.cathode) for member in entry.members]
    if isinstance(entry, Chip) and not (entry.supply and entry.ground):
        return sorted(_joined_inside(entry))
    if isinstance(entry, Chip) and entry.circuit:
        apart = _apart_from_supply(entry)
        return [*((entry.ground or "", pin) for pin in part.pins if pin != entry.ground and pin not in apart),
                *(pair for pair in sorted(_joined_inside(entry)) if set(pair) <= apart)]
    hub = next((pin for pin in (getattr(entry, "ground", None), "E", "S", "W", "GND") if pin in part.pins), part.pins[0])
    return [(hub, pin) for pin in part.pins if pin != hub]


def _apart_from_supply(entry: Chip) -> set[str]:
    """The pins of an inner circuit without a pin of the chip's supply, inputs and outputs: the lamp side of a fast coupler."""
    near = set(entry.supply_pins)
    near |= {pin for group in entry.inputs for pin in group.pins} | {pin for group in entry.outputs for pin in group.pins}
    near |= {end for stage in entry.amplifiers for end in (stage.plus, stage.minus, stage.output)}
    graph: nx.Graph[str] = nx.Graph()
    graph.add_nodes_from(pin for pin in entry.pins if pin not in near)
    graph.add_edges_from(_joined_inside(entry))
    pieces = [piece for piece in nx.connected_components(graph) if len(piece) > 1]
    return {pin for piece in pieces for pin in piece if not piece & near}


def _joined_inside(entry: Chip) -> set[tuple[str, str]]:
    """The pairs of pins that a chip without common ground joins through its equivalent circuit."""
    graph: nx.Graph[str] = nx.Graph()
    for element in entry.circuit:
        for number in range(1, element.repeat + 1):
            nodes = [name.replace("{n}", str(number)) for name in element.nodes]
            if element.device == "transfer":
                graph.add_edge(*nodes[:2])
                graph.add_edge(*nodes[2:4])
            else:
                graph.add_edges_from((nodes[0], other) for other in nodes[1:])
    pairs: set[tuple[str, str]] = set()
    for component in nx.connected_components(graph):
        pins = sorted(pin for pin in component if pin in entry.pins)
        pairs.update((one, other) for one in pins for other in pins if one < other)
    return pairs
