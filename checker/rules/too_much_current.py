"""More amps through a part than it is made for, with a resistor in the way that is too small, or none wanted."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.no_current_limit import wants_resistor
from checker.rules.ratings import ratings_of


def find(case: Case) -> Iterator[Found]:
    """Currents above an absolute maximum in the worst corner; LEDs, junctions and bases without any resistor are left to
    no-current-limit."""
    for rating in ratings_of(case):
        if rating.kind in ("current", "fuse") and not wants_resistor(case, rating):
            if (found := over_limit(case, rating, "too-much-current", "fuse" if rating.kind == "fuse" else "part")):
                yield found

EXPLANATION = """
"""

RULE = Rule("too-much-current", "current", EXPLANATION, find)
