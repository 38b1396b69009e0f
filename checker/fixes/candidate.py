"""A candidate for a fix: an edit of the list that might cure something."""

from __future__ import annotations

from msgspec import Struct

from checker.report.model import Edit


class Candidate(Struct, frozen=True):
    """``say`` is what the hand does; ``effort`` how little of it (1 turn a part … 4 add a part); ``cause`` the rule that is
    to blame where this cures, or "" where the finding keeps its own name; ``parts`` and ``points`` what it moves; ``line``
    the line of the list it is about; ``cures`` the only rules that it may claim to cure, where it is made for those;
    ``pair`` is true for two changes at once."""

    say: str
    edits: tuple[Edit, ...]
    effort: float
    cause: str = ""
    parts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    line: int = 1
    facts: dict[str, str] = {}
    cures: tuple[str, ...] = ()
    pair: bool = False
