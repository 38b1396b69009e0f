"""The colour bands say another value than the list."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("value-contradicts-bands", "function", EXPLANATION)
