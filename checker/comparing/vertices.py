"""Two forms as one graph with coloured vertices, for refinement.

Input: the forms of the reference and of the given list. Output: a ``Pairing`` problem: vertices of both sides in one
numbering, edges with labels, first colours. A series of two-terminal parts can be taken as a bundle whose order does not
matter.
"""

from __future__ import annotations

import networkx as nx
from msgspec import Struct

from checker.comparing.form import Form
from checker.comparing.kinds import Unlike, unlike, values
from checker.comparing.series import chains_of
from parts_library.schema import AnyEntry, SupplyKind


class Vertices(Struct, frozen=True):
    """``edges[v]`` are the (label, other vertex) of a vertex; ``colour[v]`` its first colour; vertices below ``border``
    are those of the reference. ``block_of`` and ``net_of`` say what a vertex is in its own form."""

    edges: list[list[tuple[str, int]]]
    colour: list[object]
    border: int
    block_of: dict[int, int]
    net_of: dict[int, int]

    def neighbours(self, vertex: int) -> list[int]:
        return [other for _, other in self.edges[vertex]]


class Likes(Struct, frozen=True):
    """Which entries of two lists count as alike: ``cluster`` by identity, ``supply_volts`` of the reference."""

    cluster: dict[tuple[object, ...], int]
    supply_volts: float
    known: dict[tuple[tuple[object, ...], tuple[object, ...]], Unlike | None]

    def unlike(self, reference: AnyEntry, given: AnyEntry) -> Unlike | None:
        key = identity(reference), identity(given)
        if key not in self.known:
            self.known[key] = unlike(reference, given, self.supply_volts)
        return self.known[key]


def identity(entry: AnyEntry) -> tuple[object, ...]:
    """What makes two entries of one library the same: the name and the values filled in."""
    return (entry.name, *((value, tolerance) for _, value, _, tolerance in values(entry, entry)))


def likes_of(reference: Form, given: Form) -> Likes:
    """Clusters of entries that are alike; between two of a cluster there may be a chain of others."""
    volts = sum(float(block.entry.voltage or 0.0) for block in reference.blocks if isinstance(block.entry, SupplyKind))
    likes = Likes({}, volts, {})
    groups: dict[str, dict[tuple[object, ...], AnyEntry]] = {}
    for block in (*reference.blocks, *given.blocks):
        if block.parent is None:
            groups.setdefault(block.group, {})[identity(block.entry)] = block.entry
    graph: nx.Graph[tuple[object, ...]] = nx.Graph()
    for entries in groups.values():
        graph.add_nodes_from(entries)
        for one, first in entries.items():
            for other, second in entries.items():
                found = likes.unlike(first, second) if one != other else None
                if one != other and (found is None or found.kind == "equivalent-type"):
                    graph.add_edge(one, other)
    likes.cluster.update({key: number for number, found in enumerate(nx.connected_components(graph)) for key in found})
    return likes


def vertices_of(reference: Form, given: Form, likes: Likes, *, bundled: bool = False, relaxed: bool = False) -> Vertices:
    """The two forms as one graph. ``bundled``: series are bundles; ``relaxed``: labels and numbers that only count a
    little are left out."""
    made = Vertices([], [], 0, {}, {})
    _add(made, reference, likes, bundled, relaxed)
    border = len(made.edges)
    _add(made, given, likes, bundled, relaxed)
    return Vertices(made.edges, made.colour, border, made.block_of, made.net_of)


def _add(made: Vertices, form: Form, likes: Likes, bundled: bool, relaxed: bool) -> None:
    chains = chains_of(form) if bundled else []
    inner = {net for chain in chains for net in chain.inner}
    vertex_of_net: dict[int, int] = {}
    for net in form.nets:
        if net not in inner and not _only_idle(form, net):
            vertex_of_net[net] = _vertex(made, "net")
            made.net_of[vertex_of_net[net]] = net
    vertex_of_block: dict[int, int] = {}
    for number, block in enumerate(form.blocks):
        if form.is_idle(number):
            continue
        kind = block.unit if block.numbered and not relaxed else ""
        cluster = likes.cluster[identity(block.entry)] if block.parent is None else -1
        vertex_of_block[number] = _vertex(made, ("block", block.group, cluster, kind))
        made.block_of[vertex_of_block[number]] = number
    outer = {(block, joint): net for chain in chains for block, joint, net in chain.outer()}
    for number, vertex in vertex_of_block.items():
        block = form.blocks[number]
        if block.parent is not None:
            _edge(made, "unit", vertex, vertex_of_block[block.parent])
        for place, joint in enumerate(block.joints):
            net = outer.get((number, place), joint.net)
            label = joint.terminal.loose if relaxed and joint.terminal.loose else joint.terminal.label
            _edge(made, label, vertex, vertex_of_net[net])
    for chain in chains:
        bundle = _vertex(made, "bundle")
        for number in chain.blocks:
            _edge(made, "bundle", bundle, vertex_of_block[number])


def _only_idle(form: Form, net: int) -> bool:
    return all(form.is_idle(block) for block, _ in form.nets[net])


def _vertex(made: Vertices, colour: object) -> int:
    made.edges.append([])
    made.colour.append(colour)
    return len(made.edges) - 1


def _edge(made: Vertices, label: str, one: int, other: int) -> None:
    made.edges[one].append((label, other))
    made.edges[other].append((label, one))
