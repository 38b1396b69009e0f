"""Prose for a terminal: wrapped to the page, a label before its first line.

Input: sentences and a width in cells. Output: lines. Control characters are made visible, so that no name in a list can steer
the terminal.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rich.cells import cell_len, chop_cells

from checker.report.page import Page
from checker.report.words import visible

LEAST_WIDTH = 40
MOST_WIDTH = 96
"""Longer lines of prose tire the eye; the list's own lines may use the whole width."""

# A line never ends between a number and its unit, nor between "line" and its number.
_UNIT = r"(?:[pnµmkMG]?(?:V|A|W|Ω|F|H|Hz|s)|°C|K/W|%)(?:\W|$)"
_BREAK = re.compile(rf"(?<!\d)(?<!\bline)(?<!\blines)\s+|(?<=\d)\s+(?!{_UNIT})")


def prose_width(page: Page) -> int:
    """The cells that prose takes of a page."""
    return min(max(page.width, LEAST_WIDTH), MOST_WIDTH)


def prose(words: str, width: int, label: str = "") -> Iterator[str]:
    """The lines of the words with a label before the first, the others below the words; none where there are no words."""
    if not words:
        return
    room = width - len(label)
    first, *others = wrap(visible(words), room, room)
    yield label + first
    yield from (" " * len(label) + line for line in others)


def wrap(words: str, first_room: int, room: int) -> list[str]:
    """Lines of at most ``first_room`` and then ``room`` cells; a value stays with its unit, a word too long is split.

    Always at least one line. Runs of spaces and line ends count as one space.
    """
    lines = [""]
    for word in _BREAK.split(words.strip()):
        left = (first_room if len(lines) == 1 else room) - cell_len(lines[-1])
        if lines[-1] and cell_len(word) + 1 <= left:
            lines[-1] += " " + word
            continue
        pieces = [word] if cell_len(word) <= room else chop_cells(word, room)
        if lines == [""] and cell_len(pieces[0]) <= first_room:
            lines = []
        lines.extend(pieces)
    return lines
