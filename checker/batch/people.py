"""Who a list is from, told from folder and file names.

Course systems write the same words behind every person's name; what all names of a source share at their end, word by
word, is left out. Input: names of folders or files. Output: names to show, and the identifiers in them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import takewhile

_WORDS = re.compile(r"[^\s_]+")
_IDENTIFIER = re.compile(r"(?<![0-9A-Za-z])[A-Za-z]{0,3}[0-9]{3,12}(?![0-9A-Za-z])")
"""A number of three digits or more, a few letters before it allowed ("s2041177"): common practice, no source."""


def shown_names(names: Sequence[str]) -> dict[str, str]:
    """Each name without the words at its end that all of them share, its underscores and digits of an identifier gone."""
    split = {name: _WORDS.findall(name) for name in names}
    shared = _shared_at_end(list(split.values())) if len(split) > 1 else 0
    return {name: _plain(words[:len(words) - shared] if shared < len(words) else words) or name
            for name, words in split.items()}


def _shared_at_end(all_words: Sequence[Sequence[str]]) -> int:
    ends = zip(*(reversed(words) for words in all_words), strict=False)
    return len(list(takewhile(lambda column: len(set(column)) == 1, ends)))


def _plain(words: Sequence[str]) -> str:
    named = [word for word in words if not _IDENTIFIER.fullmatch(word)]
    return " ".join(named or words).strip()


def identifier_in(name: str) -> str:
    """The one identifier in a name ("ana-b_2041177_lab" has 2041177), or nothing where there is none or more."""
    found = _IDENTIFIER.findall(name)
    return found[0] if len(found) == 1 else ""
