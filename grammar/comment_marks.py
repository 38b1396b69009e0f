"""Other ways to begin a comment than ``#``: ``--`` and ``;``. They are asked back, as both have a meaning of their own.

Input: one tidy line. ``--`` joins two points (``wire a5 -- b7``) and ``;`` stands between statements, so that a comment
behind them would be read as part of the line, with its holes and marks.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from grammar.points import Unreadable

_DASHES = re.compile(r"(?<![^\s])--(?=\s+\S)")
_POINT = re.compile(
    r"\s*(?:[a-j]-?\d{1,3}|\d{1,3}-?[a-j]|[lr] ?[+-]\d*|@\w+|\w+:\S+|[a-z]\w*\.\S+|[A-Z][A-Za-z0-9_+-]*|(?:row|col(?:umn)?)\s+\w+"
    r"|(?:\w+ +){0,3}rails?|[+-]|gnd|vcc)(?=[\s,()\"]|$)",
)
_POINT_IN_ANY_CASE = re.compile(_POINT.pattern.replace("[A-Z][A-Za-z0-9_+-]*|", ""), re.IGNORECASE)


def check_comment_marks(plain: str, begins_statement: Callable[[str], bool]) -> None:
    """Raises Unreadable for a comment that does not begin with ``#``. ``begins_statement`` says whether a text is one."""
    dashes = _DASHES.search(plain)
    while dashes is not None:
        after = plain[dashes.end():]
        if not _POINT.match(after) and not _POINT_IN_ANY_CASE.match(after):
            raise Unreadable("comment-mark", *dashes.span(), suggestion="#")
        dashes = _DASHES.search(plain, dashes.end())
    if ";" in plain:
        place = plain.index(";")
        after = plain[place + 1:].strip(" ;")
        raise Unreadable("two-statements" if begins_statement(after) else "comment-mark", place, place + 1,
                         suggestion=None if begins_statement(after) else "#" if _is_comment(after) else None)


def _is_comment(after: str) -> bool:
    """Whether what follows names no hole and no mark, so that nothing of the list is lost where it becomes a comment."""
    return not re.search(r"(?<![\w.])(?:[a-j]-?\d{1,3}|[lr][+-]\d*|\d{1,3}[a-j])(?!\w)", after, re.IGNORECASE)
