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
# What it means
The list says `keep A apart from B`, but a wire or a part leads from one side to the other. An optocoupler passes its
signal as light, and only works as a barrier if nothing else joins the two sides: not plus, not minus, not a resistor.

# Why it matters
The barrier is there for a reason: 12 V with spikes of 50 V on a model railway's track, against a controller that takes
5.5 V. A joined ground lets those spikes in, up to several amps for an instant. The optocoupler's LED needs only its own
loop, about 11 mA here, so no wire between the sides is needed.

# A list that has it
title "Model signal: the track side told to the controller"
board half
supply TRACK 12V
part U1 controller-5v
part OC PC817 across 10-11 notch row 10
part R1 1k in b5 b10
wire TRACK.+ to a5
wire TRACK.- to a11
wire U1.D4 to j10
wire U1.GND to j11
pin U1.D4 pullup
keep TRACK apart from U1
wire b11 to i11

# The same list mended
title "Model signal: the track side told to the controller"
board half
supply TRACK 12V
part U1 controller-5v
part OC PC817 across 10-11 notch row 10
part R1 1k in b5 b10
wire TRACK.+ to a5
wire TRACK.- to a11
wire U1.D4 to j10
wire U1.GND to j11
pin U1.D4 pullup
keep TRACK apart from U1

# How to check with a meter
Power off and all supplies unplugged, meter on the highest ohms range: from the minus of the track supply to GND of the
controller it must read OL (no connection), and from plus to GND too. Any number of ohms shows a bridge.

# Source
Input and output of the PC817 are isolated for 5 kV (rms): PC817X Series High Density Mounting Type Photocoupler, Sharp.
What isolation is for and how far apart the sides must be: IEC 62368-1 (from memory).
"""

RULE = Rule("isolation-bridged", "grounding", EXPLANATION, find)
