"""A bus line that nothing pulls up."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.input_floating import is_held


def find(case: Case) -> Iterator[Found]:
    """Controller pins with the role bus whose released line nothing holds high."""
    for (key, pin), (roles, span) in case.bench.roles.items():
        if "bus" not in roles or "pullup" in roles or (key, pin) not in case.circuit.touched:
            continue
        for point in case.operating.points:
            if point.phase == "steady" and point.state.get(case.pin_name(key, pin)) == "released" \
                    and point.corner.name == "nominal":
                if not is_held(case, key, pin, point):
                    yield Found(rule="no-pull-up", severity="fault", span=span, case="bus", parts=(case.name(key),),
                                points=(case.pin_name(key, pin),), needs_whole_list=True)
                break

EXPLANATION = """
"""

RULE = Rule("no-pull-up", "function", EXPLANATION, find)
