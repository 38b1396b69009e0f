"""Comparing: is a list the same circuit as a reference, does it do what is expected.

Input: two lists up to their circuits. Output: a ``Comparison``, and what a format makes of it. ``shapes`` and ``form`` take
away what does not matter, ``refine`` finds exact sameness, ``search`` the smallest difference, ``telling`` says it.
"""

from __future__ import annotations

from checker.comparing.behaviour import Behaviour, Outcome, behaviour_of, expectations_met
from checker.comparing.compare import compare
from checker.comparing.model import Comparison, Difference
from checker.comparing.sheet import FORMATS, Compared, render

__all__ = [
    "FORMATS",
    "Behaviour",
    "Compared",
    "Comparison",
    "Difference",
    "Outcome",
    "behaviour_of",
    "compare",
    "expectations_met",
    "render",
]
