"""A transistor turned round, or sold with its legs in another order."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("transistor-legs-swapped", "orientation", EXPLANATION)
