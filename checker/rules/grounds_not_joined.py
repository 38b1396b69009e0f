"""Two supplies whose circuits touch only by a signal, with no common ground."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.paths import paths_of
from parts_library.schema import Controller, SupplyKind


def find(case: Case) -> Iterator[Found]:
    """Two fed parts of the circuit that are joined only by paths that lie on no loop: no signal current can return."""
    if (found := _by_domain(case)) is not None:
        yield found
        return
    if sum(1 for _ in case.parts(SupplyKind, Controller)) < 2:
        return
    islands = _fed_islands(case)
    for (key, _), (one, other) in _links(case, islands):
        if one == other or _kept_apart(case, one, other):
            continue
        yield _found(case, one, other, case.name(key))
        return


def _by_domain(case: Case) -> Found | None:
    """A controller whose signal reaches a circuit with a source of its own that its ground does not reach: with several
    signal wires that is no bridge of the graph, yet no current can return."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(case.circuit.members)
    for key, part in case.parts():
        if part.is_controller:
            nx.add_path(graph, [case.net(key, pin) for pin in ("GND", "5V", "3V3", "VIN") if (key, pin) in case.circuit.pin_net])
        else:
            graph.add_edges_from((case.net(key, one), case.net(key, other)) for one, other in paths_of(part)
                                 if (key, one) in case.circuit.touched and (key, other) in case.circuit.touched)
    for key, part in case.parts(Controller):
        entry = part.entry
        assert isinstance(entry, Controller)
        is_wired = (key, "GND") in case.circuit.touched
        own = nx.node_connected_component(graph, case.net(key, "GND")) if is_wired else {case.net(key, "GND")}
        for pin in (*entry.digital, *entry.analog):
            if (key, pin) not in case.circuit.touched or case.net(key, pin) in own:
                continue
            domain = nx.node_connected_component(graph, case.net(key, pin))
            for other, _ in case.parts(SupplyKind, Controller):
                ground = case.net(other, "-" if case.bench.parts[other].is_supply else "GND")
                if other != key and ground in domain and not _kept_apart(case, key, other):
                    return _found(case, key, other, case.pin_name(key, pin))
    return None


def _found(case: Case, one: str, other: str, through: str) -> Found:
    part = case.bench.parts[one]
    return Found(rule="grounds-not-joined", severity="fault", span=part.span, case="islands",
                 parts=(case.name(one), case.name(other)), points=(_ground(case, one), _ground(case, other)),
                 facts={"through": through}, weight=10.0, needs_whole_list=True)


def _fed_islands(case: Case) -> dict[int, str]:
    """Net to the source that feeds its piece of the circuit, pieces being cut where no loop passes."""
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(case.circuit.members)
    for one, other, data in case.loop_graph.edges(data=True):
        if (data["part"], data["pins"]) not in case.bridges:
            graph.add_edge(one, other)
    for key, part in case.parts(SupplyKind, Controller):
        pins = ("+", "-") if part.is_supply else ("5V", "GND", "VIN", "3V3")
        wired = [case.net(key, pin) for pin in pins if (key, pin) in case.circuit.pin_net]
        nx.add_path(graph, wired)
        if part.is_controller:
            nx.add_path(graph, [case.net(key, "GND"), *(case.net(key, pin) for pin in part.pins
                                                        if (key, pin) in case.circuit.touched)])
    owner: dict[int, str] = {}
    for key, part in reversed(list(case.parts(SupplyKind, Controller))):
        ground = case.net(key, "-" if part.is_supply else "GND")
        owner.update(dict.fromkeys(nx.node_connected_component(graph, ground), key))
    return owner


def _links(case: Case, islands: dict[int, str]) -> Iterator[tuple[tuple[str, tuple[str, str]], tuple[str, str]]]:
    """Bridging parts with the sources at their two sides: each side's is the one that is nearest."""
    joined: dict[int, list[tuple[int, str]]] = {}
    for one, other, data in case.loop_graph.edges(data=True):
        joined.setdefault(one, []).append((other, data["part"]))
        joined.setdefault(other, []).append((one, data["part"]))
    for key, pins in sorted(case.bridges):
        if case.bench.parts[key].is_controller or case.bench.parts[key].is_supply:
            continue
        sides = [_nearest(joined, islands, case.net(key, pin), key) for pin in pins]
        if sides[0] is not None and sides[1] is not None:
            yield (key, pins), (sides[0], sides[1])


def _nearest(joined: dict[int, list[tuple[int, str]]], islands: dict[int, str], net: int, without: str) -> str | None:
    """The source of the fed piece that is reached from a net without passing a part."""
    seen, level = {net}, {net}
    while level:
        fed = sorted(level & islands.keys())
        if fed:
            return islands[fed[0]]
        level = {other for one in level for other, part in joined.get(one, ()) if part != without} - seen
        seen |= level
    return None


def _kept_apart(case: Case, one: str, other: str) -> bool:
    pair = {case.name(one).lower(), case.name(other).lower()}
    return any({keep.one.text.lower(), keep.other.text.lower()} == pair for keep in case.bench.keeps)


def _ground(case: Case, key: str) -> str:
    pin = "-" if case.bench.parts[key].is_supply else "GND"
    place = case.where(key, pin)
    return place

EXPLANATION = """
# What it means
Two sources feed two parts of the board, and only a signal wire joins them. Current runs in a circle: what goes out on
the signal wire must come back. Without a wire between the two minus sides no current flows in the signal, and 5 V at a
pin means nothing to the other side.

# Why it matters
The base of this transistor needs about 12 mA from pin D9 to switch the pump. With the grounds apart it gets 0 mA, and
the pump never runs, or runs by chance when the USB cable touches something else. Joining minus to minus is safe even
when one source is 6 V and the other 5 V; joining the plus sides is not.

# A list that has it
title "Greenhouse: the mister pump"
board half
supply PACK 6V on L+ L-
part U1 controller-5v
part PUMP motor 6V 100mA stall 300mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
part D1 1N4001 in d12 L+12 band L+12
wire U1.D9 to a16
wire L-10 to a10
wire PUMP.1 to b12
wire PUMP.2 to L+20

# The same list mended
title "Greenhouse: the mister pump"
board half
supply PACK 6V on L+ L-
part U1 controller-5v
part PUMP motor 6V 100mA stall 300mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
part D1 1N4001 in d12 L+12 band L+12
wire U1.D9 to a16
wire L-10 to a10
wire PUMP.1 to b12
wire PUMP.2 to L+20
wire U1.GND to L-3

# How to check with a meter
Power off, meter on the beeper or ohms: one probe on GND of the controller, the other on L-. It must beep, under 1 Ω. With
power on and D9 high, the volts from L- to D9 must be about 5 V; a wandering reading means that they are still apart.

# Source
Common practice, no source; it follows from Kirchhoff's current law, that all current into a node leaves it again.
"""

RULE = Rule("grounds-not-joined", "grounding", EXPLANATION, find)
