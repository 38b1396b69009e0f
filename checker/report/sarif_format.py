"""The report as SARIF 2.1.0 (OASIS standard, 2020, with errata 01 of 2023), for editors and for services that show findings.

Input: reports; a page with the rules' explanations. Output: UTF-8 text of one run: rules, one artifact a list, one result a
finding. Columns are counted in code points, as everywhere here, and ``columnKind`` says so. What section a choice follows
is named beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from hashlib import sha256
from typing import Any
from urllib.parse import quote

import msgspec

from checker.report.model import Edit, Finding, Report, Span
from checker.report.page import Page, Section
from checker.report.words import STANDARD_INPUT, VERDICT_WORDS, evidence_in_words

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {"danger": "error", "damage": "error", "fault": "error", "look": "warning", "note": "note"}
_FINGERPRINT = "legwiseFinding/v1"
Json = dict[str, Any]


def render(reports: Sequence[Report], page: Page) -> str:
    """One log with one run, whatever the number of lists; no text for no list at all."""
    if not reports and not page.several:
        return ""
    log = {"$schema": _SCHEMA, "version": "2.1.0", "runs": [_run(reports, page)]}
    return msgspec.json.format(msgspec.json.encode(log), indent=2).decode("utf-8") + "\n"


def _run(reports: Sequence[Report], page: Page) -> Json:
    slugs = _slugs(reports, page)
    artifacts: list[Json] = []  # Each only once (the schema says so), though a file can be named twice.
    for report in reports:
        if (artifact := _artifact(report)) not in artifacts:
            artifacts.append(artifact)
    driver: Json = {"name": "legwise", "rules": [_rule(slug, page.rules.get(slug, ())) for slug in slugs]}
    if reports:
        driver["version"] = reports[0].legwise
    return {
        "tool": {"driver": driver},
        "invocations": [_invocation(page)],
        "artifacts": artifacts,
        "columnKind": "unicodeCodePoints",
        # A line ends where the reader of lists ends it.
        "newlineSequences": ["\r\n", "\n", "\r"],
        "results": [result for report in reports for result in _results(report, artifacts.index(_artifact(report)), slugs)],
    }


def _slugs(reports: Sequence[Report], page: Page) -> list[str]:
    """All rules that are explained, and behind them those that are only found."""
    found = (finding.rule for report in reports for finding in report.findings)
    return list(dict.fromkeys((*page.rules, *found)))


def _invocation(page: Page) -> Json:
    said = [{"level": "error", "message": _message(f"{name} could not be checked")} for name in page.unopened]
    return {"executionSuccessful": not said, "toolExecutionNotifications": said}


# ── rules and artifacts ───────────────────────────────────────────────────────────────────────────────────────────


def _rule(slug: str, explained: Sequence[Section]) -> Json:
    rule: Json = {"id": slug}
    if explained:
        means = explained[0].text
        rule["shortDescription"] = _message(_first_sentence(means))
        rule["fullDescription"] = _message(means)
        text = "\n\n".join(f"{each.heading}\n{each.text}" for each in explained)
        rule["help"] = {**_message(text), "markdown": _braced("\n\n".join(map(_as_markdown, explained)))}
    return rule


def _first_sentence(text: str) -> str:
    first = text.split("\n\n")[0]
    return first[: first.index(". ") + 1] if ". " in first else first


def _as_markdown(section: Section) -> str:
    text = f"```\n{section.text}\n```" if section.quoted else section.text
    return f"## {section.heading}\n\n{text}"


def _artifact(report: Report) -> Json:
    role = "standardStream" if report.file == STANDARD_INPUT else "analysisTarget"
    known = {"verdict": report.verdict, "headline": report.headline, "title": report.title, "by": report.by}
    said = _message(f"{VERDICT_WORDS[report.verdict]}. {report.headline}")
    return {"location": {"uri": uri_of(report.file)}, "description": said, "roles": [role],
            "properties": {key: value for key, value in known.items() if value is not None}}


def uri_of(file: str) -> str:
    """A file's name as a URI reference (RFC 3986): relative as it was given, absolute with its scheme."""
    if file == STANDARD_INPUT:
        return "standard-input"
    path = file.replace("\\", "/")
    drive = len(path) > 2 and path[1:3] == ":/"
    return ("file://" if path.startswith("/") else "file:///" if drive else "") + quote(path, safe="/")


