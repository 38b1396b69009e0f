"""Pairs: two slips can hide each other, so that neither fix clears anything alone; then the likeliest two are tried together."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from checker.fixes.candidate import Candidate
from checker.report.model import Edit

MOST_PAIRS = 12
LIKELY_CAUSES = ("diode-reversed", "led-reversed", "supply-reversed", "grounds-not-joined", "rail-gap")


def paired(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The first pairs of candidates about turned parts and missing joins that touch different lines."""
    likely = [c for c in candidates if c.cause in LIKELY_CAUSES]
    pairs = [_both(one, other) for one, other in combinations(likely, 2) if one.parts != other.parts]
    return [pair for pair in pairs if pair is not None][:MOST_PAIRS]


def _both(one: Candidate, other: Candidate) -> Candidate | None:
    """Two candidates as one, or None where both change a line or both add one."""
    edits = {edit.line: edit for edit in one.edits}
    if any(edit.line in edits for edit in other.edits):
        return None
    edits.update((edit.line, Edit(edit.line, edit.text)) for edit in other.edits)
    return Candidate(say=f"{one.say}; and {other.say}", edits=tuple(edits[line] for line in sorted(edits)),
                     effort=one.effort + other.effort, cause=one.cause, parts=one.parts, points=one.points, line=one.line,
                     facts={**other.facts, **one.facts}, pair=True)
