"""A fix that is shown as checked holds what it says, and mending comes to an end.

Asked of small lists with one slip of the hand. What is known of the edited list is asked of the checker anew, as if its author
had typed it.
"""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.checking import check
from checker.fixes.draft import made
from checker.mend import mend
from checker.report.model import VERDICTS, Finding, Report
from grammar import read
from tests.properties.lists import SMALL, any_list, slipped

SLIPPED = any_list(SMALL, always_slipped=True)


def identity(finding: Finding) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    return finding.rule, finding.parts, finding.points


def broken_promises(report: Report) -> list[str]:
    """The checked fixes of a report that make the verdict worse, or leave their finding."""
    broken = []
    for finding in report.findings:
        for fix in finding.fixes:
            after = check(made(report.lines, fix.edits))
            if VERDICTS.index(after.verdict) < VERDICTS.index(report.verdict):
                broken.append(f"{fix.say}: {report.verdict} becomes {after.verdict}")
            if identity(finding) in {identity(one) for root in after.findings for one in (root, *root.consequences)}:
                broken.append(f"{fix.say}: {finding.rule} is still there")
    return broken


def broken_mending(text: str) -> list[str]:
    """What is wrong with the mended list: worse than before, unreadable, or mended on when it is mended again."""
    once = mend(text)
    before, after = check(text), check(once)
    told = [f"{before.verdict} becomes {after.verdict}"] if VERDICTS.index(after.verdict) < VERDICTS.index(before.verdict) else []
    told += ["cannot be read"] if len(read(once).problems) > len(read(text).problems) else []
    return told + (["is mended on the second time"] if mend(once) != once else [])


@settings(max_examples=14)
@given(SLIPPED)
def test_a_checked_fix_clears_its_finding_and_makes_nothing_worse(text: str) -> None:
    assert [] == broken_promises(check(text)), text


@settings(max_examples=10)
@given(SLIPPED)
def test_mending_helps_and_comes_to_an_end(text: str) -> None:
    assert [] == broken_mending(text), f"{text}\n--- mended ---\n{mend(text)}"


@settings(max_examples=10)
@given(st.sampled_from(sorted(SMALL)))
def test_a_list_with_nothing_to_mend_stays_as_it_is(name: str) -> None:
    text = SMALL[name]

    if not any(finding.fixes for finding in check(text).findings):
        assert text == mend(text)


def test_a_slip_makes_a_finding_with_a_fix() -> None:
    """What is asked above is not asked of lists without a fix only."""
    told = [check(slipped(text, Random(1))) for text in list(SMALL.values())[::20]]

    assert sum(any(finding.fixes for finding in report.findings) for report in told) > len(told) / 3
