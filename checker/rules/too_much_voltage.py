"""More volts across a part than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Capacitor, Led, LedGroup


def find(case: Case) -> Iterator[Found]:
    """Voltages above an absolute maximum, in the worst corner of every steady state; pins driven past their supply."""
    for rating in ratings_of(case):
        if rating.kind not in ("voltage", "reverse", "clamp") or _named_by_another_rule(case, rating):
            continue
        if (found := over_limit(case, rating, "too-much-voltage", "pin" if rating.kind == "clamp" else "part")):
            yield found


def _named_by_another_rule(case: Case, rating: Rating) -> bool:
    entry = case.bench.parts[rating.key].entry
    return rating.kind == "reverse" and isinstance(entry, Led | LedGroup | Capacitor)

EXPLANATION = """
"""

RULE = Rule("too-much-voltage", "voltage", EXPLANATION, find)
