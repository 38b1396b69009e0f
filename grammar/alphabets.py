"""Letters of other alphabets that look like ours: a Cyrillic \u0441 in a hole is no column."""

from __future__ import annotations

_LOOKS = "\u0430\u0410\u0441\u0421\u0435\u0415\u043e\u041e\u0440\u0420\u0445\u0425\u0412\u041d\u041a\u041c\u0422\u0456"
LIKE_LATIN = dict(zip(_LOOKS, "aAcCeEoOpPxXBHKMTi", strict=True))
"""Cyrillic letters and the Latin ones they look like (Unicode Technical Standard 39, confusables)."""


def in_latin(text: str) -> str:
    """The text as it looks, in Latin letters."""
    return "".join(LIKE_LATIN.get(letter, letter) for letter in text)
