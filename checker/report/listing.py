"""The list as it was written, as HTML: line numbers, the stretches that are meant marked, the finding's number in the margin.

Input: lines, findings with their numbers. Output: tables. Columns count from 1, ends are exclusive, as in the Report.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from difflib import SequenceMatcher
from re import findall

from msgspec import Struct

from checker.markup import Child, Element, tag
from checker.report.model import SEVERITIES, Edit, Finding, Span
from checker.report.words import edit_in_words

_MOST_QUOTED = 5
_PLACE = "\u00a0"
"""Stands where something is missing, so that there is something to mark."""


class Mark(Struct, frozen=True):
    """A stretch of one line, from character ``start`` to before ``end`` (from 0), that finding ``number`` means."""

    start: int
    end: int
    number: int
    severity: str


def marks_of(findings: Iterable[tuple[int, Finding]], lines: Sequence[str]) -> dict[int, list[Mark]]:
    """For each line that is meant: its marks, at least one character wide each."""
    marks: dict[int, list[Mark]] = {}
    for number, finding in findings:
        for line in _lines_of(finding.span, lines):
            start, end = _stretch(finding.span, line, len(lines[line - 1]))
            marks.setdefault(line, []).append(Mark(start, end, number, finding.severity))
    return marks


def _lines_of(span: Span, lines: Sequence[str]) -> range:
    """The lines that a span touches, held to those there are."""
    first = min(max(span.line, 1), len(lines))
    last = span.end_line if span.end_column > 1 else span.end_line - 1
    return range(first, min(max(last, first), len(lines)) + 1) if lines else range(0)


def _stretch(span: Span, line: int, length: int) -> tuple[int, int]:
    start = span.column - 1 if line == span.line else 0
    end = span.end_column - 1 if line == span.end_line else length
    start = min(max(start, 0), length) if line >= span.line else length
    return start, max(min(end, length), start + 1)


def whole_list(lines: Sequence[str], marks: dict[int, list[Mark]], prefix: str) -> Element:
    """Every line, with an anchor; the numbers in the margin lead to the findings."""
    rows = [_row(number, text, marks.get(number, []), prefix, anchor=True) for number, text in enumerate(lines, 1)]
    head = tag("thead", tag("tr", *(tag("th", word, scope="col") for word in ("Finding", "Line", "Text"))), class_="unseen")
    return tag("table", head, tag("tbody", rows), class_="listing")


def quoted(finding: Finding, lines: Sequence[str]) -> Element | None:
    """The lines that a finding means, a long stretch shortened; None for a list without lines."""
    marks = marks_of([(0, finding)], lines)
    if not marks:
        return None
    numbers = sorted(marks)
    shown = numbers if len(numbers) <= _MOST_QUOTED else [*numbers[: _MOST_QUOTED - 2], numbers[-1]]
    rows = [_row(number, lines[number - 1], marks[number]) for number in shown]
    if len(shown) < len(numbers):
        more = tag("td", f"… {len(numbers) - len(shown)} more lines")
        rows.insert(-1, tag("tr", tag("td"), more))
    return tag("table", tag("tbody", rows), class_="listing quoted")


def _row(number: int, text: str, marks: Sequence[Mark], prefix: str = "", anchor: bool = False) -> Element:
    shown = tag("code", list(pieces(text, marks)))
    cells = [tag("td", str(number), class_="number"), tag("td", shown, class_="text")]
    if not anchor:
        return tag("tr", cells)
    links = [tag("a", str(mark.number), href=f"#{prefix}finding-{mark.number}", class_=f"tab {mark.severity}",
                 aria_label=f"finding {mark.number}") for mark in marks]
    margin = tag("td", [[link, " "] for link in links], class_="margin")
    return tag("tr", margin, cells, id=f"{prefix}line-{number}", class_="meant" if marks else None)


def pieces(text: str, marks: Sequence[Mark]) -> Iterator[Child]:
    """The text cut wherever a mark begins or ends; what is marked is as grave as the worst that means it."""
    longest = max((mark.end for mark in marks), default=0)
    text = text.ljust(longest, _PLACE) if longest > len(text) else text
    cuts = sorted({0, len(text), *(mark.start for mark in marks), *(mark.end for mark in marks)})
    for start, end in zip(cuts, cuts[1:]):
        over = [mark.severity for mark in marks if mark.start < end and start < mark.end]
        piece = text[start:end]
        yield tag("mark", piece, class_=min(over, key=SEVERITIES.index)) if over else piece


# ── edits ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def edited(edits: Sequence[Edit], lines: Sequence[str]) -> Element:
    """What becomes of the lines: the old struck out, the new below it with what differs in bold."""
    return tag("table", tag("tbody", [_edit(edit, lines) for edit in edits]), class_="listing edited")


def _edit(edit: Edit, lines: Sequence[str]) -> list[Element]:
    old = lines[edit.line - 1] if 0 < edit.line <= len(lines) else ""
    remark = edit_in_words(edit, len(lines))
    rows = []
    if old:
        struck = _differing(old, edit.text) if edit.text else [old]
        rows.append(_edit_row("−", edit.line, tag("del", struck), remark if not edit.text else ""))
    if edit.text:
        rows.append(_edit_row("+", edit.line, tag("ins", _differing(edit.text, old) if old else [edit.text]), remark))
    return rows


def _edit_row(sign: str, number: int, text: Element, remark: str) -> Element:
    said = tag("span", f" ({remark})", class_="remark") if remark else None
    return tag("tr", tag("td", sign, class_="sign"), tag("td", str(number), class_="number"),
               tag("td", tag("code", text), said, class_="text"))


def _differing(text: str, other: str) -> list[Child]:
    """The words of ``text``, those that ``other`` does not have at that place in bold."""
    own, theirs = findall(r"\s+|\S+", text), findall(r"\s+|\S+", other)
    shown: list[Child] = []
    for kind, start, end, _, _ in SequenceMatcher(None, own, theirs, autojunk=False).get_opcodes():
        piece = "".join(own[start:end])
        if piece:
            shown.append(piece if kind == "equal" or not piece.strip() else tag("b", piece))
    return shown
