"""The report as JUnit XML, for a service that builds and tests: one test suite a list.

Followed is the schema ``junit-10.xsd`` that the Jenkins xUnit plugin publishes (MIT), which the common readers of such
files accept. Its first test case is the verdict, then one for each finding. What makes ``legwise check`` end with a status
other than 0 fails here: the verdict unless it is clear (an error where the list could not all be read), and every finding
but a note. Open questions are not passed over as skipped: nothing was proven of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.markup import Element, tag, xml
from checker.report.model import Finding, Report
from checker.report.page import Page
from checker.report.words import (
    SAFETY,
    SEVERITY_WORDS,
    VERDICT_WORDS,
    about,
    checked_words,
    concise,
    evidence_in_words,
    file_name,
    first_step,
    not_yet_said,
    visible,
)


def render(reports: Sequence[Report], page: Page) -> str:
    """One document; a file that could not be opened is a suite with an error. No text for no list at all."""
    if not reports and not page.several:
        return ""
    suites = [_suite(report) for report in reports] + [_unopened(name) for name in page.unopened]
    return xml(tag("testsuites", suites, name_="legwise", **_sums(suites)), declaration=True)


def _sums(suites: Sequence[Element]) -> dict[str, str]:
    return {key: str(sum(int(suite.get(key, "0")) for suite in suites)) for key in ("tests", "failures", "errors")}


def _suite(report: Report) -> Element:
    cases = [_verdict(report), *(_case(number, finding, report) for number, finding in enumerate(report.findings, 1))]
    known = {"file": report.file, "title": report.title, "by": report.by, "verdict": report.verdict,
             "legwise": report.legwise}
    properties = tag("properties", [tag("property", name_=key, value=visible(value)) for key, value in known.items() if value])
    return _counted(about(report), properties, cases)


def _unopened(name: str) -> Element:
    error = tag("error", type="not-opened", message=visible(f"{file_name(name)} could not be checked"))
    return _counted(file_name(name), None, [tag("testcase", error, name_="verdict", classname=visible(file_name(name)))])


def _counted(name: str, properties: Element | None, cases: Sequence[Element]) -> Element:
    failures, errors = (str(sum(case.find(kind) is not None for case in cases)) for kind in ("failure", "error"))
    return tag("testsuite", properties, cases, name_=visible(name), tests=str(len(cases)), failures=failures, errors=errors,
               skipped="0")


def _verdict(report: Report) -> Element:
    first = first_step(report)
    do_first = [f"First: {first.say}"] if first is not None else []
    said = "\n".join([VERDICT_WORDS[report.verdict], report.headline, *do_first, *report.advice, SAFETY])
    kind = {"clear": "", "unreadable": "error"}.get(report.verdict, "failure")
    return _testcase("verdict", report, kind, report.verdict, report.headline, said)


def _case(number: int, finding: Finding, report: Report) -> Element:
    name = f"{number}. {SEVERITY_WORDS[finding.severity]}: {finding.message} [{finding.rule}]"
    kind = "" if finding.severity == "note" else "failure"
    return _testcase(name, report, kind, finding.rule, finding.message, "\n".join(_told(finding, report)))


def _testcase(name: str, report: Report, kind: str, type_: str, message: str, text: str) -> Element:
    """One case; what passes says the same in its output."""
    said = tag(kind, visible(text), type=type_, message=visible(message)) if kind else tag("system-out", visible(text))
    return tag("testcase", said, name_=visible(name), classname=visible(file_name(report.file)))


def _told(finding: Finding, report: Report) -> Iterator[str]:
    """The finding in lines of plain text."""
    yield concise(finding, file_name(report.file))
    if 0 < finding.span.line <= len(report.lines):
        yield f"  {report.lines[finding.span.line - 1]}"
    if finding.why:
        yield finding.why
    yield from (f"- {evidence_in_words(each)}" for each in not_yet_said(finding))
    yield from (f"also: {each.message}" for each in finding.consequences)
    for fix in finding.fixes:
        yield f"Fix, {'checked' if fix.checked else 'not checked'}: {fix.say}"
        yield from (f"  line {edit.line}: {edit.text or '(take this line out)'}" for edit in fix.edits)
    if checked := checked_words([finding]):
        yield checked
