"""Suspects: every likely single fault of a built board, each as a circuit of its own that can be solved.

Input: a surveyed list. Output: ``Suspect``s. What the hand can do wrong comes from the slips, as edits of the text; what text
cannot say (a leg that makes no contact, a dead part, an empty battery) is done to the circuit itself. ``rewiring`` is the pure
part; one file for each kind of fault; ``generator`` brings them together.
"""

from __future__ import annotations

from checker.suspects.generator import suspects_of
from checker.suspects.model import Suspect

__all__ = ["Suspect", "suspects_of"]
