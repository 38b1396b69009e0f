"""What a part works together with: the parts around it, as far as the next source; and which contacts are closed in a state."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx

from checker.operating.points import State
from checker.rules.case import Case
from parts_library.schema import Relay, Switch

MOST_PINS = 3
"""Parts with more pins than this end a region: what is at their pins need not have to do with each other."""


def region_of(case: Case, key: str) -> tuple[set[str], set[int]]:
    """The parts and nets that are reached from a relay's coil, or from the pins of a part with few pins, through parts with few
    pins and switches; nets that a source holds are not gone through and not named."""
    part = case.bench.parts[key]
    pins = ("A1", "A2") if isinstance(part.entry, Relay) else part.pins
    stiff = case.stiff
    parts, nets, border = {key}, set[int](), {case.net(key, pin) for pin in pins} - stiff
    while border:
        nets |= border
        met = {other for net in border for other, _ in case.pins_on(net)} - parts
        parts |= met
        border = {case.net(other, pin) for other in met if _is_passed(case, other)
                  for pin in case.bench.parts[other].pins} - stiff - nets
    return parts, nets


def _is_passed(case: Case, key: str) -> bool:
    part = case.bench.parts[key]
    few = len(part.pins) <= MOST_PINS or isinstance(part.entry, Switch)
    return few and not part.is_supply and not part.is_controller


def closed_contacts(case: Case, state: State) -> nx.Graph[int]:
    """The nets that switches and relays join in a state, each edge with the ``part`` that does."""
    graph: nx.Graph[int] = nx.Graph()
    for key, part, one, other, when in _contacts(case):
        if not when or state.get(part) in when:
            graph.add_edge(case.net(key, one), case.net(key, other), part=part)
    return graph


def _contacts(case: Case) -> Iterator[tuple[str, str, str, str, tuple[str, ...]]]:
    for key, part in case.parts(Switch, Relay):
        assert isinstance(part.entry, Switch | Relay)
        for contact in part.entry.contacts:
            yield key, part.name, *contact.pins, contact.when
