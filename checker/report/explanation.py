"""A rule explained: its headings in one order, prose in paragraphs, lists as they are.

Input: the explanation of a rule (texts by field). Output: sections for formats to set, or text for the terminal.
"""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import dedent, indent, wrap
from typing import Protocol

from checker.report.page import Page, Section

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


def sections_of(explanation: Explained) -> tuple[Section, ...]:
    """The headings with their texts, those without a text left out; paragraphs are parted by an empty line, unwrapped."""
    return tuple(_sections(explanation))


def _sections(explanation: Explained) -> Iterator[Section]:
    for field, heading in _HEADINGS:
        text = dedent(str(getattr(explanation, field)).strip("\n")).rstrip()
        quoted = field.endswith("_list")
        if text:
            yield Section(heading, text if quoted else _unwrapped(text), quoted)


def _unwrapped(text: str) -> str:
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))


def in_words(slug: str, explanation: Explained, page: Page) -> str:
    """The explanation of the rule ``slug`` for the terminal, its headings without a text left out."""
    width = min(page.width, _PROSE_WIDTH) - len(_INDENT)
    blocks = [slug, *(_block(section, width) for section in _sections(explanation))]
    return "\n\n".join(blocks) + "\n"


def _block(section: Section, width: int) -> str:
    shown = section.text if section.quoted else _wrapped(section.text, width)
    return f"{section.heading}\n{indent(shown, _INDENT)}"


def _wrapped(text: str, width: int) -> str:
    """Each paragraph wrapped."""
    return "\n\n".join("\n".join(wrap(each, width, break_on_hyphens=False)) for each in text.split("\n\n"))
