"""Which way round a part goes, in words for the hand: "band to f5", "longer leg to a12", "emitter in b3".

Input: an entry and the holes of its terminals by label. Output: the words that follow what is to be done, "" where both ways
are the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from checker.comparing.naming import pin_word
from checker.fixes.turning import MARKED_LEADS
from checker.sentences.words import listed
from parts_library.schema import AnyEntry


def marked(entry: AnyEntry, places: Mapping[str, str]) -> str:
    """Where the mark of a part with two leads belongs: "band to f5"; "+ to L+" where nothing marks it but the sign."""
    for kind, label, word in MARKED_LEADS:
        if isinstance(entry, kind) and places.get(label):
            return f"{word} to {places[label]}"
    label = next((label for label in ("+", "A", "K") if places.get(label)), "")
    return f"{pin_word(entry, label) or label} to {places[label]}" if label else ""


def legs_in(entry: AnyEntry, legs: Sequence[tuple[str, str]]) -> str:
    """Which leg is in which place, of a part with several: "emitter in b3, base in b4 and collector in b5"."""
    return listed([f"{pin_word(entry, label) or label} in {place}" for label, place in legs])
