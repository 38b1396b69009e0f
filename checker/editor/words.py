"""The words of a list with their places: what stands under the cursor, and where a name is used.

Input: lines and a place (line and column count from 0, as editors count, the column in characters). Output: words and spans.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from msgspec import Struct

_WORD = re.compile(r"[^\s,#\"()]+")
_NAME = re.compile(r"[A-Za-z_][\w-]*")


class Found(Struct, frozen=True):
    """A word: its text, its line, and the columns from ``start`` up to ``end``."""

    text: str
    line: int
    start: int
    end: int


def words_of(line: str, number: int) -> Iterator[Found]:
    """The words of one line, its comment left out."""
    for match in _WORD.finditer(line.split("#")[0]):
        yield Found(match[0], number, match.start(), match.end())


def word_at(lines: Sequence[str], line: int, column: int) -> Found | None:
    """The word that a place is in or just behind."""
    if not 0 <= line < len(lines):
        return None
    return next((word for word in words_of(lines[line], line) if word.start <= column <= word.end), None)


def uses_of(lines: Sequence[str], name: str) -> list[Found]:
    """Every place where a name stands, alone or before the dot of a pin; the second word of its own line among them."""
    found = []
    for number, line in enumerate(lines):
        for word in words_of(line, number):
            match = _NAME.match(word.text)
            if match and match[0].lower() == name.lower() and word.text[match.end():][:1] in ("", "."):
                found.append(Found(match[0], number, word.start, word.start + match.end()))
    return found
