"""Lines that declare a part or a supply and could not be read.

Input: such a line. Output: the name that it gives, so that what else the list says of it is no second mistake.
"""

from __future__ import annotations

import re

from grammar.syntax_tree import Span, Word
from grammar.tidy import comment_starts

_DECLARED = re.compile(
    r"^\W*(?:\d+[.)]\s*)?(?:(?:part|component|device|supply|battery|source|psu|power +supply)\b[\s:=]*(?P<named>[a-z]\w*)"
    r"|(?P<first>[a-z]{1,5}\d{1,3}[a-z]?)(?=[\s:=,(]))", re.IGNORECASE)
_A_HOLE = re.compile(r"[a-j]\d{1,2}", re.IGNORECASE)
_WIRE_WORDS = re.compile(r"(?<![^\s])(?:to|->|→|=>)(?![^\s])", re.IGNORECASE)


def part_named(text: str, number: int) -> Word | None:
    """The name that line ``number`` declares: behind ``part`` or ``supply``, or as the first word where that is no end of a
    wire."""
    said = text[: comment_starts(text)].rstrip()
    match = _DECLARED.match(said)
    if match is None:
        return None
    group = "named" if match["named"] else "first"
    if group == "first" and (_WIRE_WORDS.search(said) or (_A_HOLE.fullmatch(match[group]) and not match[group][0].isupper())):
        return None
    return Word(match[group], Span(number, match.start(group) + 1, number, match.end(group) + 1))
