"""A pin of a chip or controller that gives or takes more than it can."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.outputs_fighting import opponents
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Controller


def find(case: Case) -> Iterator[Found]:
    """Pin currents above their absolute maximum, and the sum of all pins; above the recommended current a note."""
    for rating in ratings_of(case):
        if rating.kind not in ("pin", "pins") or opponents(case, rating):
            continue
        found = over_limit(case, rating, "pin-overload", "all" if rating.kind == "pins" else "pin")
        if found is not None:
            yield found
        elif rating.kind == "pin" and (usual := _usual(case, rating)) is not None:
            worst = case.worst(rating.values, case.mask("nominal"))
            if worst is not None and worst[0] > usual:
                part = case.bench.parts[rating.key]
                yield Found(rule="pin-overload", severity="note", span=part.span, case="usual", parts=(part.name,),
                            points=(rating.of,), facts={"of": rating.of},
                            evidence=(case.evidence("current", rating.of, "A", worst[0], worst[1], usual),))


def _usual(case: Case, rating: Rating) -> float | None:
    """The recommended current of a pin."""
    entry = case.bench.parts[rating.key].entry
    if isinstance(entry, Controller):
        return float(entry.pin_usual)
    return None

EXPLANATION = """
"""

RULE = Rule("pin-overload", "current", EXPLANATION, find)
