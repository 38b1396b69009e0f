"""A point that leads nowhere."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("unknown-point", "reading", EXPLANATION)
