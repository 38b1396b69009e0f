"""Marking: from an outcome to a mark, line by line.

Input: a scheme, an outcome, when it was due and handed in. Output: lines that add up to the points, which lie between 0 and the
maximum. All is counted in whole hundredths, so that the sum is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from math import ceil

from msgspec import Struct

from checker.batch.model import Expectation, Mark, MarkLine, Outcome, Submission
from checker.batch.scheme import Deduction, Scheme
from checker.batch.words import share_alike
from checker.report.model import Finding, Report
from checker.report.words import SEVERITY_WORDS, VERDICT_WORDS

HARMS = ("danger", "damage", "fault")
_DAY = timedelta(days=1)


class Judged(Struct, frozen=True):
    """What can be judged in a whole batch, so that everyone's mark is out of the same: whether there is a reference, and
    whether it has expectations."""

    likeness: bool = False
    expectations: bool = False


def most_of(scheme: Scheme, judged: Judged) -> float:
    """The maximum of a batch."""
    most = scheme.verdict.most
    if scheme.expectations is not None and _counts_expectations(scheme, judged):
        most += scheme.expectations.points
    return most + (scheme.likeness.points if scheme.likeness is not None and judged.likeness else 0.0)


def _counts_expectations(scheme: Scheme, judged: Judged) -> bool:
    return scheme.expectations is not None and (scheme.expectations.whose == "own" or judged.expectations)


def mark(scheme: Scheme, judged: Judged, outcome: Outcome, submission: Submission, due: datetime | None = None) -> Mark:
    """The mark of one submission; without points where the list could not be checked."""
    most = most_of(scheme, judged)
    if outcome.report is None or submission.problem or outcome.uncompared:
        said = submission.problem or outcome.problem or outcome.uncompared
        return Mark(None, most, (MarkLine(f"not marked, a person has to look: {said}", 0.0),))
    lines = [*_verdict(scheme, judged, outcome, outcome.report),
             *_expectations(scheme, judged, outcome.expectations, outcome.report.verdict),
             *_likeness(scheme, judged, outcome), *_deductions(scheme, _own_findings(outcome, outcome.report)),
             *_late(scheme, submission, due)]
    return _summed(scheme, most, lines)


def missing_mark(scheme: Scheme, judged: Judged) -> Mark:
    """The mark of a person who handed in nothing."""
    most = most_of(scheme, judged)
    points = min(scheme.missing.points, most)
    return Mark(points, most, (MarkLine("nothing was handed in", points),))


# ── lines ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _verdict(scheme: Scheme, judged: Judged, outcome: Outcome, report: Report) -> Iterator[MarkLine]:
    likeness = outcome.likeness if judged.likeness else None
    said = f"verdict: {VERDICT_WORDS[report.verdict].lower()}"
    if likeness is not None and likeness < scheme.verdict.least_likeness:
        read = "as far as it could be read, " if report.verdict == "unreadable" else ""
        alike = f"{share_alike(likeness)} alike"
        yield MarkLine(f"{said}; {read}it is another circuit than the one asked for ({alike}), which earns nothing", 0.0)
        return
    points = scheme.verdict.of(report.verdict)
    yield MarkLine(said, _hundredths(points))
    more = min(scheme.verdict.one_fault_away, scheme.verdict.most - points)
    if more > 0 and _one_fault_away(report):
        yield MarkLine("partial credit: one checked change mends all of it", _hundredths(more))


def _one_fault_away(report: Report) -> bool:
    serious = [found for found in report.findings if found.severity in HARMS]
    return len(serious) == 1 and any(fix.checked for fix in serious[0].fixes)


def _expectations(scheme: Scheme, judged: Judged, found: Sequence[Expectation], verdict: str) -> Iterator[MarkLine]:
    if scheme.expectations is None or not _counts_expectations(scheme, judged):
        return
    if not found:
        yield MarkLine("the list states nothing that it should do", 0.0)
    if scheme.expectations.only_if_safe and verdict == "do-not-power":
        yield MarkLine("what must not be powered earns nothing for what it would do", 0.0)
        return
    for share, one in zip(_shares(scheme.expectations.points, len(found)), found):
        yield MarkLine(one.verdict, share if one.met else 0.0)


def _shares(points: float, count: int) -> list[float]:
    """Points in ``count`` parts, whole hundredths each, that add up to all of them."""
    total = round(100 * points)
    return [(total * (number + 1) // count - total * number // count) / 100 for number in range(count)]


def _likeness(scheme: Scheme, judged: Judged, outcome: Outcome) -> Iterator[MarkLine]:
    if scheme.likeness is None or not judged.likeness or outcome.likeness is None:
        return
    form = scheme.likeness
    share = min(1.0, max(0.0, (outcome.likeness - form.none) / (form.full - form.none)))
    said = "the same circuit as the reference" if outcome.same else f"{share_alike(outcome.likeness)} like the reference"
    yield MarkLine(said, _hundredths(form.points * share))


def _own_findings(outcome: Outcome, report: Report) -> list[Finding]:
    """The findings that the reference itself does not have: nobody loses points for what was asked for."""
    return [found for number, found in enumerate(report.findings) if number not in outcome.asked_for]


def _deductions(scheme: Scheme, findings: Sequence[Finding]) -> Iterator[MarkLine]:
    for one in scheme.deduct:
        count = sum(_hit(one, found) for found in findings)
        if count:
            what = one.rule or SEVERITY_WORDS[one.severity or "note"].lower()
            times = f", {count} times" if count > 1 else ""
            capped = f", no more than {one.most:g}" if count * one.points > one.most else ""
            yield MarkLine(f"taken off for {what}{times}{capped}", -_hundredths(min(count * one.points, one.most)))


def _hit(one: Deduction, found: Finding) -> bool:
    return found.rule == one.rule if one.rule is not None else found.severity == one.severity


def _late(scheme: Scheme, submission: Submission, due: datetime | None) -> Iterator[MarkLine]:
    if scheme.late is None:
        return
    due = due or scheme.late.deadline
    if due is None or submission.handed_in is None:
        return
    over = submission.handed_in - (due.astimezone().replace(tzinfo=None) if due.tzinfo else due)
    if over > timedelta(minutes=scheme.late.grace_minutes):
        days = ceil(over / _DAY)
        points = min(days * scheme.late.points_per_day, scheme.late.most)
        yield MarkLine(f"handed in {_long(over)} late (time of {submission.time_from})", -_hundredths(points))


def _long(over: timedelta) -> str:
    minutes = int(over.total_seconds() // 60)
    days, hours = minutes // 1440, minutes // 60 % 24
    if days:
        return f"{days} d {hours} h"
    return f"{hours} h {minutes % 60} min" if hours else f"{minutes} min"


def _summed(scheme: Scheme, most: float, lines: list[MarkLine]) -> Mark:
    """The lines with what brings their sum into the range and to the step of the scheme."""
    total = sum(_cents(line.points) for line in lines)
    top, step = _cents(most), _cents(scheme.step)
    if total < 0:
        lines.append(MarkLine("no mark is below 0", -total / 100))
        total = 0
    rounded = min(top, -(-total // step) * step)
    if rounded != total:
        lines.append(MarkLine(f"rounded up to the next {scheme.step:g}", (rounded - total) / 100))
    return Mark(rounded / 100, most, tuple(lines))


def _cents(points: float) -> int:
    return round(100 * points)


def _hundredths(points: float) -> float:
    return round(points, 2)
