"""A point that can be understood in two ways."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("ambiguous-point", "reading", EXPLANATION)
