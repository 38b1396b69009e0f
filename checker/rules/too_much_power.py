"""More watts in a part than it can shed."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of


def find(case: Case) -> Iterator[Found]:
    """Power above the rating in the worst corner of steady running, or with a motor stalled at nominal values."""
    for rating in ratings_of(case):
        if rating.kind == "power" and (found := over_limit(case, rating, "too-much-power", "part", case.mask("heat"))):
            yield found

EXPLANATION = """
"""

RULE = Rule("too-much-power", "current", EXPLANATION, find)
