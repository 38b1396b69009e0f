"""A junction above its limit though the power rating at 25 °C is kept."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of


def find(case: Case) -> Iterator[Found]:
    """Junction temperature at 40 °C ambient above the limit, where too-much-power does not say it already."""
    overloaded = set()
    for rating in ratings_of(case):
        if rating.kind == "power" and over_limit(case, rating, "too-hot", "part", case.mask("heat")):
            overloaded.add(rating.key)
        elif rating.kind == "junction" and rating.key not in overloaded:
            if (found := over_limit(case, rating, "too-hot", "part", case.mask("heat"))):
                yield found

EXPLANATION = """
"""

RULE = Rule("too-hot", "current", EXPLANATION, find)
