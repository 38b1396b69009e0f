"""Readings through several parts at once, from where a probe reaches best: a controller's pin, a plus, a ground.

``U1.D9 to U1.GND through R2 and LED1`` on diode test tries two parts and their wires in one go.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

import networkx as nx

from checker.circuit.model import Circuit, Conductor, Lead
from checker.metering.candidate import Candidate, Kind
from checker.metering.dead import UNPLUGGED, signals
from checker.metering.feeds import feeds
from checker.metering.meter import DIODE_AMPS
from checker.metering.spots import Spots
from checker.operating.models import load_ohms
from checker.sentences.words import listed
from parts_library.schema import AnyEntry, Capacitor, Chip, Diode, Led, LedGroup, Load, Relay, Resistor, Zener

MOST_PARTS = 3
"""Parts in a row that one reading goes through: more of them add up to a number that says little."""

MOST_PATHS = 40


def paths(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    """From each such place to each plus and ground, through two or three parts, at most ``MOST_PATHS``."""
    stiff = {circuit.pin_net[key, pin] for key, *pins in feeds(circuit) for pin in pins}
    starts: list[tuple[Conductor, tuple[str, str] | None]] = [
        (circuit.conductor_of[pin], pin) for pin in signals(circuit) if circuit.pin_net[pin] not in stiff]
    starts += [(found[0], None) for net in sorted(stiff) if (found := spots.of_net(net)) is not None]
    graph = _passive(circuit)
    made = 0
    for start, pin in starts:
        for net in sorted(stiff - {circuit.net_of[start]}):
            end = _met(circuit, spots, net)
            parts = _between(graph, circuit.net_of[start], net, stiff)
            if end is not None and 2 <= len(parts) <= MOST_PARTS and made < MOST_PATHS and not _is_bypassed(circuit, parts):
                made += 1
                yield from _both_ways(circuit, start, end, pin, parts)


def _passive(circuit: Circuit) -> nx.Graph[tuple[str, str | int]]:
    """Parts of two or three legs and their nets, without what lets no steady current through."""
    graph: nx.Graph[tuple[str, str | int]] = nx.Graph()
    for (key, pin), net in circuit.pin_net.items():
        part = circuit.part(key)
        if not (part.is_supply or part.is_controller or isinstance(part.entry, Chip | Capacitor)) and part.entry is not None:
            graph.add_edge(("part", key), ("net", net), pin=pin)
    return graph


def _between(graph: nx.Graph[tuple[str, str | int]], start: int, end: int, stiff: set[int]) -> list[str]:
    """The parts on the shortest way that leaves other pluses and grounds alone; none where there is no way."""
    inner = graph.subgraph(node for node in graph if node[0] == "part" or node[1] not in stiff - {start, end})
    if ("net", start) not in inner or ("net", end) not in inner or not nx.has_path(inner, ("net", start), ("net", end)):
        return []
    return [str(node[1]) for node in nx.shortest_path(inner, ("net", start), ("net", end)) if node[0] == "part"]


def _is_bypassed(circuit: Circuit, parts: list[str]) -> bool:
    """True where what lies beside a diode of the path carries the meter's current instead, at less than the diode needs."""
    return any(_nets(circuit, other) == _nets(circuit, key) and part.entry is not None and _ohms(part.entry) < BYPASS_OHMS
               for key in parts if isinstance(circuit.part(key).entry, Diode | Zener)
               for other, part in circuit.bench.parts.items() if other != key)


def _nets(circuit: Circuit, key: str) -> set[int]:
    return {circuit.pin_net[key, pin] for pin in circuit.part(key).load_pins}


def _ohms(entry: AnyEntry) -> float:
    """Of a resistor or a winding; infinite for what lets no steady current through by itself."""
    if isinstance(entry, Load) and not entry.one_way:
        return load_ohms(entry)[0]
    return float(entry.ohms or inf) if isinstance(entry, Resistor | Relay) else inf


BYPASS_OHMS = 0.5 / DIODE_AMPS
"""The meter's current through less than this leaves a diode under half a volt, at which it does not conduct."""


def _both_ways(circuit: Circuit, start: Conductor, end: Conductor, pin: tuple[str, str] | None, parts: list[str]
               ) -> Iterator[Candidate]:
    """From a controller's pin with the wire pulled out of it, so that the sleeping controller has no part in it."""
    names = listed([circuit.part(key).name for key in parts])
    entries = [circuit.part(key).entry for key in parts]
    kind: Kind = "diode" if any(isinstance(entry, Diode | Led | LedGroup | Zener) for entry in entries) else "ohms"
    position = (f"{circuit.part(pin[0]).name}.{pin[1]}", UNPLUGGED) if pin is not None else ("", "")
    candidate = Candidate(f"{names} in one go", start, end, kind, "path", parts[-1], position)
    yield candidate
    yield candidate.turned


def _met(circuit: Circuit, spots: Spots, net: int) -> Conductor | None:
    """A controller's printed pin where there is one, else the handiest conductor."""
    for conductor in circuit.members[net]:
        if isinstance(conductor, Lead) and circuit.part(conductor.part).is_controller:
            return conductor
    found = spots.of_net(net)
    return found[0] if found is not None else None
