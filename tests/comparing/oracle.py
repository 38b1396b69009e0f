"""Two independent judges of small lists, written from the definition and without the comparison's code.

``are_isomorphic`` asks networkx whether two lists are the same graph of parts, pins and nets. ``least_cost`` tries every way
to take the parts of one list for those of the other, every way round, and every way to take nets for nets, and counts the
movements of the hand by the definition in ``checker.comparing.pairing``, whose numbers are written out here once more.
"""

from __future__ import annotations

from itertools import permutations, product

import networkx as nx
from msgspec import Struct

from checker.circuit.model import Circuit

SYMMETRIC = ("resistor", "motor", "ceramic")
DIODES = ("led", "diode")
MISSING, MISSING_PIN, TURNED_PIN, OTHER_VALUE, OTHER_TYPE = 1.0, 0.3, 0.5, 0.5, 0.6


class Item(Struct, frozen=True):
    """A part: its kind, its value or type, and its pins with their nets."""

    kind: str
    value: str
    pins: tuple[str, ...]
    nets: tuple[int, ...]


def items_of(circuit: Circuit) -> list[Item]:
    """The parts of a list of which the first word says the kind: "220" and "1k" are resistors."""
    kinds = {"led": "led", "motor": "motor", "100n": "ceramic", "10n": "ceramic", "1N4148": "diode", "2N2222A": "npn",
             "BC547B": "npn", "9V": "supply"}
    items = []
    for key, part in circuit.bench.parts.items():
        words = [word.text for word in part.statement.words]
        items.append(Item(kinds.get(words[0], "resistor"), " ".join(words), part.pins,
                          tuple(circuit.pin_net[key, pin] for pin in part.pins)))
    return items


def are_isomorphic(one: Circuit, other: Circuit) -> bool:
    """Whether networkx finds a mapping that keeps kinds, values, pins and connections."""
    same = nx.algorithms.isomorphism.categorical_node_match("label", None)
    return bool(nx.is_isomorphic(_graph(one), _graph(other), node_match=same))


def _graph(circuit: Circuit) -> nx.Graph[object]:
    graph: nx.Graph[object] = nx.Graph()
    for number, item in enumerate(items_of(circuit)):
        graph.add_node(("part", number), label=(item.kind, item.value))
        for pin, net in zip(item.pins, item.nets):
            label = "end" if item.kind in SYMMETRIC else pin
            graph.add_node(("pin", number, pin), label=label)
            graph.add_node(("net", net), label="net")
            graph.add_edge(("part", number), ("pin", number, pin))
            graph.add_edge(("pin", number, pin), ("net", net))
    return graph


# ── the least cost, by trying everything ──────────────────────────────────────────────────────────────────────────


def least_cost(one: Circuit, other: Circuit) -> float:
    """The smallest cost of all pairings of parts, orders of their pins, and pairings of nets."""
    return min(_cost_of(mapping, items_of(one), items_of(other)) for mapping in _mappings(items_of(one), items_of(other)))


def _mappings(ours: list[Item], theirs: list[Item]) -> list[list[int | None]]:
    """Every way to give each of ours one of theirs of its family, or none."""
    found: list[list[int | None]] = [[]]
    for item in ours:
        found = [[*before, choice] for before in found
                 for choice in (None, *(n for n, that in enumerate(theirs) if _family(item) == _family(that)))
                 if choice is None or choice not in before]
    return found


def _family(item: Item) -> str:
    return "diode" if item.kind in DIODES else item.kind


def _cost_of(mapping: list[int | None], ours: list[Item], theirs: list[Item]) -> float:
    left = [item for number, item in enumerate(theirs) if number not in mapping]
    left += [item for item, place in zip(ours, mapping) if place is None]
    fixed = sum(MISSING + MISSING_PIN * len(item.pins) for item in left)
    pairs = [(item, theirs[place]) for item, place in zip(ours, mapping) if place is not None]
    fixed += sum(_unlike(a, b) for a, b in pairs)
    ways = [[(order, _turned(a, b, order)) for order in permutations(range(len(a.pins)))] for a, b in pairs]
    return min((fixed + sum(turned for _, turned in chosen) + _nets_cost(pairs, [order for order, _ in chosen])
                for chosen in product(*ways)), default=fixed)


def _unlike(one: Item, other: Item) -> float:
    if one.value == other.value:
        return 0.0
    return OTHER_VALUE if one.kind == other.kind and one.kind in ("resistor", "ceramic") else OTHER_TYPE


def _turned(one: Item, other: Item, order: tuple[int, ...]) -> float:
    if one.kind in SYMMETRIC:
        return 0.0
    return TURNED_PIN * sum(pin != other.pins[place] for pin, place in zip(one.pins, order))


def _nets_cost(pairs: list[tuple[Item, Item]], orders: list[tuple[int, ...]]) -> float:
    """What is left over when nets are paired in the best way."""
    common: dict[tuple[int, int], int] = {}
    for (a, b), order in zip(pairs, orders):
        for net, place in zip(a.nets, order):
            common[net, b.nets[place]] = common.get((net, b.nets[place]), 0) + 1
    weights = {key: 1.0 + 0.1 * min(count - 1, 5) for key, count in common.items()}
    return sum(weights.values()) - _most(weights, sorted({net for net, _ in weights}))


def _most(weights: dict[tuple[int, int], float], nets: list[int], taken: frozenset[int] = frozenset()) -> float:
    """The most that can be saved by giving each of these nets another of the given ones."""
    if not nets:
        return 0.0
    first, rest = nets[0], nets[1:]
    best = _most(weights, rest, taken)
    for (one, other), weight in weights.items():
        if one == first and other not in taken:
            best = max(best, weight + _most(weights, rest, taken | {other}))
    return best
