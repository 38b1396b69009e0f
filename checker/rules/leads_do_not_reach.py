"""Legs that are farther apart than they can be bent."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("leads-do-not-reach", "placement", EXPLANATION)
