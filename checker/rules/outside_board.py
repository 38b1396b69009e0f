"""A hole that the board does not have."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("outside-board", "placement", EXPLANATION)
