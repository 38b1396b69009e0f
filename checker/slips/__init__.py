"""Slips: which single slip in building a correct list would destroy something, as a sheet to build by.

Input: a text and its report. Output: a ``Sheet``, and what a format makes of it. ``generator`` makes the slips as edits of the
text, ``outcomes`` simulates them all, ``sheet`` groups and prints them.
"""

from __future__ import annotations

from checker.slips.model import Entry, Sheet, Slip
from checker.slips.outcomes import slips_of
from checker.slips.sheet import FORMATS, render

__all__ = ["FORMATS", "Entry", "Sheet", "Slip", "render", "slips_of"]
