"""Holding a rating against its limit: the finding that most rules of numbers make."""

from __future__ import annotations

from checker.rules.base import Found
from checker.rules.case import Case, Mask
from checker.rules.ratings import Rating

ROUNDING = 1.0005
"""A limit counts as passed from half a per mille above it: less is below what the models can tell."""


def over_limit(case: Case, rating: Rating, rule: str, words: str, mask: Mask | None = None,
               severity: str = "") -> Found | None:
    """The finding that a rating is passed, in its worst point, or None where it is kept."""
    worst = case.worst(rating.values, case.mask("steady") if mask is None else mask)
    if worst is None or worst[0] <= rating.limit * ROUNDING:
        return None
    value, point = worst
    part = case.bench.parts[rating.key]
    return Found(
        rule=rule, severity=severity or rating.severity, span=part.span, case=words, parts=(part.name,),
        points=tuple(case.where(rating.key, pin) for pin in rating.pins[:2]),
        facts={"of": rating.of},
        evidence=(case.evidence(rating.quantity, rating.of, rating.unit, value, point, rating.limit,
                                values=rating.values),),
        weight=value / rating.limit if rating.limit else value)
