"""Pairs: two slips can hide each other, so that neither fix clears anything alone; then the likeliest two are tried together.

Or one hides the other, which shows once the first is mended: then the second step is looked for in the list that the first makes.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from msgspec import structs

from checker.explaining.candidates import candidates_of
from checker.explaining.model import WORTH_CURING, Look
from checker.fixes.candidate import Candidate
from checker.report.model import Edit

MOST_PAIRS = 12
MOST_SECOND_STEPS, MOST_LEFT = 12, 6
"""Second steps after each first one, and how many findings that may leave."""
LIKELY_CAUSES = ("diode-reversed", "led-reversed", "capacitor-reversed", "transistor-legs-swapped", "regulator-legs-swapped",
                 "chip-reversed", "supply-reversed", "grounds-not-joined", "rail-gap")
"""Parts turned and joins missing: what two slips of one bench mostly are."""


def paired(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The first pairs of candidates about turned parts and missing joins that touch different lines."""
    likely = [c for c in candidates if c.cause in LIKELY_CAUSES]
    pairs = [_both(one, other) for one, other in combinations(likely, 2) if one.parts != other.parts]
    return [pair for pair in pairs if pair is not None][:MOST_PAIRS]


def next_steps(first_steps: Sequence[Look]) -> list[Candidate]:
    """What could be done after each of these steps, as one candidate with it: the likeliest after every first one, then the
    next."""
    found = []
    for first, after in first_steps:
        curable = [f for f in after.found if f.severity in WORTH_CURING]
        if after.operatings and curable and len(curable) <= MOST_LEFT:
            done = {edit.line for edit in first.edits}
            others = [one for one in candidates_of(after, curable) if not done & {edit.line for edit in one.edits}]
            found += list(enumerate(_then(first, second) for second in _varied(others)[:MOST_SECOND_STEPS]))
    return [candidate for _, candidate in sorted(found, key=lambda one: one[0])]


def _varied(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The first of every kind, as the effort tells kinds apart, then the second of every kind, and so on."""
    kinds: dict[float, int] = {}
    placed = []
    for candidate in candidates:
        kind = round(candidate.effort, 1)
        kinds[kind] = kinds.get(kind, 0) + 1
        placed.append((kinds[kind], candidate))
    return [candidate for _, candidate in sorted(placed, key=lambda one: one[0])]


def _then(first: Candidate, second: Candidate) -> Candidate:
    """The second is an edit of the list that the first makes."""
    edits = {edit.line: edit for edit in (*first.edits, *second.edits)}
    return structs.replace(first, say=f"{first.say}; and {second.say}", edits=tuple(edits[line] for line in sorted(edits)),
                           effort=first.effort + second.effort, pair=True)


def _both(one: Candidate, other: Candidate) -> Candidate | None:
    """Two candidates as one, or None where both change a line or both add one."""
    lines = {edit.line for edit in one.edits}
    if any(edit.line in lines for edit in other.edits):
        return None
    return Candidate(say=f"{one.say}; and {other.say}", edits=tuple(sorted((*one.edits, *other.edits), key=lambda e: e.line)),
                     effort=one.effort + other.effort, cause=one.cause, parts=one.parts, points=one.points, line=one.line,
                     facts={**other.facts, **one.facts}, pair=True)


def merged(candidates: Sequence[Candidate], last: int) -> tuple[Edit, ...] | None:
    """The edits of several candidates of a list with ``last`` lines, added lines one after the other; None where two change the
    same line."""
    changed: dict[int, Edit] = {}
    added: list[str] = []
    for edit in (edit for candidate in candidates for edit in candidate.edits):
        if edit.line > last:
            added.append(edit.text)
        elif edit.line in changed:
            return None
        else:
            changed[edit.line] = edit
    return (*(changed[line] for line in sorted(changed)), *(Edit(last + n, text) for n, text in enumerate(added, 1)))
