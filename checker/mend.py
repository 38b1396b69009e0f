"""Mending: the list with the proven fixes made, one finding after the other.

After each fix the list is surveyed again, so that a fix is made only where it is still needed; comments and layout stay.
"""

from __future__ import annotations

from pathlib import Path

from checker.explain import explain
from checker.fixes.draft import made
from checker.survey import survey
from parts_library import load_library

MOST_ROUNDS = 24
"""Fixes made at most: each round cures at least one finding, and no list on a bench has as many."""


def mend(text: str, kit: Path | None = None) -> str:
    """The text with the first proven fix of each finding made; unchanged where nothing can be proven."""
    library = load_library(kit)
    for _ in range(MOST_ROUNDS):
        surveyed = survey([text], library)[0]
        fixes = [e.fixes[0] for e in explain(surveyed, library) if e.fixes]
        if not fixes:
            break
        text = made(surveyed.bench.tree.lines, fixes[0].edits)
    return text
