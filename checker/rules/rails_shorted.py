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
"""

RULE = Rule("rails-shorted", "shorts", EXPLANATION, find)
