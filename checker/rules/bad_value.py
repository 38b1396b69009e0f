"""A value that makes no sense where it stands."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("bad-value", "reading", EXPLANATION)
