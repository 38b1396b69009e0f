"""Which parts the current limit of a supply does not protect.

Input: a circuit and a supply. Output: parts with the most that they can take, and the sentence about those that take less.
"""

from __future__ import annotations

from collections.abc import Sequence

import networkx as nx

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.sentences.words import listed
from grammar import show_quantity
from parts_library.schema import Bipolar, Chip, Led, Mosfet, Relay


def weak_parts(circuit: Circuit, supply: BenchPart) -> list[tuple[float, str]]:
    """The parts on this supply that too much current kills, each with the most that it can take."""
    return [(amps, part.name) for key, part in circuit.bench.parts.items()
            if (amps := _most_amps(part)) is not None and _shares_net(circuit, key, supply.name.lower())]


def unprotected(weak: Sequence[tuple[float, str]]) -> str:
    """The parts that die below the limit: it does not protect them."""
    if not weak:
        return ""
    names = [name for _, name in sorted(weak)]
    if len(names) > MOST_NAMES:
        names = [*names[:MOST_NAMES - 1], f"{len(names) - MOST_NAMES + 1} more"]
    return f"It does not protect {listed(names)}, which can take {show_quantity(min(weak)[0], 'A')}"


MOST_NAMES = 3


def _shares_net(circuit: Circuit, key: str, supply: str) -> bool:
    """True where a way leads from the supply's plus to the part, through parts but through no relay, controller or other
    supply."""
    closed = [other for other, part in circuit.bench.parts.items()
              if part.is_controller or isinstance(part.entry, Relay | Chip) or (part.is_supply and other != supply)]
    grounds = {circuit.pin_net[other, pin] for other, part in circuit.bench.parts.items() for pin in ("-", "GND")
               if (part.is_supply or part.is_controller) and (other, pin) in circuit.pin_net}
    graph = circuit.graph.subgraph(node for node in circuit.graph if node[1] not in closed and
                                   not (node[0] == "net" and node[1] in grounds))
    ends = ("part", key), ("part", supply)
    return all(end in graph for end in ends) and bool(nx.has_path(graph, *ends))


def _most_amps(part: BenchPart) -> float | None:
    entry = part.entry
    if isinstance(entry, Led):
        return float(entry.current)
    if isinstance(entry, Bipolar):
        return float(entry.ic)
    if isinstance(entry, Mosfet):
        return float(entry.id)
    return None
