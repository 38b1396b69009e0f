"""The SARIF log: valid by the published schema, and its regions and fixes mean what the report means.

The schema is that of the OASIS technical committee (see tests/published/SOURCES.md); sections are those of "Static Analysis
Results Interchange Format (SARIF) Version 2.1.0", OASIS standard.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from jsonschema import Draft7Validator

from checker.checking import check
from checker.examples import names, text_of
from checker.fixes.draft import made
from checker.report import Page, render
from checker.report.model import Edit, Finding, Fix, Report, Span
from checker.report.sarif_format import uri_of
from tests.report.formats import EXPLAINED, RULES, SEVERAL, sarif_of
from tests.report.samples import CLEAR, DO_NOT_POWER, LOOK_FIRST, REVERSED, SAMPLES, UNREADABLE, WILL_NOT_WORK

SCHEMA = json.loads((Path(__file__).parents[1] / "published/sarif-schema-2.1.0.json").read_text(encoding="utf-8"))
VALIDATOR = Draft7Validator(SCHEMA, format_checker=Draft7Validator.FORMAT_CHECKER)
FAULTY = [name for name in names() if "#: verdict" in text_of(name)]


def complaints(reports: list[Report], page: Page = EXPLAINED) -> list[str]:
    return [error.message for error in VALIDATOR.iter_errors(json.loads(render("sarif", reports, page)))]


def with_finding(finding: Finding, report: Report = DO_NOT_POWER) -> Any:
    return sarif_of(msgspec.structs.replace(report, findings=(finding,)))["results"][0]


def patched(lines: tuple[str, ...], change: Any) -> str:
    """The text with the replacements made, as section 3.57.1 says: in order, each placed in the unmodified text."""
    text = "".join(f"{line}\n" for line in lines)
    starts = [sum(len(line) + 1 for line in lines[:number]) for number in range(len(lines) + 1)]
    moves: list[tuple[int, int, str]] = []
    for one in change["replacements"]:
        region = one["deletedRegion"]
        start, end = (starts[region[f"{edge}Line"] - 1] + region[f"{edge}Column"] - 1 for edge in ("start", "end"))
        moves.append((start, end, one["insertedContent"]["text"]))
    for index, (start, end, new) in enumerate(moves):
        moved = sum(len(put) - (to - at) for at, to, put in moves[:index] if to <= start)
        text = text[: start + moved] + new + text[end + moved:]
    return text


@pytest.mark.parametrize("page", [EXPLAINED, Page(), msgspec.structs.replace(SEVERAL, unopened=("gone.legs",))])
@pytest.mark.parametrize("report", SAMPLES.values(), ids=SAMPLES)
def test_every_log_is_valid(report: Report, page: Page) -> None:
    assert [] == complaints([report], page)
    assert [] == complaints([report, CLEAR], page)
    assert [] == complaints([], SEVERAL)


def test_the_schema_refuses_what_is_wrong() -> None:
    log = json.loads(render("sarif", [DO_NOT_POWER], EXPLAINED))
    log["runs"][0]["results"][0]["level"] = "grave"

    assert not VALIDATOR.is_valid(log)


@pytest.mark.parametrize(
    ("report", "levels"),
    [
        (DO_NOT_POWER, ["error", "note"]),
        (WILL_NOT_WORK, ["error"]),
        (LOOK_FIRST, ["warning"]),
        (UNREADABLE, ["warning"]),
        (CLEAR, []),
    ],
)
def test_the_level_follows_the_severity(report: Report, levels: list[str]) -> None:
    assert levels == [each["level"] for each in sarif_of(report)["results"]]


def test_columns_are_code_points_and_lines_end_as_the_reader_ends_them() -> None:
    run = sarif_of(DO_NOT_POWER)

    assert "unicodeCodePoints" == run["columnKind"]
    assert ["\r\n", "\n", "\r"] == run["newlineSequences"]
    assert {"startLine": 9, "startColumn": 32, "endLine": 9, "endColumn": 40} == (
        run["results"][0]["locations"][0]["physicalLocation"]["region"])


def test_every_rule_carries_its_whole_explanation_and_results_point_at_it() -> None:
    run = sarif_of(DO_NOT_POWER)
    rules = run["tool"]["driver"]["rules"]
    found = rules[run["results"][0]["ruleIndex"]]

    assert list(RULES) == [rule["id"] for rule in rules]
    assert "diode-reversed" == found["id"]
    assert "A diode lets current pass from the plain end to the band, and not back." == found["shortDescription"]["text"]
    assert [] == [each.heading for each in RULES["diode-reversed"] if each.text not in found["help"]["text"]]
    assert [] == [each.heading for each in RULES["diode-reversed"] if f"## {each.heading}" not in found["help"]["markdown"]]


def test_the_message_says_what_why_and_how_much_its_first_sentence_alone() -> None:
    text = sarif_of(DO_NOT_POWER)["results"][0]["message"]["text"]

    assert text.startswith("D1 is the wrong way round. Its band should point to the plus side of the pump.")
    assert text.endswith("Q1: power 8.4 W, limit 625 mW (13 times the limit), when U1.D9 is high.")


def test_consequences_are_related_locations() -> None:
    related = sarif_of(DO_NOT_POWER)["results"][0]["relatedLocations"]

    assert [(1, 7), (2, 4), (3, 6)] == [(each["id"], each["physicalLocation"]["region"]["startLine"]) for each in related]


@pytest.mark.parametrize(
    ("edits", "expected"),
    [
        ((Edit(2, "B"),), "a\nB\nc\n"),
        ((Edit(2, ""),), "a\nc\n"),
        ((Edit(3, ""),), "a\nb\n\n"),
        ((Edit(4, "d"),), "a\nb\nc\nd\n"),
        ((Edit(4, "d"), Edit(5, "e")), "a\nb\nc\nd\ne\n"),
        ((Edit(1, "A"), Edit(2, ""), Edit(4, "d")), "A\nc\nd\n"),
    ],
)
def test_a_fix_changes_the_list_as_its_edits_say(edits: tuple[Edit, ...], expected: str) -> None:
    report = msgspec.structs.replace(DO_NOT_POWER, lines=("a", "b", "c"))
    (fix,) = with_finding(msgspec.structs.replace(REVERSED, fixes=(Fix("do it", edits, True),)), report)["fixes"]

    assert expected == patched(report.lines, fix["artifactChanges"][0])


@pytest.mark.parametrize("name", FAULTY)
def test_of_every_example_the_log_is_valid_and_the_fixes_mend_as_ours_do(name: str) -> None:
    report = check(text_of(name).encode(), file=f"{name}.legs")
    results = sarif_of(report)["results"]

    assert [] == complaints([report])
    for finding, result in zip(report.findings, results):
        for fix, shown in zip([each for each in finding.fixes if each.edits], result["fixes"]):
            mended = made(report.lines, fix.edits)
            assert mended.split("\n") == _filled(patched(report.lines, shown["artifactChanges"][0]), mended)


def _filled(text: str, mended: str) -> list[str]:
    """Lines; where the last line of the list goes, the log leaves it empty."""
    lines = text.split("\n")
    return lines if len(lines) == len(mended.split("\n")) else [*lines[:-2], ""]


@pytest.mark.parametrize(
    ("change", "same"),
    [
        (lambda report: {"lines": ("# one line more", *report.lines), "findings": (_moved(report.findings[0]),)}, True),
        (lambda report: {"file": "copy.legs"}, True),
        (lambda report: {"lines": tuple(f"{line}   # said again" for line in report.lines)}, True),
        (lambda report: {"lines": tuple(line.replace("D1", "D2") for line in report.lines)}, False),
        (lambda report: {"findings": (msgspec.structs.replace(report.findings[0], rule="led-reversed"),)}, False),
    ],
)
def test_a_fingerprint_stays_when_lines_move_and_changes_with_the_finding(change: Any, same: bool) -> None:
    prints = [sarif_of(report)["results"][0]["partialFingerprints"]
              for report in (DO_NOT_POWER, msgspec.structs.replace(DO_NOT_POWER, **change(DO_NOT_POWER)))]

    assert same is (prints[0] == prints[1])


def _moved(finding: Finding) -> Finding:
    span = finding.span
    return msgspec.structs.replace(
        finding, span=Span(span.line + 1, span.column, span.end_line + 1, span.end_column), message="in other words")


def test_two_findings_alike_have_two_fingerprints() -> None:
    results = sarif_of(msgspec.structs.replace(DO_NOT_POWER, findings=(REVERSED, REVERSED)))["results"]

    assert 2 == len({json.dumps(each["partialFingerprints"]) for each in results})


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("mister.legs", "mister.legs"),
        ("lists/tide tank.legs", "lists/tide%20tank.legs"),
        ("50%.legs", "50%25.legs"),
        ("a:b?c#d.legs", "a%3Ab%3Fc%23d.legs"),
        ("/home/ida/mister.legs", "file:///home/ida/mister.legs"),
        ("C:\\lists\\mister.legs", "file:///C%3A/lists/mister.legs"),
        ("größe.legs", "gr%C3%B6%C3%9Fe.legs"),
        ("-", "standard-input"),
    ],
)
def test_a_file_is_named_by_a_uri_reference(file: str, uri: str) -> None:
    """RFC 3986: reserved characters are percent-encoded, a first segment has no bare colon (section 4.2)."""
    assert uri == uri_of(file)


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        ("a {0} b", "a {{0}} b"),
        ("see [this](1)", "see [this] (1)"),
        ("R1 {x}](y)", "R1 {{x}}] (y)"),
    ],
)
def test_no_message_holds_a_placeholder_or_a_link_by_accident(said: str, shown: str) -> None:
    """Sections 3.11.5 and 3.11.6."""
    result = with_finding(msgspec.structs.replace(REVERSED, message=said, why="", evidence=()))

    assert f"{shown}." == result["message"]["text"]


def test_a_file_that_could_not_be_opened_is_said() -> None:
    (invocation,) = sarif_of(CLEAR, page=msgspec.structs.replace(SEVERAL, unopened=("gone.legs",)))["invocations"]

    assert invocation["executionSuccessful"] is False
    assert ["gone.legs could not be checked"] == [
        each["message"]["text"] for each in invocation["toolExecutionNotifications"]]
