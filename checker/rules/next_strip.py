"""A lead one row off the strip where it belongs."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("next-strip", "placement", EXPLANATION)
