"""What the page can do for the reader besides fixes: cards of the parts, words that were meant, answers to what is left open.

Input: the survey of a list. Output: the values that go with the answer for the page. These are proposals: they say what
the list should have said, and the list is checked again once they are taken.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found
from checker.seating.contrary import Told, told_line
from checker.survey import Survey
from checker.web.answer import PartLine, Sight, Spelling
from grammar import read
from grammar.syntax_tree import Part


def parts_of(surveyed: Survey) -> tuple[PartLine, ...]:
    """Every part of the list, with its entry where the library has it."""
    library = surveyed.bench.library
    return tuple(PartLine(part.name, part.entry.name if part.entry and part.entry.name in library.entries else "",
                          part.span.line, part.pins) for part in surveyed.bench.parts.values())


def spellings_of(surveyed: Survey) -> tuple[Spelling, ...]:
    """What might have been meant, where a word could not be read."""
    return tuple(Spelling(found.span.line, found.span.column, found.span.end_column, meant) for found in surveyed.found
                 if (meant := found.facts.get("suggestion")) and found.span.line == found.span.end_line)


def sights_of(surveyed: Survey) -> tuple[Sight, ...]:
    """For each question about the board, what may be seen there and the line that says so."""
    return tuple(sight for found in surveyed.found for sight in _sights(found, surveyed))


def _sights(found: Found, surveyed: Survey) -> Iterator[Sight]:
    part = surveyed.bench.part(found.parts[0]) if found.answers and found.parts else None
    if part is None or not isinstance(part.statement, Part):
        return
    for answer in found.answers:
        text = told_line(part, Told(answer.add, answer.drop), surveyed.bench.tree.lines)
        if (answer.add or answer.drop) and not read(text).problems:
            yield Sight(found.span.line, found.span.column, answer.words.partition(" (")[0], text)
