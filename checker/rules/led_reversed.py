"""An LED that points the wrong way."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import Led, LedGroup

BLOCKED_VOLTS = 1.5
"""Reverse voltage from which a turned LED would light: below it no colour does."""


def find(case: Case) -> Iterator[Found]:
    """LEDs that never light and block a voltage that would light them the other way; above the reverse rating damage."""
    for key, part in case.parts(Led):
        entry = part.entry
        assert isinstance(entry, Led)
        reverse = case.volts(key, "K", "A")
        worst = case.worst(reverse, case.mask("steady"))
        if worst is not None and worst[0] > entry.reverse_voltage * 1.0005:
            yield _found(case, key, part, "damage", *worst, float(entry.reverse_voltage))
            continue
        nominal = case.worst(reverse, case.mask("nominal"))
        lit = case.worst(case.amps(key, "A"), case.mask("nominal"))
        if nominal is not None and lit is not None and nominal[0] > BLOCKED_VOLTS and lit[0] < 1e-4:
            yield _found(case, key, part, "fault", *nominal, None)
    for rating in ratings_of(case):
        if rating.kind == "reverse" and isinstance(case.bench.parts[rating.key].entry, LedGroup):
            if (found := over_limit(case, rating, "led-reversed", "group")):
                yield found


def _found(case: Case, key: str, part: BenchPart, severity: str, value: float, point: Point,
           limit: float | None) -> Found:
    return Found(rule="led-reversed", severity=severity, span=part.span, case=severity, parts=(part.name,),
                 points=(case.where(key, "A"), case.where(key, "K")), weight=value,
                 evidence=(case.evidence("reverse voltage", part.name, "V", value, point, limit),))

EXPLANATION = """
"""

RULE = Rule("led-reversed", "orientation", EXPLANATION, find)
