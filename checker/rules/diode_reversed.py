"""A diode with its band at the wrong end."""

from __future__ import annotations

from checker.rules.base import Rule

EXPLANATION = """
"""

RULE = Rule("diode-reversed", "orientation", EXPLANATION)
