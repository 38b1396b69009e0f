"""Lines that seem to say what the program does with a pin, and could not be read.

Input: such a line. Output: the pins that it names, so that none of them is taken for a pin of which nothing is said: what
the program does with it has been said, if not in words that are understood.
"""

from __future__ import annotations

import re

from grammar.syntax_tree import Bare, Pin, Span
from grammar.tidy import comment_starts

_SAYS_A_ROLE = re.compile(
    r"^\W*(?:\d+[.)]\s*)?pins?\b|\b(?:inputs?|outputs?|pwm|input[_-]?pull-?up|pull-?up|pinmode|analogue?)\b",
    re.IGNORECASE)
_WITH_ITS_PART = re.compile(r"\b(?!pins?\b)([a-z]\w*)(?:\.| +pin +| +(?=[ad]\d))(\w+)", re.IGNORECASE)
_OF_ITS_PART = re.compile(r"\b(\w+) +of +([a-z]\w*)", re.IGNORECASE)
_ALONE = re.compile(r"(?<![\w.])(?:[ad]\d{1,2}|(?<=pinmode\()\d{1,2}|(?<=pin )\d{1,2})(?!\w)", re.IGNORECASE)


def pins_named(text: str, number: int) -> list[Pin | Bare]:
    """The pins of line ``number`` where it speaks of a role: with their part, or alone (``D9``, ``pinMode(9, …)``)."""
    said = text[: comment_starts(text)]
    if not _SAYS_A_ROLE.search(said):
        return []
    found: list[Pin | Bare] = [Pin(m[1], m[2], m[0], _span(m, number)) for m in _WITH_ITS_PART.finditer(said)]
    found += [Pin(m[2], m[1], m[0], _span(m, number)) for m in _OF_ITS_PART.finditer(said)]
    return found + [Bare(m[0], _span(m, number)) for m in _ALONE.finditer(said)]


def _span(match: re.Match[str], number: int) -> Span:
    return Span(number, match.start() + 1, number, match.end() + 1)
