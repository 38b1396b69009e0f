"""The parts that some words fit, and the families of all parts.

Input: the library and words. Output: a ``Listing`` or ``Families``. Every word must begin a word of the name, an alias,
the kind, its family in words, the package or what the entry says of itself; entries whose name has it come first.
"""

from __future__ import annotations

import re
from collections import Counter

from msgspec import Struct

from checker.cards.words import KIND_WORDS, kind_of
from parts_library import Library
from parts_library.lookup import squeezed
from parts_library.schema import AnyEntry


class Line(Struct, frozen=True):
    """One part in a listing."""

    name: str
    kind: str
    package: str
    says: str


class Listing(Struct, frozen=True):
    """What was asked for, how many parts fit, and the first of them (all where there are few)."""

    words: str
    count: int
    parts: tuple[Line, ...]


class Family(Struct, frozen=True):
    """One kind of the data, in words, how many parts it has, and a few of their names."""

    kind: str
    family: str
    count: int
    such_as: tuple[str, ...]


class Families(Struct, frozen=True):
    """All families in the order of the table, and how many parts they have together."""

    count: int
    families: tuple[Family, ...]


_MOST_LINES, _SUCH_AS = 40, 3


def search(library: Library, words: str, most: int = _MOST_LINES) -> Listing:
    """The parts that all ``words`` fit, at most ``most`` of them listed; the best first, then as in the data."""
    asked = _words(words)
    ranked = [(rank, entry) for entry in library.entries.values() if (rank := _rank(entry, asked)) is not None]
    ranked.sort(key=lambda pair: pair[0])
    return Listing(words, len(ranked), tuple(_line(entry) for _, entry in ranked[:most]))


def families(library: Library) -> Families:
    """Every family of the library with its count."""
    kinds = [kind_of(type(entry)) for entry in library.entries.values()]
    counts = Counter(kinds)
    found = tuple(Family(kind, words, counts[kind], _names(library, kind)) for kind, words in KIND_WORDS.items() if counts[kind])
    return Families(len(kinds), found)


def _rank(entry: AnyEntry, asked: list[str]) -> int | None:
    """0 where the name has every word, 1 with the aliases and kind, 2 with the rest; None where it does not fit."""
    kind = kind_of(type(entry))
    name = [entry.name]
    names = [*name, *entry.aliases, kind]
    everything = [*names, KIND_WORDS[kind], entry.package, entry.say]
    for rank, texts in enumerate((name, names, everything)):
        if asked and all(_fits(word, texts) for word in asked):
            return rank
    return None


def _fits(word: str, texts: list[str]) -> bool:
    singular = word[:-1] if len(word) > 3 and word.endswith("s") else word
    if any(each.startswith((word, singular)) for text in texts for each in _words(text)):
        return True
    # Part numbers are asked for by their digits: 2222 for PN2222A.
    return any(letter.isdigit() for letter in word) and any(squeezed(word) in squeezed(text) for text in texts)


def _words(text: str) -> list[str]:
    return re.findall(r"[\w.+]+", text.lower())


def _line(entry: AnyEntry) -> Line:
    return Line(entry.name, kind_of(type(entry)), entry.package, entry.say)


def _names(library: Library, kind: str) -> tuple[str, ...]:
    names = [entry.name for entry in library.entries.values() if kind_of(type(entry)) == kind]
    return tuple(names[:_SUCH_AS])
