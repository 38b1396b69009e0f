"""One line of a page for the terminal: pieces of words, each in a style.

Imports nothing: a page without colour, which is most that are not read at a terminal, is its words.
"""

from __future__ import annotations

from typing import NamedTuple


class Line(NamedTuple):
    """``pieces`` are (words, style), a style in rich's words such as ``bold red``; "" is none."""

    pieces: tuple[tuple[str, str], ...] = ()

    @property
    def plain(self) -> str:
        """The words alone."""
        return "".join(words for words, _ in self.pieces)


def line(words: str, style: str = "") -> Line:
    """A line in one style."""
    return Line(((words, style),))
