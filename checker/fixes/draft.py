"""Drafts: edits of a list's text, made from spans of its tree.

A ``Draft`` collects replacements inside lines and lines to add, and gives the edits of a fix and the edited text.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.report.model import Edit
from grammar.syntax_tree import Span


class Draft:
    """Changes to the lines of one list; ``lines`` are without line ends."""

    def __init__(self, lines: Sequence[str]) -> None:
        self._lines = tuple(lines)
        self._pieces: dict[int, list[tuple[int, int, str]]] = {}
        self._removed: set[int] = set()
        self._added: list[str] = []

    def replace(self, span: Span, text: str) -> Draft:
        """The words of a span (in one line) become ``text``."""
        self._pieces.setdefault(span.line, []).append((span.column - 1, span.end_column - 1, text))
        return self

    def add_words(self, span: Span, text: str) -> Draft:
        """``text`` is put behind a span, with a blank between."""
        self._pieces.setdefault(span.end_line, []).append((span.end_column - 1, span.end_column - 1, " " + text))
        return self

    def remove_line(self, line: int) -> Draft:
        """The line goes, with its comment."""
        self._removed.add(line)
        return self

    def add_line(self, text: str) -> Draft:
        """A line is added at the end."""
        self._added.append(text)
        return self

    def edits(self) -> tuple[Edit, ...]:
        """The edits, by line; a removed line has an empty text, an added one a number past the last."""
        changed = [Edit(line, self._changed(line)) for line in sorted(self._pieces) if line not in self._removed]
        removed = [Edit(line, "") for line in sorted(self._removed)]
        last = len(self._lines)
        added = [Edit(last + number, text) for number, text in enumerate(self._added, 1)]
        return (*sorted((*changed, *removed), key=lambda edit: edit.line), *added)

    def _changed(self, line: int) -> str:
        text = self._lines[line - 1]
        for start, end, new in sorted(set(self._pieces[line]), reverse=True):
            text = text[:start] + new + text[end:]
        return text.rstrip()


def applied(lines: Sequence[str], edits: Sequence[Edit]) -> str:
    """The text with edits made. Lines that are removed leave an empty line behind, so that numbers stay."""
    return "\n".join(_edited(lines, edits)) + "\n"


def made(lines: Sequence[str], edits: Sequence[Edit]) -> str:
    """The text with edits made for good: a removed line is gone."""
    removed = {edit.line for edit in edits if not edit.text and edit.line <= len(lines) and lines[edit.line - 1].strip()}
    result = _edited(lines, edits)
    return "\n".join(line for number, line in enumerate(result, 1) if number not in removed) + "\n"


def _edited(lines: Sequence[str], edits: Sequence[Edit]) -> list[str]:
    result = list(lines)
    while result and not result[-1].strip() and len(result) > max((edit.line for edit in edits), default=0):
        result.pop()
    for edit in edits:
        while len(result) < edit.line:
            result.append("")
        result[edit.line - 1] = edit.text
    return result
