"""The type is sold in more than one pin order, and it matters."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("pin-order-varies", "orientation", EXPLANATION)
