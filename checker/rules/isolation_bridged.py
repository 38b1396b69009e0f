"""Two sides that are to be kept apart share a conductor."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx

from checker.rules.base import Found, Rule
from checker.rules.case import Case


def find(case: Case) -> Iterator[Found]:
    """``keep A apart from B``: a path of conductors and parts leads from one side to the other."""
    graph = case.current_graph
    for keep in case.bench.keeps:
        sides = [keep.one.text.lower(), keep.other.text.lower()]
        if any(side not in case.bench.parts for side in sides):
            continue
        nets = [{case.net(side, pin) for pin in case.bench.parts[side].pins if (side, pin) in case.circuit.touched}
                for side in sides]
        path = _path(graph, *nets)
        if path is not None:
            yield Found(rule="isolation-bridged", severity="fault", span=keep.span, case="path",
                        parts=tuple(case.name(side) for side in sides),
                        facts={"path": ", ".join(case.name(key) for key in path)})


def _path(graph: nx.MultiGraph[int], one: set[int], other: set[int]) -> list[str] | None:
    """The parts on the shortest path between two sets of nets; empty where they share a net, None where there is none."""
    if one & other:
        return []
    simple: nx.Graph[int] = nx.Graph(graph)
    for start in sorted(one):
        for end in sorted(other):
            if start in simple and end in simple and nx.has_path(simple, start, end):
                nets = nx.shortest_path(simple, start, end)
                return [next(iter(graph[u][v].values()))["part"] for u, v in zip(nets, nets[1:])]
    return None

EXPLANATION = """
"""

RULE = Rule("isolation-bridged", "grounding", EXPLANATION, find)
