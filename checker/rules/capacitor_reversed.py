"""A polarised capacitor with its plus leg at the lower voltage."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import Capacitor


def find(case: Case) -> Iterator[Found]:
    """Polarised capacitors that see more reverse voltage than they stand."""
    for rating in ratings_of(case):
        if rating.kind == "reverse" and isinstance(case.bench.parts[rating.key].entry, Capacitor):
            if (found := over_limit(case, rating, "capacitor-reversed", "part")):
                yield found

EXPLANATION = """
"""

RULE = Rule("capacitor-reversed", "orientation", EXPLANATION, find)