# ── results ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _results(report: Report, artifact: int, slugs: Sequence[str]) -> Iterator[Json]:
    place = _Place(report, artifact)
    seen: dict[str, int] = {}
    for finding in report.findings:
        print_of = _fingerprint(finding, report.lines)
        seen[print_of] = seen.get(print_of, 0) + 1
        yield {
            "ruleId": finding.rule,
            "ruleIndex": slugs.index(finding.rule),
            "kind": "fail",
            "level": _LEVELS[finding.severity],
            "message": _message(_sentences(finding)),
            "locations": [place.of(finding.span)],
            "relatedLocations": [{"id": number, **place.of(each.span), "message": _message(_sentences(each))}
                                 for number, each in enumerate(_all_consequences(finding), 1)],
            "fixes": [{"description": _message(fix.say), "artifactChanges": [place.change(fix.edits)]}
                      for fix in finding.fixes if fix.edits],
            "partialFingerprints": {_FINGERPRINT: f"{print_of}:{seen[print_of]}"},
            "properties": {"severity": finding.severity, "parts": finding.parts, "points": finding.points,
                           "evidence": finding.evidence},
        }


def _sentences(finding: Finding) -> str:
    """What is wrong, what follows, and the numbers, each as a sentence; the first stands alone (section 3.11.3)."""
    said = [finding.message, *finding.why.splitlines(), *(evidence_in_words(each) for each in finding.evidence)]
    return " ".join(f"{each.rstrip('.')}." for each in said if each)


def _all_consequences(finding: Finding) -> Iterator[Finding]:
    for each in finding.consequences:
        yield each
        yield from _all_consequences(each)


def _fingerprint(finding: Finding, lines: Sequence[str]) -> str:
    """The same after lines have moved and numbers have changed: from the rule, what it is about, and the line's words."""
    index = finding.span.line - 1
    words = lines[index].partition("#")[0].split() if 0 <= index < len(lines) else []
    about = msgspec.json.encode([finding.rule, finding.parts, finding.points, words])
    return sha256(about).hexdigest()[:32]


class _Place:
    """Locations and changes in the list of one report."""

    def __init__(self, report: Report, artifact: int) -> None:
        self._lines = report.lines
        self._artifact = {"uri": uri_of(report.file), "index": artifact}

    def of(self, span: Span) -> Json:
        return {"physicalLocation": {"artifactLocation": self._artifact, "region": _region(span)}}

    def change(self, edits: Sequence[Edit]) -> Json:
        """Edits as replacements, each placed in the unmodified list (section 3.57.1)."""
        return {"artifactLocation": self._artifact, "replacements": [self._replacement(edit) for edit in edits]}

    def _replacement(self, edit: Edit) -> Json:
        last = len(self._lines)
        if edit.line > last:  # Added behind the last line, whether or not that has a line end.
            end = len(self._lines[-1]) + 1 if last else 1
            line = max(last, 1)
            before = "\n" if last else ""
            return _replaced(Span(line, end, line, end), before + edit.text)
        if not edit.text and edit.line < last:
            return _replaced(Span(edit.line, 1, edit.line + 1, 1), "")
        return _replaced(Span(edit.line, 1, edit.line, len(self._lines[edit.line - 1]) + 1), edit.text)


def _replaced(span: Span, text: str) -> Json:
    return {"deletedRegion": _region(span), "insertedContent": {"text": text}}


def _region(span: Span) -> Json:
    return {"startLine": max(span.line, 1), "startColumn": max(span.column, 1), "endLine": max(span.end_line, span.line, 1),
            "endColumn": max(span.end_column, 1)}


def _message(text: str) -> Json:
    """Plain text. Braces are doubled (section 3.11.5), and nothing of it reads as a link (section 3.11.6)."""
    return {"text": _braced(text).replace("](", "] (")}


def _braced(text: str) -> str:
    return text.replace("{", "{{").replace("}", "}}")
