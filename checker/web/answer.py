"""The answer for the page: the report with the words that formats put to it, and everything that is drawn beside it.

Input: a report and its enclosures. Output: a ``PageAnswer``, which is encoded as JSON. The page itself has no wording of
findings: what it shows comes from here.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from checker.report.json_format import as_object
from checker.report.model import Finding, Report
from checker.report.words import (
    CHECKED,
    SAFETY,
    SEVERITY_WORDS,
    VERDICT_WORDS,
    checked_words,
    counted,
    edit_in_words,
    evidence_in_words,
    not_yet_said,
)


class PartLine(Struct, frozen=True):
    """A part of the list: its name, its entry in the library ("" where it is unknown), its line and its pins."""

    name: str
    entry: str
    line: int
    pins: tuple[str, ...]


class Spelling(Struct, frozen=True):
    """A word that can be written in place of a stretch of a line that could not be read; a proposal, not a checked fix."""

    line: int
    column: int
    end_column: int
    write: str


class Sight(Struct, frozen=True):
    """One thing that may be seen on the board where the list leaves it open: in words, and the line that then says so. The
    finding that asks is at ``line`` and ``column``."""

    line: int
    column: int
    words: str
    text: str


class EditWords(Struct, frozen=True):
    """What becomes of one line: the line before ("" for a new one), after ("" where it goes), and in words."""

    line: int
    before: str
    after: str
    says: str


class FindingWords(Struct, frozen=True):
    """The words to one finding: its severity, its numbers, and for each fix its edits."""

    severity: str
    numbers: tuple[str, ...]
    edits: tuple[tuple[EditWords, ...], ...]


class Words(Struct, frozen=True, kw_only=True):
    """The words to a report; ``findings`` in its order."""

    verdict: str
    counted: str
    checked: str
    safety: str
    findings: tuple[FindingWords, ...]


class PageAnswer(Struct, frozen=True, kw_only=True):
    """Everything about one list. ``report`` is what /check gives; ``drawing`` and ``diagram`` are SVG, empty
    where there is nothing to draw."""

    report: dict[str, Any]
    words: Words
    parts: tuple[PartLine, ...]
    spellings: tuple[Spelling, ...] = ()
    sights: tuple[Sight, ...] = ()
    drawing: str = ""
    diagram: str = ""


def words_of(report: Report) -> Words:
    """The words to a report."""
    return Words(verdict=VERDICT_WORDS[report.verdict], counted=counted(report.summary),
                 checked=checked_words(report.findings) or CHECKED, safety=SAFETY,
                 findings=tuple(_finding(finding, report.lines) for finding in report.findings))


def _finding(finding: Finding, lines: tuple[str, ...]) -> FindingWords:
    return FindingWords(
        severity=SEVERITY_WORDS[finding.severity],
        numbers=tuple(dict.fromkeys(map(evidence_in_words, not_yet_said(finding)))),
        edits=tuple(tuple(EditWords(edit.line, lines[edit.line - 1] if edit.line <= len(lines) else "", edit.text,
                                    edit_in_words(edit, len(lines))) for edit in fix.edits) for fix in finding.fixes))


def answer(report: Report, parts: tuple[PartLine, ...], *, spellings: tuple[Spelling, ...] = (), sights: tuple[Sight, ...] = (),
           drawing: str = "", diagram: str = "") -> PageAnswer:
    """The answer for the page."""
    return PageAnswer(report=as_object(report), words=words_of(report), parts=parts, spellings=spellings, sights=sights,
                      drawing=drawing, diagram=diagram)
