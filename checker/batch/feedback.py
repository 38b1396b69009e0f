"""The feedback for one person: verdict, mark line by line, what was found with its fix, what to read.

Input: a row and its outcome. Output: a text in Markdown, or an HTML page. Whoever is alike or missing is no matter of a
person's feedback.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from checker.batch.frame import document, section
from checker.batch.model import Mark, MarkLine, Outcome, Row
from checker.batch.words import meaning, points, said_of, share_alike, stamp, stamp_class
from checker.comparing.model import FEW_STEPS
from checker.markup import Child, Element, tag
from checker.report.html_finding import Place, finding_section
from checker.report.listing import marks_of, whole_list
from checker.report.model import Finding, Report
from checker.report.page import Section
from checker.report.words import (
    SAFETY,
    SEVERITY_WORDS,
    checked_words,
    edit_in_words,
    evidence_in_words,
    is_hazardous,
    not_yet_said,
    place_of,
    visible,
)
from checker.rules import explain
from checker.sentences.advice import WIRING_IS_RIGHT

Render = Callable[[Row, "Outcome | None"], str]

_SPECIAL = re.compile(r"([\\`*_\[\]<>#|~&])")
_ROUND = "The same circuit as the reference."
_SHOULD = "What it should do"


def _expected(outcome: Outcome | None) -> tuple[str, ...]:
    """Each expectation and whether it is met."""
    held = outcome.expectations if outcome is not None else ()
    return tuple(one.told for one in held)


def _differences(row: Row, outcome: Outcome) -> tuple[str, ...]:
    """The differences; of another circuit only that it is one."""
    if not row.another or (outcome.counting or 0) <= FEW_STEPS:
        return outcome.differences or (_ROUND,)
    said = f"This is another circuit than the reference: only {share_alike(row.likeness or 0.0)} of the connections are alike"
    return (said,)


def _nothing_found(row: Row) -> str:
    """What stands where nothing was found: by itself that is no praise beside a reference."""
    return "Nothing is over its limits. How it differs from the reference stands above." if row.beside else "Nothing."


def _advice(row: Row, report: Report) -> tuple[str, ...]:
    """The closing sentences; of a circuit that is not the one asked for nobody can say that its wiring is right."""
    return tuple(each for each in report.advice if not (row.beside and each.startswith(WIRING_IS_RIGHT)))


def _worth(mark: Mark, line: MarkLine) -> str:
    """The points of a line; none where a person has to look."""
    return "" if mark.points is None else f"{line.points:g}"


# ── Markdown ──────────────────────────────────────────────────────────────────────────────────────────────────────


def markdown(row: Row, outcome: Outcome | None) -> str:
    """CommonMark with a table for the mark; text from a list is quoted or escaped."""
    report = outcome.report if outcome is not None else None
    lines = [f"# {_plain(row.title or 'Your list')}", "", f"For {_plain(row.name)}.", "",
             f"**{stamp(row)}**: {_plain(said_of(row))}."]
    if row.first:
        lines += ["", f"First: {_plain(row.first)}."]
    lines += [*_mark_lines(row.mark), *_against_lines(row, outcome), *_bullets(_SHOULD, _expected(outcome))]
    if report is not None:
        lines += _finding_lines(report, _nothing_found(row))
        lines += [*_bullets("Assumed", report.assumed), *_bullets("What next", _advice(row, report))]
    return "\n".join([*lines, "", *([SAFETY, ""] if report is not None else [])])


def _plain(text: str) -> str:
    return _SPECIAL.sub(r"\\\1", " ".join(visible(text).split()))


def _mark_lines(mark: Mark | None) -> Iterator[str]:
    if mark is not None:
        yield from ("", f"## Mark: {points(mark)}", "", "| what | points |", "|---|---:|")
        yield from (f"| {_plain(line.say)} | {_worth(mark, line)} |" for line in mark.lines)


def _against_lines(row: Row, outcome: Outcome | None) -> Iterator[str]:
    if outcome is None or outcome.same is None:
        return
    yield from ("", "## Beside the reference", "")
    yield from (f"- {_plain(each)}" for each in _differences(row, outcome))


def _finding_lines(report: Report, nothing: str) -> Iterator[str]:
    yield from ("", "## What was found", "")
    if not report.findings:
        yield nothing
    for number, finding in enumerate(report.findings, start=1):
        yield from _one_finding(number, finding, report.lines)
    if checked := checked_words(report.findings):
        yield from ("", checked)


def _one_finding(number: int, finding: Finding, lines: tuple[str, ...]) -> Iterator[str]:
    yield f"{number}. **{SEVERITY_WORDS[finding.severity]}: {_plain(finding.message)}** ({place_of(finding)})"
    if 0 < finding.span.line <= len(lines):
        yield from _quoted(lines[finding.span.line - 1])
    if finding.why:
        yield f"   {_plain(finding.why)}."
    yield from (f"   - {_plain(evidence_in_words(each))}" for each in not_yet_said(finding))
    for index, fix in enumerate(finding.fixes):
        yield from ("", f"   {'Or' if index else 'Do this'}: {_plain(fix.say)}.")
        for edit in fix.edits:
            remark = edit_in_words(edit, len(lines))
            yield f"   Line {edit.line}{f' ({remark})' if remark else ''}:"
            yield from _quoted(edit.text)
    yield from ("", f"   {_plain(meaning(finding.rule))} More: `legwise why {finding.rule}`", "")


def _quoted(line: str) -> Iterator[str]:
    if line.strip():
        fence = "`" * max(3, 1 + max((len(run) for run in re.findall("`+", line)), default=0))
        yield from ("", f"   {fence}", f"   {visible(line)}", f"   {fence}")


def _bullets(heading: str, words: tuple[str, ...]) -> Iterator[str]:
    if words:
        yield from ("", f"## {heading}", "", *(f"- {_plain(each)}" for each in words))


# ── HTML ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def html_page(row: Row, outcome: Outcome | None) -> str:
    """One page, with the list beside its findings."""
    report = outcome.report if outcome is not None else None
    head = tag("header", tag("h1", row.title or "Your list"), tag("p", f"For {row.name}", class_="count"),
               tag("p", tag("strong", stamp(row), class_=f"stamp {stamp_class(row)}"), class_="verdict"),
               tag("p", said_of(row), class_="headline"),
               tag("p", tag("b", "First: "), row.first, class_="first") if row.first else None)
    return document(f"{stamp(row)}: {row.name}", head, _mark_table(row.mark), _against(row, outcome),
                    _items(_SHOULD, _expected(outcome)),
                    _report(row, report) if report is not None else None, safety=report is not None)


def _mark_table(mark: Mark | None) -> Element | None:
    if mark is None:
        return None
    rows = [tag("tr", tag("td", line.say), tag("td", _worth(mark, line))) for line in mark.lines]
    return section(f"Mark: {points(mark)}", tag(
        "table", tag("thead", tag("tr", tag("th", "What", scope="col"), tag("th", "Points", scope="col"))),
        tag("tbody", rows), tag("tfoot", tag("tr", tag("td", f"Together, of {mark.most:g}"),
                                             tag("td", "" if mark.points is None else f"{mark.points:g}"))),
        class_="sheet marks"))


def _against(row: Row, outcome: Outcome | None) -> Element | None:
    if outcome is None or outcome.same is None:
        return None
    return section("Beside the reference", tag("ul", [tag("li", each) for each in _differences(row, outcome)]))


def _report(row: Row, report: Report) -> Child:
    place = Place("", 1, report.lines, is_hazardous(report))
    numbered = list(enumerate(report.findings, start=1))
    told: set[str] = set()
    sections = []
    for number, finding in numbered:
        explained = () if finding.rule in told else _explained(finding.rule)
        told.add(finding.rule)
        sections.append(finding_section(number, finding, place, explained))
    checked = checked_words(report.findings)
    found = section("What was found", sections or tag("p", _nothing_found(row)),
                    tag("p", checked, class_="aside") if checked else None)
    listing = section("The list", whole_list(report.lines, marks_of(numbered, report.lines), ""), class_="list")
    return [tag("div", tag("div", found, class_="column"), tag("div", listing, class_="column"), class_="spread"),
            _items("Assumed", report.assumed), _items("What next", _advice(row, report))]


def _explained(rule: str) -> tuple[Section, ...]:
    told = explain(rule)
    return (Section("What it means", told.means), Section("Why it matters", told.matters),
            Section("How to check with a meter", told.meter))


def _items(heading: str, words: tuple[str, ...]) -> Element | None:
    return section(heading, tag("ul", [tag("li", each) for each in words])) if words else None


FORMATS: dict[str, tuple[str, Render]] = {"markdown": ("md", markdown), "html": ("html", html_page)}
"""The formats of feedback: the ending of its files and what writes them."""
