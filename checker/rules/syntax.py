"""A line that could not be read."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("syntax", "reading", EXPLANATION)
