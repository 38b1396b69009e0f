"""The JUnit report: valid by the published schema, and it fails where ``legwise check`` does not end with status 0.

The schema is junit-10.xsd of the Jenkins xUnit plugin (see tests/published/SOURCES.md).
"""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import msgspec
import pytest
import xmlschema

from checker.commands.check import status
from checker.report import Page, render
from checker.report.model import Report
from tests.report.formats import SEVERAL
from tests.report.samples import CLEAR, DO_NOT_POWER, LOOK_FIRST, REVERSED, SAMPLES, UNREADABLE, WILL_NOT_WORK

SCHEMA = xmlschema.XMLSchema(Path(__file__).parents[1] / "published/junit-10.xsd")
GONE = msgspec.structs.replace(SEVERAL, unopened=("gone.legs",))


def junit(*reports: Report, page: Page = SEVERAL) -> ElementTree.Element:
    text = render("junit", reports, page)

    SCHEMA.validate(ElementTree.fromstring(text))
    return ElementTree.fromstring(text)


def outcomes(root: ElementTree.Element) -> list[tuple[str, str]]:
    """Each case with what is in it."""
    return [(case.get("name", ""), case[0].tag) for case in root.iter("testcase")]


@pytest.mark.parametrize(
    ("report", "expected"),
    [
        (DO_NOT_POWER, [("verdict", "failure"), ("1. Damage: D1 is the wrong way round [diode-reversed]", "failure"),
                        ("2. Note: PACK has little in reserve when the pump starts [supply-sags]", "system-out")]),
        (UNREADABLE, [("verdict", "error"), ("1. Look: the wire stops after 'to' [syntax]", "failure")]),
        (WILL_NOT_WORK, [("verdict", "failure"),
                         ("1. Fault: no wire joins the ground of U1 to the minus of PACK [grounds-not-joined]", "failure")]),
        (LOOK_FIRST, [("verdict", "failure"),
                      ("1. Look: a 2N2222 is sold as E-B-C and as C-B-E [pin-order-varies]", "failure")]),
        (CLEAR, [("verdict", "system-out")]),
    ],
)
def test_the_verdict_is_one_case_and_every_finding_another(report: Report, expected: list[tuple[str, str]]) -> None:
    assert expected == outcomes(junit(report))


@pytest.mark.parametrize("report", SAMPLES.values(), ids=SAMPLES)
def test_it_fails_exactly_where_check_does_not_end_with_0(report: Report) -> None:
    (suite,) = junit(report)
    failing = int(suite.get("failures", "")) + int(suite.get("errors", ""))

    assert bool(failing) is (status(report) != 0)


def test_the_counts_are_those_of_the_cases() -> None:
    root = junit(DO_NOT_POWER, UNREADABLE, CLEAR, page=GONE)
    counts = [tuple(each.get(key) for key in ("tests", "failures", "errors")) for each in (root, *root)]

    assert [("7", "3", "2"), ("3", "2", "0"), ("2", "1", "1"), ("1", "0", "0"), ("1", "0", "1")] == counts


def test_the_verdict_says_what_to_do_first() -> None:
    first = next(fix.say for fix in DO_NOT_POWER.findings[0].fixes if fix.checked)

    assert f"First: {first}" in (junit(DO_NOT_POWER)[0][1][0].text or "").splitlines()
    assert "First:" not in (junit(CLEAR)[0][1][0].text or "")


def test_a_failure_says_all_that_a_person_needs_to_mend_it() -> None:
    text = junit(DO_NOT_POWER)[0][2][0].text or ""

    assert text.splitlines() == [
        "mister.legs:9:32: damage: D1 is the wrong way round [diode-reversed]",
        "  part   D1   1N4001  in d12 d18 band d12",
        REVERSED.why,
        "- Q1: power 8.4 W, limit 625 mW (13 times the limit), when U1.D9 is high",
        "also: Q1 gets 13 times the power it can stand",
        "also: PACK sags to 6.1 V",
        "also: PUMP carries 2 mA when U1.D9 is high",
        "Fix, checked: turn D1 round: band to d18",
        "  line 9: part   D1   1N4001  in d12 d18 band d18",
        "Checked: the list was run again with that change. The finding is gone and nothing as bad has come in its place.",
    ]


def test_a_file_that_could_not_be_opened_is_an_error_of_its_own() -> None:
    suite = junit(page=GONE)[0]

    assert [("verdict", "error")] == outcomes(suite)
    assert "gone.legs could not be checked" == suite[0][0].get("message")


def test_no_list_at_all_gives_no_text() -> None:
    assert "" == render("junit", [], Page())
