"""Two leads in one hole."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("hole-taken", "placement", EXPLANATION)
