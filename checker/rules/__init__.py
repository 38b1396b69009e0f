"""The rule catalogue: one literal tuple, in the order in which rules run."""

from __future__ import annotations

from checker.rules.base import Explanation, Found, Rule, read_explanation
from checker.rules.catalogue import RULES

__all__ = ["RULES", "Explanation", "Found", "Rule", "explain", "slugs"]


def slugs() -> tuple[str, ...]:
    """All rules, in the order in which they run."""
    return tuple(rule.slug for rule in RULES)


def explain(slug: str) -> Explanation:
    """The explanation of a rule; KeyError for one that does not exist."""
    return read_explanation({rule.slug: rule for rule in RULES}[slug].explanation)
