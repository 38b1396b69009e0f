"""Legs that are told one by one, each with its pin or its mark: ``emitter in c10, base in c11``, ``long leg e5``.

Input: the words and clauses of a ``part``. Output: where the legs are, and which pin each one is where that is said.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from grammar.points import columns
from grammar.stray_words import JOINS, is_place
from grammar.trees import extent, tokens_of

if TYPE_CHECKING:
    from lark import Token, Tree

PIN_WORDS = {"emitter": "E", "base": "B", "collector": "C", "gate": "G", "drain": "D", "source": "S", "anode": "A",
             "cathode": "K", "wiper": "W", "plus": "+", "minus": "-"}  # fmt: skip
_LETTERS = frozenset("EBCGDSAKW")
_ANY_LEG = frozenset({"one", "other", "another", "first", "second", "1st", "2nd"})
_MARKS_OF_A_LEG = ("long", "short", "anode", "cathode", "plus", "positive", "minus", "negative", "+", "-")
_POINTS = ("HOLE", "RAIL", "NAMED_RAIL")


class Legs(NamedTuple):
    """The words that are left, the tokens of the places and the pins in the order of those places (may be empty)."""

    words: list[Token]
    places: list[Token]
    pins: list[Token]


def pins_said_with_holes(words: list[Token], legs: list[Tree[Token]]) -> tuple[list[Token], list[Token]]:
    """``emitter in c10, base in c11, collector in c12``: the words that are left, and the pins in the order of legs.
    ``one leg in a5, the other in a10`` names no pin."""
    if len(legs) < 2 or any(len(tokens_of(clause)) != 1 for clause in legs):
        return words, []
    before = {extent(clause)[0] - 1: clause for clause in legs}
    pins = [word for word in words[1:] if columns(word)[1] in before]
    if len(pins) != len(legs):
        return words, []
    rest = [word for word in words if word not in pins]
    return rest, [] if all(pin.lower() in _ANY_LEG for pin in pins) else pins


def pins_before_places(words: list[Token]) -> Legs | None:
    """``2N2222: emitter c10, base c11, collector c12``: a pin before every place, from some word on to the last."""
    spoken = [word for word in words if word.lower() not in JOINS]
    first = next((index for index, word in enumerate(spoken) if index > 1 and is_place(word)), 0)
    pins, places = spoken[first - 1 :: 2], spoken[first::2]
    if len(places) < 2 or len(pins) != len(places):
        return None
    if not all(_is_pin(pin) and is_place(place) for pin, place in zip(pins, places, strict=True)):
        return None
    return Legs(spoken[: first - 1], places, pins)


def _is_pin(word: Token) -> bool:
    return word.lower() in PIN_WORDS or word in _LETTERS


def places_of_marks(marks: list[Tree[Token]]) -> list[Token]:
    """``long leg e5, short leg e6``: the two places, where two marks that each part has once say all of it."""
    said = [tokens_of(mark) for mark in marks]
    told = [tokens for tokens in said if str(tokens[0]).lower().startswith(_MARKS_OF_A_LEG) and tokens[-1].type in _POINTS]
    places = [tokens[-1] for tokens in told]
    if len(places) != 2 or any(one.lower() == other.lower() for one, other in pairwise(places)):
        return []
    return places
