"""A regulator turned round, or with two legs exchanged."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("regulator-legs-swapped", "orientation", EXPLANATION)
