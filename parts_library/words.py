"""The words of a ``part`` or ``supply`` line, each with the quantity it may be.

Input: the words as written. Output: ``Token``s, with ``9`` ``V`` taken together, and problems about words in one shape.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from grammar.quantities import Quantity, QuantityError, read_quantity
from parts_library.schema import AnyEntry

Label = Literal["unknown-part", "bad-value", "value-contradicts-bands", "ambiguous-part"]


class WordProblem(Struct, frozen=True):
    """A word that cannot be taken as it stands: its ``index`` in ``of`` (the words, bands or code of the line), a label
    of the reading rules, one plain sentence without a period, and a spelling or name to use instead."""

    index: int
    label: Label
    message: str
    suggestion: str | None = None
    of: Literal["words", "bands", "code", "name"] = "words"


class Identified(Struct, frozen=True):
    """What a line is about. ``entry`` is None where it could not be told; ``assumed`` are whole sentences without a
    period; ``kind_word`` is the word that named the kind, None where the value told it."""

    entry: AnyEntry | None
    assumed: tuple[str, ...] = ()
    problems: tuple[WordProblem, ...] = ()
    kind_word: str | None = None


class Token(Struct, frozen=True):
    """One word, or a number and its unit written apart. ``quantity`` is what it measures, if it can be read as a
    quantity; ``failure`` is why it cannot, if it begins like one."""

    index: int
    text: str
    quantity: Quantity | None = None
    failure: QuantityError | None = None

    @property
    def lowered(self) -> str:
        """The word in lower case."""
        return self.text.lower()

    def at(self, index: int) -> Token:
        """The same word at another place of the line."""
        return replace(self, index=index)

    @property
    def is_digits(self) -> bool:
        """Whether it is nothing but digits: a value, a code, or a part number without its letters."""
        return self.text.isascii() and self.text.isdigit()

    @property
    def prefix(self) -> str:
        """The prefix of a quantity written without a unit: ``n`` of 100n, ``u`` of 4u7, ``""`` of 220."""
        match = re.search(r"[A-Za-zµμ]+", self.text) if self.quantity and not self.quantity.unit else None
        return match[0].replace("µ", "u").replace("μ", "u") if match else ""


def tokens_of(words: Sequence[str]) -> tuple[Token, ...]:
    """The words as tokens: a bare number followed by a unit (``9`` ``V``) becomes one; a full stop behind one goes."""
    found: list[Token] = []
    skip = False
    words = [word.rstrip(".") or word for word in words]
    for index, word in enumerate(words):
        if skip:
            skip = False
            continue
        after = words[index + 1] if index + 1 < len(words) else ""
        skip = _belong_together(word, after)
        found.append(_token(index, word + after if skip else word))
    return tuple(found)


def _token(index: int, text: str) -> Token:
    try:
        return Token(index, text, quantity=read_quantity(text))
    except QuantityError as error:
        meant = error.suggestion is not None and re.match(r"[oO]?[.,]?\d", text) is not None
        return Token(index, text, failure=error if meant or _begins_like_one(text) else None)


def _begins_like_one(text: str) -> bool:
    """Whether a word that is no quantity was meant as one: a number and a few letters, but no size (``5mm``)."""
    return bool(re.match(r"[-+−±.,]?\d+(?:[.,/]\d+)?[^\d-]*$", text)) and not re.fullmatch(r"\d+mm", text)


def _belong_together(word: str, after: str) -> bool:
    if not re.fullmatch(r"\d+([.,]\d+)?|\d+/\d+", word) or not re.fullmatch(r"[A-Za-zµμΩΩ%]{1,6}", after):
        return False
    joined = _token(0, word + after)
    return joined.quantity is not None


def two_values(token: Token) -> WordProblem | None:
    """``10µ/25V``, ``220R/0.25W``: two values in one word, with a blank between them and the unit that is left out."""
    one, slash, other = token.text.partition("/")
    if token.quantity is not None or not slash:
        return None
    first, second = _token(0, one), _token(0, other)
    if first.quantity is None or second.quantity is None:
        return None
    unit = "F" if first.prefix.lower()[:1] in ("p", "n", "u") and first.prefix and second.quantity.unit == "V" else ""
    written = f"{one}{unit} {other}"
    return WordProblem(token.index, "bad-value", f"{token.text} is two values in one word: write {written}", written)
