"""A source whose two ends are joined by next to nothing."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import numpy as np

from checker.bench.model import BenchPart
from checker.operating.points import Point
from checker.rules.base import Facts, Found, Rule
from checker.rules.case import Case
from checker.rules.regions import closed_contacts
from checker.seating.boards import RailPiece
from parts_library.schema import Controller, SupplyKind

COLLAPSED = 0.25
"""A supply held below a quarter of its voltage counts as shorted: a load that it is made for does not do that."""

LEAST_AMPS = 0.001
"""A board that nothing feeds is no source: what its joined pins carry is a leakage."""

PULLED_DOWN = 0.9
"""Below this share of its voltage a supply is looked at for contacts that join its ends: strong cells stay above a quarter."""


def find(case: Case) -> Iterator[Found]:
    """Sources whose terminals are in one net, or whose voltage collapses in some state."""
    for key, part, plus, minus in terminals(case):
        if rails_joined(case, key, plus, minus):
            continue
        amps = np.abs(case.amps(key, plus))
        if case.net(key, plus) == case.net(key, minus):
            worst = case.worst(amps, case.mask("steady"))
            if worst is not None and worst[0] > LEAST_AMPS:
                yield _short(case, key, part, plus, minus, "joined", *worst)
            continue
        nominal = float(part.entry.voltage or 0.0) if isinstance(part.entry, SupplyKind) else 0.0
        through = _through_contacts(case, key, plus, minus, nominal)
        if through is not None and not _is_held_back(part):
            yield _short(case, key, part, plus, minus, "contacts", float(amps[through[0]]), case.operating.points[through[0]],
                         {"contacts": " ".join(through[1])})
        elif nominal:
            worst = case.worst(case.volts(key, plus, minus), case.mask("nominal"), least=True)
            if worst is not None and worst[0] < COLLAPSED * nominal and not _is_held_back(part):
                at = case.operating.points.index(worst[1])
                yield _short(case, key, part, plus, minus, "collapsed", float(amps[at]), worst[1])


def _through_contacts(case: Case, key: str, plus: str, minus: str, nominal: float) -> tuple[int, list[str]] | None:
    """The nominal point with the most current in which nothing but contacts joins the ends of a source, and whose contacts."""
    volts, mask = case.volts(key, plus, minus), case.mask("nominal")
    low = np.flatnonzero(mask & (np.abs(case.amps(key, plus)) > LEAST_AMPS)
                         & (volts < PULLED_DOWN * max(nominal, float(volts[mask].max(initial=0.0)))))
    for number in sorted(low.tolist(), key=lambda row: -abs(float(case.amps(key, plus)[row]))):
        graph = closed_contacts(case, case.operating.points[number].state)
        one, other = case.net(key, plus), case.net(key, minus)
        if one in graph and other in graph and nx.has_path(graph, one, other):
            way = nx.shortest_path(graph, one, other)
            return number, list(dict.fromkeys(graph.edges[a, b]["part"] for a, b in zip(way, way[1:], strict=False)))
    return None


def _is_held_back(part: BenchPart) -> bool:
    """A supply with an electronic limit below an ampere is made to be loaded so; supply-overload speaks of it."""
    return part.limit is not None and part.limit < 0.2


def terminals(case: Case) -> Iterator[tuple[str, BenchPart, str, str]]:
    """Every source: part and its two terminals; a controller's are 5V and GND."""
    for key, part in case.parts(SupplyKind):
        yield key, part, "+", "-"
    for key, part in case.parts(Controller):
        if (key, "5V") in case.circuit.touched:
            yield key, part, "5V", "GND"


def rails_joined(case: Case, key: str, plus: str, minus: str) -> bool:
    """True where the short is a + and a - rail of the board that are one net."""
    net = case.net(key, plus)
    if net != case.net(key, minus):
        return False
    signs = {conductor.sign for conductor in case.circuit.members[net] if isinstance(conductor, RailPiece)}
    return len(signs) == 2


def is_lithium(part: BenchPart) -> bool:
    """Lithium cells give tens of amps into a short and catch fire."""
    return isinstance(part.entry, SupplyKind) and part.entry.chemistry.lower().startswith("li")


def _short(case: Case, key: str, part: BenchPart, plus: str, minus: str, words: str, amps: float,
           point: Point, facts: Facts | None = None) -> Found:
    return Found(rule="supply-shorted", severity="danger" if is_lithium(part) else "damage", span=part.span, case=words,
                 parts=(part.name,), points=(case.where(key, plus), case.where(key, minus)), facts=facts or {},
                 weight=100.0 + amps, evidence=(case.evidence("current", part.name, "A", amps, point),))

EXPLANATION = """
# What it means
The two ends of a supply are joined by next to nothing: a wire, or a button or a switch with nothing after it. Here
it happens only while the button is pressed, because a wire goes round the resistor and the LED. A short that needs
a button is easy to overlook before power is on.

# Why it matters
The supply gives all it can. Four AA cells push about 9 A through a small button that is made for 50 mA, so its
contacts weld and it never opens again. The voltage falls to almost nothing, and everything else on the board
stops.

# A list that has it
title "Stage prop, lamp on a small board"
board mini
supply PACK aa-pack-4 on a2 a9
part S1 button across 2-4
part R1 220 in g4 g7
part LED1 led red in h7 h9 long h7
wire e9 to f9
wire j4 to j9

# The same list mended
title "Stage prop, lamp on a small board"
board mini
supply PACK aa-pack-4 on a2 a9
part S1 button across 2-4
part R1 220 in g4 g7
part LED1 led red in h7 h9 long h7
wire e9 to f9

# How to check with a meter
With the supply off the board, put the meter set to resistance across the two points where it will go. Press each
button and move each switch in turn: under about 5 Ω in any position is a short. Then look for the wire that runs
past the part which should hold the current back.

# Source
Alkaline-Manganese Dioxide, technical bulletin, Duracell, section 5.5 (internal resistance). Contacts of a small
push button, 50 mA at 12 V: common practice, no source.
"""

RULE = Rule("supply-shorted", "shorts", EXPLANATION, find)
