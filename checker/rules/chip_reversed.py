"""A chip whose supply reaches it backwards."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of


def find(case: Case) -> Iterator[Found]:
    """Chips and modules whose ground stands above their supply, regulators whose input stands below their ground."""
    for rating in ratings_of(case):
        if rating.kind == "chip-reversed" and (found := over_limit(case, rating, "chip-reversed", "part")):
            amps = case.worst(np.abs(case.amps(rating.key, rating.pins[0])), case.mask("steady"))
            current = () if amps is None else (case.evidence("current", rating.of, "A", *amps),)
            yield Found(rule=found.rule, severity=found.severity, span=found.span, case=found.case, parts=found.parts,
                        points=found.points, facts=found.facts, evidence=(*found.evidence, *current),
                        weight=found.weight)

EXPLANATION = """
"""

RULE = Rule("chip-reversed", "orientation", EXPLANATION, find)
