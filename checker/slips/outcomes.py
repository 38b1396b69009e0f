"""What every slip does: all edited lists surveyed, a bounded stack at a time, and what they destroy gathered by part.

Input: a list's text and its report (clear). Output: a Sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.fixes.draft import applied
from checker.judge import HARMFUL, READING_RULES
from checker.report.model import Report
from checker.rules.base import Found
from checker.sentences import message_of
from checker.slips.generator import all_slips
from checker.slips.model import Destructive, Entry, Sheet, Slip
from checker.survey import Survey, survey
from parts_library import Library

STACK = 48
"""Lists solved as one stack: more of them no longer save time, and take memory."""

AFTERWARDS = ("no-clamp",)
"""What happens only when something is switched off again: what is overloaded before that comes first."""


def slips_of(text: str | bytes, report: Report, library: Library) -> Sheet:
    """The sheet of a list that is clear: every slip simulated alone."""
    base = survey([text], library)[0]
    slips = all_slips(base.operatings[0].circuit) if base.operatings else []
    found: list[Destructive] = []
    not_working, unsettled = 0, []
    for slip, after in _simulated(base, slips, library):
        worst = _worst(base, after)
        if worst is not None:
            found.append(_destructive(slip, worst))
        elif not _is_settled(after):
            unsettled.append(f"{slip.at}, {slip.wrong}")
        elif _stops(base, after):
            not_working += 1
    return Sheet(report=report, simulated=len(slips), destructive=len(found), not_working=not_working, unsettled=len(unsettled),
                 entries=_by_part(found), open=tuple(unsettled))


def _simulated(base: Survey, slips: Sequence[Slip], library: Library) -> Iterator[tuple[Slip, Survey]]:
    lines = base.bench.tree.lines
    for first in range(0, len(slips), STACK):
        stack = slips[first:first + STACK]
        yield from zip(stack, survey([applied(lines, slip.edits) for slip in stack], library), strict=True)


def _worst(base: Survey, after: Survey) -> Found | None:
    """The worst that a slip destroys and the correct list does not; what only one reading destroys counts too."""
    before = {f.key for f in base.found if f.severity in HARMFUL}
    harms = [f for one in after.found for f in (one, *(then for answer in one.answers for then in answer.then))
             if f.severity in HARMFUL and f.key not in before]
    return min(harms, key=lambda f: (f.rank, f.rule in AFTERWARDS, -f.weight), default=None)


def _is_settled(after: Survey) -> bool:
    return all(operating.converged.all() for operating in after.operatings) and not any(
        f.rule in READING_RULES and f.severity == "fault" for f in after.found)


def _stops(base: Survey, after: Survey) -> bool:
    """True where something is found that makes it fail, or a load no longer works."""
    before = {f.key for f in base.found}
    return any(f.severity == "fault" and f.key not in before for f in after.found) or not base.working <= after.working


def _destructive(slip: Slip, worst: Found) -> Destructive:
    return Destructive(slip=slip, rule=worst.rule, severity=worst.severity, parts=worst.parts, message=message_of(worst),
                       evidence=worst.evidence, weight=worst.weight)


def _by_part(found: Sequence[Destructive]) -> tuple[Entry, ...]:
    """One entry a part or wire, the worst first, and in it its slips, the worst first."""
    groups: dict[tuple[str, int], list[Destructive]] = {}
    for one in sorted(found, key=_badness):
        groups.setdefault((one.slip.at, one.slip.line), []).append(one)
    return tuple(Entry(at, line, tuple(slips)) for (at, line), slips in groups.items())


def _badness(one: Destructive) -> tuple[bool, float]:
    return one.severity != "danger", -one.weight
