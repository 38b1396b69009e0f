"""A rail that stops in the middle of the board."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("rail-gap", "placement", EXPLANATION)
