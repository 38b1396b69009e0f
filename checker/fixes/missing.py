"""Candidates for a wire that was left out: from where a circuit leads nowhere to each net that a source holds.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import networkx as nx

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.joining import grounds_of, has_loose_end, pluses_of
from checker.fixes.places import Places
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.rules.paths import paths_of
from checker.seating.boards import RailPiece
from parts_library.schema import Capacitor, Chip, Controller, Mosfet, Resistor

RULES = ("never-conducts", "no-return-path", "dangling-lead", "expectation-missed", "never-switches")
PULLING_OHMS = 1000.0
"""A resistor above this pulls a level and carries no load (common practice, no source)."""

MOST_ENDS, MOST_SOURCES = 4, 4
"""How many dead ends are joined to how many nets: the nearest to what was found, supplies of the list first."""


def missing_wires(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A new wire from each dead end near a found part to each net that a source holds."""
    named = {name.lower() for one in found if one.rule in RULES for name in one.parts}
    # a resistor or capacitor with a loose leg may be left over, and what a pin of a chip or a board wants depends on the pin
    named -= {key for key, part in circuit.bench.parts.items() if isinstance(part.entry, Resistor | Capacitor)}
    if not named or any(one.rule == "nothing-powered" for one in found):
        # without a supply in the list no wire is the one that was left out
        return
    dead = _dead_ends(circuit)
    near = [net for net in dict.fromkeys(_nets_near(circuit, named)) if net in dead and _is_wired(circuit, net)
            and not any(isinstance(circuit.part(key).entry, Chip | Controller) for key, _ in circuit.pins_on[net])]
    sources = list(dict.fromkeys([*grounds_of(circuit), *pluses_of(circuit)]))[:MOST_SOURCES]
    for net in near[:MOST_ENDS]:
        for number, source in enumerate(sources):
            places = Places(circuit)
            here, there = places.spot_in_net(net), _spot_of_source(circuit, places, source)
            if here is not None and there is not None:
                later = 0.75 if has_loose_end(circuit, {source}) else 0.0
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire {here} to {there}")
                keys = [key for key, _ in circuit.pins_on[net]]
                yield Candidate(say=f"add a wire from {here} to {there}", edits=draft.edits(), effort=1.6 + later + 0.02 * number,
                                parts=tuple(circuit.part(key).name for key in dict.fromkeys(keys)), points=(here, there),
                                line=circuit.part(keys[0]).span.line, facts={"ends": here})


def _is_wired(circuit: Circuit, net: int) -> bool:
    """False for a pin off the board that is in no wire: a relay's contact may stay open."""
    return any(pin in circuit.touched for pin in circuit.pins_on[net])


def _nets_near(circuit: Circuit, named: set[str]) -> Iterator[int]:
    """The nets of the found parts, then those of their neighbours."""
    own = [net for (key, _), net in circuit.pin_net.items() if key in named]
    yield from own
    beside = {key for net in own for key, _ in circuit.pins_on[net]}
    yield from (net for (key, _), net in circuit.pin_net.items() if key in beside)


def _dead_ends(circuit: Circuit) -> set[int]:
    """The nets through which no load's current can pass: on no loop with a source, by way of what carries a load."""
    graph: nx.Graph[int | str] = nx.Graph()
    stiff = stiff_nets(circuit)
    graph.add_edges_from(("source", net) for net in stiff)
    for key, part in circuit.bench.parts.items():
        if part.entry is None or part.is_supply:
            continue
        if part.is_controller:
            graph.add_edges_from(("source", circuit.pin_net[key, pin]) for pin in part.pins if (key, pin) in circuit.touched)
        elif not isinstance(part.entry, Capacitor) and not (
                isinstance(part.entry, Resistor) and (part.entry.ohms or 0.0) > PULLING_OHMS):
            graph.add_edges_from((circuit.pin_net[key, one], circuit.pin_net[key, other]) for one, other in paths_of(part)
                                 if not (isinstance(part.entry, Mosfet) and "G" in (one, other)))
    alive: set[int | str] = set(stiff)
    for edges in nx.biconnected_component_edges(graph):
        block = {node for edge in edges for node in edge}
        if len(block) > 2 and "source" in block:
            alive |= block
    return {net for net in circuit.pins_on if net not in alive}


def _spot_of_source(circuit: Circuit, places: Places, net: int) -> str | None:
    """A rail of a source's net before a hole of it."""
    rail = next((conductor for conductor in circuit.members[net] if isinstance(conductor, RailPiece)), None)
    return places.rail_spot(rail) if rail is not None else places.spot_in_net(net)
