"""A + rail and a - rail of the board are joined."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.supply_shorted import is_lithium, rails_joined, terminals
from checker.seating.boards import RailPiece
from grammar.syntax_tree import Span


def find(case: Case) -> Iterator[Found]:
    """Sources that meet both a + and a - rail of one net."""
    for key, part, plus, minus in terminals(case):
        if not rails_joined(case, key, plus, minus):
            continue
        worst = case.worst(np.abs(case.amps(key, plus)), case.mask("steady"))
        if worst is not None:
            rails = sorted({str(c) for c in case.circuit.members[case.net(key, plus)] if isinstance(c, RailPiece)})
            yield Found(rule="rails-shorted", severity="danger" if is_lithium(part) else "damage",
                        span=joining_span(case, case.net(key, plus), part.span), case="rails", parts=(part.name,),
                        points=tuple(rails), weight=100.0 + worst[0],
                        evidence=(case.evidence("current", part.name, "A", *worst),))


def joining_span(case: Case, net: int, otherwise: Span) -> Span:
    """The line of the last jumper of a net: the one that was added to a board that had been right before."""
    spans = [jumper.span for jumper in case.circuit.jumpers if case.circuit.net_of[jumper.conductors[0]] == net]
    return max(spans, default=otherwise)

EXPLANATION = """
# What it means
A wire joins a plus rail to a minus rail, directly or by way of other rails. Then the two ends of the supply meet,
with nothing between them but metal. Here the wire that should join the two minus rails ends in the plus rail.

# Why it matters
Only the resistance inside the supply holds the current back. Four fresh AA cells of 0.15 Ω each give about 10 A, a
9 V block about 5 A, a lithium cell 30 A and more. Cells and wires are too hot to touch within seconds; a lithium
cell can catch fire.

# A list that has it
title "Bird feeder, perch lamp"
board half
supply PACK aa-pack-4 on L+ L-
part R1 220 in g5 g10
part LED1 led red in h10 h13 long h10
wire red R+5 to j5
wire black j13 to R-13
wire red L+30 to R+30
wire black L-29 to R+29

# The same list mended
title "Bird feeder, perch lamp"
board half
supply PACK aa-pack-4 on L+ L-
part R1 220 in g5 g10
part LED1 led red in h10 h13 long h10
wire red R+5 to j5
wire black j13 to R-13
wire red L+30 to R+30
wire black L-29 to R-29

# How to check with a meter
Before the supply is connected: meter set to resistance, one probe in each rail. Under about 5 Ω counts as a short. A
motor or a relay coil can read as little as 10 Ω, so compare with what your parts should give. With a bench supply,
set the limit to 50 mA first: a short shows as 0 V at that limit, and nothing is hurt.

# Source
Alkaline-Manganese Dioxide, technical bulletin, Duracell, section 5.5 (internal resistance; the value of 0.15 Ω
from memory). About 5 Ω as a limit: common practice, no source.
"""

RULE = Rule("rails-shorted", "shorts", EXPLANATION, find)
