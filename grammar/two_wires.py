"""Two wires in one line: ``wire L+ to a7 and a14 to L-``.

Input: the points of a wire with what stands between them. A chain has ``to`` between all its points, or nothing, or one and
the same small word; where ``and`` or a comma stands behind one ``to`` and before another, a second wire begins, and the two
would be joined if they were read as one.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.points import Line, Unreadable, columns

if TYPE_CHECKING:
    from lark import Token

_TO = re.compile(r"\b(?:to|into|onto)\b|->|=>|→|-", re.IGNORECASE)
_NEW_ONE = frozenset({"wire", "wires", "jumper", "cable"})


def check_two_wires(ends: list[Token], line: Line) -> None:
    """Raises Unreadable where a second wire begins among the points of the first."""
    for place, token in enumerate(ends[1:-1], start=1):
        if token.type == "WORD" and token.lower() in _NEW_ONE:
            raise _two(ends[:place], ends[place + 1:], columns(token), line)
    gaps = [line.text[columns(one)[1]:columns(other)[0]] for one, other in zip(ends, ends[1:], strict=False)]
    joins = [bool(_TO.search(gap)) for gap in gaps]
    for place in range(1, len(gaps) - 1):
        if not joins[place] and joins[place - 1] and joins[place + 1] and gaps[place].strip():
            between = columns(ends[place])[1], columns(ends[place + 1])[0]
            raise _two(ends[:place + 1], ends[place + 1:], between, line)


def _two(first: list[Token], second: list[Token], at: tuple[int, int], line: Line) -> Unreadable:
    said = [" to ".join(line.text[slice(*columns(token))] for token in ends) for ends in (first, second)]
    return Unreadable("two-wires", *at, first=said[0], second=said[1])
