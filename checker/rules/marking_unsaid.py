"""The list does not say which way a part faces, and it matters."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("marking-unsaid", "orientation", EXPLANATION)
