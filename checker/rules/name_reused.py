"""A name that is given twice."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("name-reused", "reading", EXPLANATION)
