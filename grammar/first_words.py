"""Lines that lack the word they begin with: ``W1: a5 to b7`` is a wire, ``LED1 should light when S1 is pressed`` a wish.

The grammar takes a line that begins with no keyword for a part. Here a part that is none is found, and the word to begin
with is told.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.points import Unreadable, columns, is_hole
from grammar.stray_words import JOINS, is_place

if TYPE_CHECKING:
    from lark import Token

_WIRES = frozenset({"wire", "wires", "jumper", "cable", "connect", "link", "join", "bridge", "lead"})
_WISHES = frozenset({"should", "must", "shall", "will", "when", "if"})
_PIN = re.compile(r"[A-Za-z]\w*\.\w+[+-]?")
_PIN_ALONE = re.compile(r"[AD]\d+")
_ROLES = frozenset({"output", "input", "pwm", "pullup", "pull-up", "analog", "analogue", "digital", "pin"})
_SMALL = frozenset({"is", "an", "a", "as", "with"})
_ARROWS = frozenset({"->", "-->", "=>", "→"})
_NUMBERED_WIRE = re.compile(r"(?:w|wire|j|jumper|cable|link)\d+", re.IGNORECASE)
_FEEDS = frozenset({"powered", "fed"})


def check_first_word(name: Token, kind: list[Token], words: list[Token]) -> None:
    """Raises Unreadable for a part without ``part`` that reads like a wire, a wish or how a controller is fed. ``kind``
    are the words before the name, ``words`` those after it."""
    if any(word.lower() in _WISHES for word in kind):
        raise _missing("expect", "says what should happen", kind[0], kind[0])
    if any(word.lower() in _WISHES for word in words):
        raise _missing("expect", "says what should happen", name, name, f"expect {name}")
    if len(words) > 1 and words[0].lower() == "pin":
        word, what = ("wire", "joins two points") if any(map(is_place, words[2:])) else ("pin", "says what the program does")
        raise _missing(word, what, name, words[1], f"{word} {name}.{words[1]}")
    if not kind and words and (pins := _pins_before_roles(name, words)):
        raise _missing("pin", "says what the program does", name, pins[-1], f"pin {'.'.join(pins)}")
    if not kind and len(words) > 1 and words[1] in _ARROWS and sum(map(is_place, words)) < 2:
        raise _missing("wire", "joins two points", name, name, f"wire {name}")
    if words and words[0].lower() in _FEEDS:
        raise _missing("power", "says how a controller is fed", name, words[0], f"power {name}")
    if kind and (_PIN.fullmatch(kind[0]) or is_place(kind[0])):
        raise _missing("wire", "joins two points", kind[0], kind[0], f"wire {kind[0]}")
    if kind and is_hole(str(name)) and (any(word.lower() in _WIRES for word in kind) or _joins_on(words)):
        raise _missing("wire", "joins two points", kind[0], kind[-1], "wire")
    if not kind and is_hole(str(name)) and words and all(is_place(word) or word.lower() in JOINS for word in words):
        raise _missing("wire", "joins two points", name, name, f"wire {name}")
    if not kind and _NUMBERED_WIRE.fullmatch(name) and _places_only(words):
        raise _missing("wire", "joins two points", name, name, "wire")
    if not kind and len(words) == 3 and _joins_on(words[1:]) and (not is_place(words[0]) or _PIN_ALONE.fullmatch(words[0])):
        numbered = _NUMBERED_WIRE.fullmatch(name)
        raise _missing("wire", "joins two points", name, name, "wire" if numbered else f"wire {name}")


def _pins_before_roles(name: Token, words: list[Token]) -> list[Token]:
    """``D9 is an output``, ``U1 D9 output``: the words that name the pin, where all that follow say what it does."""
    said = [word for word in words if word.lower() not in _SMALL]
    if len(said) > 1 and _PIN_ALONE.fullmatch(said[0]) and all(word.lower() in _ROLES for word in said[1:]):
        return [name, said[0]]
    return [name] if _PIN_ALONE.fullmatch(name) and said and all(word.lower() in _ROLES for word in said) else []


def _joins_on(words: list[Token]) -> bool:
    """``to f5``."""
    return len(words) == 2 and words[0].lower() in JOINS and is_place(words[1])


def _places_only(words: list[Token]) -> bool:
    """``a5 to b7``, ``wire a5 to b7``: places with something between them."""
    rest = words[1:] if words and words[0].lower() in _WIRES else words
    return len(rest) >= 3 and is_place(rest[0]) and _joins_on(rest[1:3])


def _missing(word: str, what: str, first: Token, last: Token, suggestion: str | None = None) -> Unreadable:
    return Unreadable(
        "first-word-missing", columns(first)[0], columns(last)[1], suggestion=suggestion, word=word, what=what
    )
