"""The report for a person at a terminal: verdict, what to do first, then each finding with its numbers and its
fix.

Input: reports and a page (width, colour). Output: text that reads the same without colour. The order is the
order of the reader's questions: may I power it, what do I change, where is it, why, how sure is that. Rich
measures and colours; the layout is ours, indented like a bench notebook and without frames.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from checker.report.line import Line, line
from checker.report.model import Edit, Evidence, Finding, Fix, Report
from checker.report.page import Page
from checker.report.prose import LEAST_WIDTH, MOST_WIDTH, wrap
from checker.report.quoting import plain_line, quote
from checker.report.words import (
    SAFETY,
    SEVERITY_WORDS,
    VERDICT_WORDS,
    about,
    all_measured,
    assumed_in_words,
    checked_words,
    concise,
    counted,
    edit_in_words,
    file_name,
    first_step,
    in_words,
    is_hazardous,
    no_fix,
    not_yet_said,
    place_of,
    says_again,
    visible,
    without_fix,
)

_VERDICT_STYLES = {
    "do-not-power": "bold red",
    "unreadable": "bold magenta",
    "will-not-work": "bold yellow",
    "look-first": "bold cyan",
    "clear": "bold green",
}
_SEVERITY_STYLES = {
    "danger": "bold red",
    "damage": "bold red",
    "fault": "bold yellow",
    "look": "bold cyan",
    "note": "bold",
}
_INDENT = "   "
_MOST_FULL, _MOST_SHORT = 12, 30
_MOST_EVIDENCE, _MOST_CONSEQUENCES, _MOST_FIXES, _MOST_EDITS = 4, 4, 3, 6


def render(reports: Sequence[Report], page: Page) -> str:
    """The reports below each other; after several a closing line for each with its verdict."""
    pages = [_render_one(report, page) for report in reports]
    if len(reports) > 1:
        pages.append("".join(f"{VERDICT_WORDS[each.verdict]}: {file_name(each.file)}\n" for each in reports))
    return "\n\n".join(pages)


def _render_one(report: Report, page: Page) -> str:
    width = max(page.width, LEAST_WIDTH)
    lines = _Layout(report, width).lines()
    if not page.colour:
        return "".join(f"{each.plain}\n" for each in lines)
    # Only a terminal in colour waits for what colours it.
    from checker.report.colour import coloured

    return coloured(lines, width)


class _Layout:
    """The lines of one report. Holds what all of them need: the report, the width, the rules already explained."""

    def __init__(self, report: Report, width: int) -> None:
        self.report = report
        self.width = width
        self.pointed_at: set[str] = set()

    def lines(self) -> Iterator[Line]:
        """The whole page in the order it is read."""
        yield from self._head()
        yield from self._findings([each for each in self.report.findings if each.severity != "note"])
        yield from self._notes([each for each in self.report.findings if each.severity == "note"])
        yield from self._assumed()
        yield from self._closing()

    def _head(self) -> Iterator[Line]:
        report = self.report
        verdict, style = VERDICT_WORDS[report.verdict], _VERDICT_STYLES[report.verdict]
        yield line(verdict, style)
        yield line("=" * len(verdict), style)
        yield from self._prose(report.headline)
        first = first_step(report)
        if first is not None:
            yield from self._prose(first.say, label="First: ", label_style="bold")
        yield Line()
        count = f": {counted(report.summary)}" if len(report.findings) > 1 and counted(report.summary) else ""
        yield from self._prose(about(report) + count)

    def _findings(self, findings: list[Finding]) -> Iterator[Line]:
        for number, finding in enumerate(findings[:_MOST_FULL], start=1):
            yield Line()
            yield from self._finding(number, finding)
        rest = findings[_MOST_FULL:]
        if rest:
            yield Line()
            yield from self._prose("And in short:")
        for finding in rest[:_MOST_SHORT]:
            yield from self._prose(concise(finding, file_name(self.report.file)), _INDENT)
        if len(rest) > _MOST_SHORT:
            yield from self._prose(f"and {len(rest) - _MOST_SHORT} more; --format json holds all of them", _INDENT)

    def _finding(self, number: int, finding: Finding) -> Iterator[Line]:
        style = _SEVERITY_STYLES[finding.severity]
        label = f"{number}. {SEVERITY_WORDS[finding.severity]}: "
        where = f"{finding.message} [{finding.rule}], {place_of(finding)}"
        yield from self._prose(where, label=label, label_style=style, hang=_INDENT)
        yield from self._quote(finding, style)
        for sentence in finding.why.splitlines():
            yield from self._prose(sentence, _INDENT)
        for words in _limited([in_words(said) for said in all_measured(not_yet_said(finding))], _MOST_EVIDENCE):
            yield from self._prose(words, _INDENT, label="- ")
        for words in _limited(_consequences(finding, finding.evidence), _MOST_CONSEQUENCES):
            yield from self._prose(words.removeprefix("and "), _INDENT, label="also: ")
        for index, fix in enumerate(finding.fixes[:_MOST_FIXES]):
            yield from self._fix(fix, "Fix" if index == 0 else "Or")
        if without_fix(finding) and not is_hazardous(self.report):
            yield from self._prose(no_fix(finding), _INDENT, label="Fix: ", label_style="bold")
        if finding.rule not in self.pointed_at:
            self.pointed_at.add(finding.rule)
            yield from self._prose(f"legwise why {finding.rule}", _INDENT, label="Read more: ")

    def _quote(self, finding: Finding, style: str) -> Iterator[Line]:
        rows = quote(self.report.lines, finding.span, self.width - 2 * len(_INDENT))
        yield from (line(2 * _INDENT + row.text, style if row.mark else "") for row in rows)

    def _fix(self, fix: Fix, label: str) -> Iterator[Line]:
        sure = "checked" if fix.checked else "not checked"
        yield from self._prose(fix.say, _INDENT, label=f"{label}, {sure}: ", label_style="bold")
        for edit in fix.edits[:_MOST_EDITS]:
            yield from self._edit(edit)
        if len(fix.edits) > _MOST_EDITS:
            yield from self._prose(f"and {len(fix.edits) - _MOST_EDITS} more lines", 2 * _INDENT)

    def _edit(self, edit: Edit) -> Iterator[Line]:
        """The line as it will read, or the old one where it goes."""
        lines = self.report.lines
        remark = edit_in_words(edit, len(lines))
        if remark:
            yield line(f"{2 * _INDENT}({remark})")
        old = lines[edit.line - 1] if 0 < edit.line <= len(lines) else ""
        rows = plain_line(edit.line, edit.text or old, self.width - 2 * len(_INDENT))
        yield from (line(2 * _INDENT + row.text) for row in rows)

    def _notes(self, notes: list[Finding]) -> Iterator[Line]:
        if not notes:
            return
        yield Line()
        yield line("Notes", "bold")
        for words in _limited([f"{each.message} [{each.rule}], {place_of(each)}" for each in notes], _MOST_SHORT):
            yield from self._prose(words, label="- ")

    def _assumed(self) -> Iterator[Line]:
        if self.report.assumed:
            yield Line()
            yield from self._prose("; ".join(assumed_in_words(self.report.assumed)) + ".", label="Assumed: ", hang=_INDENT)

    def _closing(self) -> Iterator[Line]:
        if self.report.advice:
            yield Line()
        for sentence in self.report.advice:
            yield from self._prose(sentence, hang=_INDENT if len(self.report.advice) > 1 else "")
        yield Line()
        if checked := checked_words(self.report.findings):
            yield from self._prose(checked)
        yield from self._prose(SAFETY)

    def _prose(
        self, words: str, indent: str = "", *, label: str = "", label_style: str = "", hang: str | None = None
    ) -> Iterator[Line]:
        """Words wrapped to the page, a label before the first line, the other lines below the words or at ``hang``."""
        hanging = indent + (hang if hang is not None else " " * cell_len(label))
        width = min(self.width, MOST_WIDTH)
        first_room = width - cell_len(indent) - cell_len(label)
        first, *others = wrap(visible(words), first_room, width - cell_len(hanging))
        yield Line(((indent, ""), (label, label_style), (first, "")))
        yield from (line(hanging + other) for other in others)


def _consequences(finding: Finding, shown: Sequence[Evidence]) -> list[str]:
    """What follows from this cause, and from that in turn, one sentence each; not what only says again a number that is
    ``shown`` above, of the same part."""
    said = []
    for each in finding.consequences:
        said += [*([] if says_again(each, shown) else [each.message]), *_consequences(each, shown)]
    return said


def _limited(words: list[str], most: int) -> list[str]:
    """The first ``most`` and how many more there are; a single one over is printed, not counted."""
    if len(words) <= most + 1:
        return words
    return [*words[:most], f"and {len(words) - most} more"]
