"""A circuit with one thing changed: a leg on a net of its own, a jumper less, a part bridged, another entry.

Pure functions from circuit to circuit. Nets are worked out anew from the conductors; nothing is read from the text again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import networkx as nx
from msgspec import structs

from checker.bench.model import Bench, BenchPart
from checker.circuit.model import Circuit, Conductor, Jumper, Lead
from parts_library.schema import AnyEntry, Ohms, Percent, Resistor, Watts

PinAt = tuple[str, str]


def rejoined(circuit: Circuit, *, conductors: nx.MultiGraph[Conductor] | None = None,
             conductor_of: Mapping[PinAt, Conductor] | None = None, bench: Bench | None = None,
             jumpers: Iterable[Jumper] | None = None) -> Circuit:
    """The circuit with some of its conductors, pins, jumpers or parts changed, and its nets found anew."""
    conductors = circuit.conductors if conductors is None else conductors
    conductor_of = dict(circuit.conductor_of if conductor_of is None else conductor_of)
    members = {number: tuple(sorted(component, key=repr))
               for number, component in enumerate(nx.connected_components(conductors))}
    net_of = {conductor: number for number, those in members.items() for conductor in those}
    pin_net = {pin: net_of[conductor] for pin, conductor in conductor_of.items()}
    graph: nx.MultiGraph[tuple[str, str | int]] = nx.MultiGraph()
    pins_on: dict[int, list[PinAt]] = {number: [] for number in members}
    for (part, pin), net in pin_net.items():
        graph.add_edge(("part", part), ("net", net), pin=pin)
        pins_on[net].append((part, pin))
    doubtful = [c for net in circuit.uncertain for c in circuit.members[net]]
    return structs.replace(
        circuit, bench=bench or circuit.bench, conductors=conductors, graph=graph, net_of=net_of, pin_net=pin_net,
        pins_on={net: tuple(pins) for net, pins in pins_on.items()}, members=members, conductor_of=conductor_of,
        jumpers=circuit.jumpers if jumpers is None else tuple(jumpers),
        uncertain=frozenset(net_of[c] for c in doubtful if c in net_of))


def without_jumper(circuit: Circuit, jumper: Jumper) -> Circuit:
    """One stretch of wire less; the points that it joined stay."""
    conductors = circuit.conductors.copy()
    one, other = jumper.conductors
    number = next(key for key, data in conductors[one][other].items() if data.get("wire") == jumper.wire)
    conductors.remove_edge(one, other, number)
    return rejoined(circuit, conductors=conductors, jumpers=[j for j in circuit.jumpers if j is not jumper])


def with_leg_open(circuit: Circuit, key: str, pin: str) -> Circuit:
    """A leg that touches nothing: its pin is a conductor of its own."""
    own = Lead(key, pin)
    conductors = circuit.conductors.copy()
    conductors.add_node(own)
    for one, other in getattr(circuit.part(key).entry, "joined", ()):
        if pin in (one, other):
            mate = other if pin == one else one
            at, there = circuit.conductor_of[key, pin], circuit.conductor_of[key, mate]
            if conductors.has_edge(at, there):
                conductors.remove_edge(at, there)
            conductors.add_edge(own, there)
    return rejoined(circuit, conductors=conductors, conductor_of={**circuit.conductor_of, (key, pin): own})


def with_terminal_open(circuit: Circuit, key: str, pin: str) -> Circuit:
    """A supply's lead that is not plugged in, where the list says ``on``."""
    own = circuit.conductor_of[key, pin]
    conductors = circuit.conductors.copy()
    for _, other, number, data in list(conductors.edges(own, keys=True, data=True)):
        if "wire" not in data:
            conductors.remove_edge(own, other, number)
    return rejoined(circuit, conductors=conductors)


def with_pins_exchanged(circuit: Circuit, key: str, order: Mapping[str, str]) -> Circuit:
    """Each pin of ``order`` is where the pin that it maps to was."""
    moved = {(key, pin): circuit.conductor_of[key, was] for pin, was in order.items()}
    places = {(key, pin): circuit.place_of[key, was] for pin, was in order.items()}
    touched = {(key, pin) for pin, was in order.items() if (key, was) in circuit.touched}
    others = {pin for pin in circuit.touched if pin[0] != key or pin[1] not in order}
    changed = structs.replace(circuit, place_of={**circuit.place_of, **places}, touched=frozenset(touched | others))
    return rejoined(changed, conductor_of={**circuit.conductor_of, **moved})


def with_part(circuit: Circuit, key: str, part: BenchPart) -> Circuit:
    """Another part, or the same with another entry, in the place of one."""
    return structs.replace(circuit, bench=structs.replace(circuit.bench, parts={**circuit.bench.parts, key: part}))


def with_entry(circuit: Circuit, key: str, entry: AnyEntry | None) -> Circuit:
    """The part ``key`` as another entry with the same pins; None leaves its legs with nothing between them."""
    return with_part(circuit, key, structs.replace(circuit.part(key), entry=entry))


def with_bridge(circuit: Circuit, key: str, one: str, other: str, ohms: float) -> Circuit:
    """A resistance across two pins of a part, as what breaks inside it leaves."""
    bridge = f"{key} {one}-{other}"
    entry = Resistor(name="bridge", say="a path inside a part", package="off-board", pins=("1", "2"), ohms=Ohms(ohms),
                     tolerance=Percent(0.0), power=Watts(1e3))
    part = BenchPart(bridge, circuit.part(key).statement, entry)
    pins = {(bridge, "1"): circuit.conductor_of[key, one], (bridge, "2"): circuit.conductor_of[key, other]}
    places = {(bridge, "1"): circuit.place_of[key, one], (bridge, "2"): circuit.place_of[key, other]}
    changed = structs.replace(circuit, place_of={**circuit.place_of, **places})
    return rejoined(changed, conductor_of={**circuit.conductor_of, **pins},
                    bench=structs.replace(circuit.bench, parts={**circuit.bench.parts, bridge: part}))


def with_role(circuit: Circuit, key: str, pin: str, role: str) -> Circuit:
    """A controller pin that always does the same, whatever the program says."""
    span = circuit.part(key).span
    roles = {**circuit.bench.roles, (key, pin): ((role,), span)}
    return structs.replace(circuit, bench=structs.replace(circuit.bench, roles=roles))


def fingerprint(circuit: Circuit) -> tuple[object, ...]:
    """What the circuit does depends on nothing else: which pins and conductors share a net, and what the parts are."""
    nets = frozenset(frozenset([*circuit.pins_on[net], *map(repr, members)]) for net, members in circuit.members.items())
    parts = tuple((key, part.entry, part.limit) for key, part in circuit.bench.parts.items())
    roles = sorted((key, roles[0]) for key, roles in circuit.bench.roles.items())
    powers = sorted((key, power.ways) for key, power in circuit.bench.powers.items())
    return nets, repr(parts), repr(roles), repr(powers)
