"""The circuit: a networkx graph of parts and nets for one reading of the list.

Conductors (strips, rails, leads, named nodes) are the nodes of ``conductors``, jumpers its edges; a *net* is a
connected piece of it. ``graph`` joins each part to the nets that its pins are on. Nothing else holds connectivity.
"""

from __future__ import annotations

from typing import TypeAlias

import networkx as nx
from msgspec import Struct

from checker.bench.model import Bench, BenchPart
from checker.seating.boards import RailPiece, Strip
from checker.seating.model import Reading
from grammar.syntax_tree import Span


class Lead(Struct, frozen=True, order=True):
    """A pin of a part that is wired by name: ``part`` in lower case."""

    part: str
    pin: str


class NamedNode(Struct, frozen=True, order=True):
    """A node of the list's own, ``@gate``."""

    name: str


Conductor: TypeAlias = Strip | RailPiece | Lead | NamedNode


class Jumper(Struct, frozen=True):
    """One stretch of a wire statement, from point to point. ``ends`` are the points as written, canonical."""

    conductors: tuple[Conductor, Conductor]
    ends: tuple[str, str]
    span: Span
    wire: int


class Circuit(Struct, frozen=True):
    """One reading, connected.

    ``net_of`` maps a conductor to the number of its net; ``pin_net`` maps (part key, pin) to its net (every pin of
    every known part has one, if only its own); ``pins_on`` and ``members`` are the pins and the conductors of a net;
    ``jumpers`` all stretches of wire; ``conductor_of`` the conductor of each pin; ``place_of`` the point at which a pin
    touches the board, as written ("c10"), or the pin itself ("PUMP.1"); ``touched`` the pins that a leg or a lead is
    at; ``uncertain`` nets that an unknown part or an unread point touches."""

    bench: Bench
    reading: Reading
    conductors: nx.MultiGraph[Conductor]
    graph: nx.MultiGraph[tuple[str, str | int]]
    net_of: dict[Conductor, int]
    pin_net: dict[tuple[str, str], int]
    pins_on: dict[int, tuple[tuple[str, str], ...]]
    members: dict[int, tuple[Conductor, ...]]
    jumpers: tuple[Jumper, ...]
    place_of: dict[tuple[str, str], str]
    conductor_of: dict[tuple[str, str], Conductor]
    touched: frozenset[tuple[str, str]]
    uncertain: frozenset[int]

    def part(self, key: str) -> BenchPart:
        return self.bench.parts[key]

    def is_unseated(self, key: str) -> bool:
        """True for a part on the board whose line does not say which hole its legs are in."""
        return self.bench.parts[key].placed and key not in self.reading.seats

    def net(self, part: str, pin: str) -> int:
        return self.pin_net[part.lower(), pin]

    def is_alone(self, net: int) -> bool:
        """True where a net has one pin and no wire."""
        return len(self.pins_on.get(net, ())) <= 1 and not any(
            isinstance(c, RailPiece) for c in self.members.get(net, ()))
