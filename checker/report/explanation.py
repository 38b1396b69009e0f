"""A rule explained at the terminal: its headings in one order, prose wrapped, lists as they are.

Input: the explanation of a rule (texts by field) and a page. Output: text.
"""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import dedent, indent, wrap
from typing import Protocol

from checker.report.page import Page

_HEADINGS = (
    ("means", "What it means"),
    ("matters", "Why it matters"),
    ("bad_list", "A list that has it"),
    ("mended_list", "The same list, mended"),
    ("meter", "How to check with a meter"),
    ("source", "Source"),
)
_INDENT = "   "
_PROSE_WIDTH = 96


class Explained(Protocol):
    """What is known of a rule: prose, and two lists that are quoted line by line."""

    @property
    def means(self) -> str: ...
    @property
    def matters(self) -> str: ...
    @property
    def bad_list(self) -> str: ...
    @property
    def mended_list(self) -> str: ...
    @property
    def meter(self) -> str: ...
    @property
    def source(self) -> str: ...


def in_words(slug: str, explanation: Explained, page: Page) -> str:
    """The explanation of the rule ``slug``, its headings without a text left out."""
    blocks = [slug, *_sections(explanation, min(page.width, _PROSE_WIDTH))]
    return "\n\n".join(blocks) + "\n"


def _sections(explanation: Explained, width: int) -> Iterator[str]:
    for field, heading in _HEADINGS:
        text: str = getattr(explanation, field)
        if text.strip():
            shown = _as_it_is(text) if field.endswith("_list") else _wrapped(text, width - len(_INDENT))
            yield f"{heading}\n{indent(shown, _INDENT)}"


def _as_it_is(text: str) -> str:
    return dedent(text.strip("\n")).rstrip()


def _wrapped(text: str, width: int) -> str:
    """Each paragraph wrapped; an empty line parts paragraphs."""
    paragraphs = dedent(text.strip("\n")).split("\n\n")
    return "\n\n".join("\n".join(wrap(each, width, break_on_hyphens=False)) for each in paragraphs)
