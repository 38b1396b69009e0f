"""A supply with plus and minus exchanged."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("supply-reversed", "orientation", EXPLANATION)
