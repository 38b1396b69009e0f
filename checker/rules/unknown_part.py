"""A part that the library does not know."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("unknown-part", "reading", EXPLANATION)
