"""The pins that the list claims are not those that the marking shows."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("claim-contradicts-marking", "orientation", EXPLANATION)
