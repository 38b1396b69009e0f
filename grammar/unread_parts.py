"""Lines that declare a part or a supply and could not be read.

Input: such a line. Output: the name that it gives, so that what else the list says of it is no second mistake.
"""

from __future__ import annotations

import re
from collections.abc import Collection

from grammar.syntax_tree import Span, Word
from grammar.tidy import comment_starts

_DECLARED = re.compile(
    r"^\W*(?:\d+[.)]\s*)?(?:(?:part|component|device|supply|battery|source|psu|power +supply)\b[\s:=]*(?P<named>[a-z]\w*)"
    r"|(?P<first>[a-z]{1,5}\d{1,3}[a-z]?)(?=[\s:=,(]))", re.IGNORECASE)
_FIRST_WORD = re.compile(r"^\W*(?:\d+[.)]\s*)?([a-z]\w*)(?=[\s:=])", re.IGNORECASE)
_BEFORE_A_DOT = re.compile(r"(?<![\w.])([a-z]\w*)\.\w", re.IGNORECASE)
_A_HOLE = re.compile(r"[a-j]\d{1,2}", re.IGNORECASE)
_WIRE_WORDS = re.compile(r"(?<![^\s])(?:to|->|→|=>)(?![^\s])", re.IGNORECASE)


def names_of_pins(lines: tuple[str, ...]) -> frozenset[str]:
    """The names before a dot in all lines, in one case: what has pins is a part."""
    return frozenset(match[1].casefold() for line in lines for match in _BEFORE_A_DOT.finditer(line))


def part_named(text: str, number: int, used: Collection[str] = ()) -> Word | None:
    """The name that line ``number`` declares: behind ``part`` or ``supply``, or as the first word where that is no end of a
    wire, and looks like a name or is among those ``used`` with pins."""
    said = text[: comment_starts(text)].rstrip()
    match = _DECLARED.match(said)
    if match is None:
        first = _FIRST_WORD.match(said)
        if first is None or first[1].casefold() not in used or _WIRE_WORDS.search(said):
            return None
        return Word(first[1], Span(number, first.start(1) + 1, number, first.end(1) + 1))
    group = "named" if match["named"] else "first"
    if group == "first" and (_WIRE_WORDS.search(said) or (_A_HOLE.fullmatch(match[group]) and not match[group][0].isupper())):
        return None
    return Word(match[group], Span(number, match.start(group) + 1, number, match.end(group) + 1))
