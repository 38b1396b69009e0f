"""Fixes of several causes, made together: while one fault keeps a load dead, a wrong fix of another one passes for right.

Input: the causes of a list, each with what is proven for it alone; output: the same, with the fixes first that leave no fault
when all are made.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from msgspec import structs

from checker.explaining.controls import heeded
from checker.explaining.model import WEIGHTS, WORTH_CURING, Explained
from checker.explaining.pairs import merged
from checker.fixes.candidate import Candidate
from checker.fixes.draft import applied
from checker.survey import Survey, survey
from parts_library import Library

MOST_CAUSES, MOST_EACH, MOST_SETS = 3, 3, 9
"""Causes and fixes of each that are combined: what three hands' slips leave open is not settled by more."""


def together(base: Survey, explained: Sequence[Explained], library: Library) -> tuple[list[Explained], bool]:
    """The causes with their fixes in the order in which they agree, and whether the first fixes cure the list."""
    grave = [e for e in explained if e.root.severity in WORTH_CURING]
    open_ones = [e for e in grave if e.fixes][:MOST_CAUSES]
    is_whole = len(open_ones) == len(grave)
    if len(open_ones) < 2:
        return list(explained), is_whole
    sets = sorted(product(*(range(min(len(e.choices), MOST_EACH)) for e in open_ones)), key=sum)[:MOST_SETS]
    lines = base.bench.tree.lines
    made = [(numbers, edits) for numbers in sets
            if (edits := merged([e.choices[n] for e, n in zip(open_ones, numbers)], len(lines))) is not None]
    if not made:
        return list(explained), False
    surveys = survey([applied(lines, edits) for _, edits in made], library)
    (best, _), after = min(zip(made, surveys, strict=True), key=lambda pair: (_harm(pair[1]), sum(pair[0][0])))
    chosen = {id(e): e.choices[n] for e, n in zip(open_ones, best)}
    ordered = [structs.replace(e, fixes=_first(chosen[id(e)], e)) if id(e) in chosen else e for e in explained]
    return ordered, is_whole and _harm(after)[0] == 0.0


def _harm(after: Survey) -> tuple[float, int]:
    """What is still wrong, and how few loads and controls do their work."""
    weight = sum(WEIGHTS[f.severity] for f in after.found if f.severity in WORTH_CURING)
    return weight, -len(after.working) - (len(heeded(after.operatings[0])) if after.operatings else 0)


def _first(chosen: Candidate, explained: Explained) -> tuple[Candidate, ...]:
    """The chosen fix before the others that are as likely by themselves; alone where it was not among those."""
    if chosen not in explained.fixes:
        return (chosen,)
    return (chosen, *(fix for fix in explained.fixes if fix is not chosen))
