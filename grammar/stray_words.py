"""Words of a ``part`` that are neither kind nor value: holes without ``in``, letters without ``as``, misspelt keywords.

The grammar takes every word it does not know for a kind or a value, as it has no list of parts. Here the words that
have the shape of something else are found, so that none is misread in silence.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NoReturn

from grammar.alphabets import in_latin
from grammar.points import Line, Unreadable, columns, is_hole
from grammar.suggestions import correction

if TYPE_CHECKING:
    from lark import Token

_MOST_ROWS = 63
_RAIL = re.compile(r"[LR][+-]\d{0,2}", re.IGNORECASE)
_ROWS = re.compile(r"\d{1,2}(-|\.\.)\d{1,2}")
_PLACE_WORDS = ("in", "at", "on", "between", "from", "across")
_BEFORE_HOLES = ("in", "at", "between", "across", "legs")
_BEFORE_ONE_HOLE = ("band", "stripe", "long", "short", "plus", "minus", "anode", "cathode", "dot", "flat", "notch")
_BAND_COLOURS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white", "gold", "silver")
JOINS = frozenset({"to", "and", "->", "=>", "→", "-", "--", "-->", "&", "is", "goes", "in", "at"})
"""Words between two places, or between a pin and its place, that say no more than that they belong together."""
FILLERS = frozenset({"with", "and", "goes", "its", "has", "sits", "placed", "legs", "leads", "one", "other", "connects",
                     "connected", "runs", "is"})
"""Words of a sentence that say nothing of a part."""
_CODED = ("ceramic", "film", "capacitor", "cap", "disc", "disk", "polyester")
_PINS_TOGETHER = re.compile(r"[EBC]{3}|[GDS]{3}", re.IGNORECASE)
_HOLE_AND_PIN = re.compile(
    r"(?P<hole>[a-j]\d{1,2})[=:](?P<pin_last>\w{1,4}|[+-])|(?P<pin>\w{1,4}|[+-])[=:](?P<hole_last>[a-j]\d{1,2})", re.IGNORECASE)
_NUMBERS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "ten": "10", "hundred": "100"}
_NAMES = ((("resistor", "ohm", "ohms"), "R"), (("led",), "LED"), (("capacitor",), "C"), (("diode",), "D"), (("transistor",), "Q"),
          (("button", "switch"), "S"), (("motor",), "M"), (("buzzer",), "BZ"))
_ROUND = ("curved", "round", "rounded", "domed", "half-round", "bulging")
_RUN_TOGETHER = re.compile(r"\W*([A-Ja-j]\d{1,2})\W+([A-Ja-j]\d{1,2})\W*")


def is_place(word: str) -> bool:
    """Whether a word has the shape of a hole on a board (column first) or of a rail."""
    return (is_hole(word) and int(re.sub(r"\D", "", word)) <= _MOST_ROWS) or _RAIL.fullmatch(word) is not None


def stray_places(words: list[Token], *, after_bands: bool = False) -> list[Token]:
    """The holes of a part that was written without ``in`` (``part R1 220 b11 to b16``): one run of two or more, after
    at least one other word or the bands. Empty where there are none, or where a keyword before them is misspelt."""
    places = [index for index, word in enumerate(words) if (index or after_bands) and is_place(word)]
    if len(places) < 2:
        return []
    run = words[places[0] : places[-1] + 1]
    if not all(is_place(word) or word.lower() in JOINS for word in run):
        return []
    if places[0] and correction(words[places[0] - 1], _BEFORE_HOLES):
        return []
    return [words[index] for index in places]


def bands_without_word(name: Token, words: list[Token], bands: list[Token]) -> tuple[list[Token], list[Token]]:
    """``R1 (red red brown gold)``: three colours or more of a part called R… are its bands. The words that are left, and
    the bands."""
    colours = [word for word in words if word.lower() in (*_BAND_COLOURS, "gray", "purple")]
    if bands or len(colours) < 3 or not name.upper().startswith("R"):
        return words, bands
    return [word for word in words if word not in colours], colours


def code_without_word(name: Token, words: list[Token], code: list[Token]) -> tuple[list[Token], list[Token]]:
    """``C2 ceramic 104``: three digits on a ceramic or film capacitor called C… are what is printed on it. Where the last
    is 0 they could be a value as well, and where no such kind is named they could be a slip. The words that are left, and
    the code."""
    printed = [word for word in words if re.fullmatch(r"[1-9]\d[1-5]", word)]
    kinds = [word for word in words if word.lower() in _CODED]
    if code or len(printed) != 1 or not kinds or not name.upper().startswith("C"):
        return words, code
    return [word for word in words if word not in printed], printed


def check_kind(kind: list[Token], name: Token) -> None:
    """The words before the name (``red led LED1``). Raises Unreadable where a place begins before any name, and for a wire
    that begins with another word (``Draht von L+ nach a7``)."""
    places = [word for word in kind if is_place(word)]
    if len(places) == 1 and kind[0] is not places[0] and is_hole(str(name)):
        last = kind[kind.index(places[0]) - 1]
        if kind[0].lower() not in _PLACE_WORDS:
            raise Unreadable("first-word-missing", columns(kind[0])[0], columns(last)[1], suggestion="wire", word="wire",
                             what="joins two points")
    if kind and kind[0].lower() == "from":
        raise Unreadable("first-word-missing", *columns(kind[0]), suggestion="wire from", word="wire", what="joins two points")
    for word in kind:
        if word.lower() in (*_PLACE_WORDS, "to", "into", "goes", "leg", "legs"):
            raise Unreadable("name-expected", *columns(word), suggestion=_with_a_name(word, kind))


def _with_a_name(place: Token, kind: list[Token]) -> str | None:
    """``470 ohm resistor from b7``: a name before the word for the place, where the kind tells the letters of names."""
    before = [word.lower() for word in kind[: kind.index(place)]]
    letters = next((letters for word in before for words, letters in _NAMES if word in words), None)
    return f"{letters}1 {place}" if letters else None


def check_before_facing(words: list[Token], facing: list[int]) -> None:
    """``flt faces a``: a word right before ``faces`` is a misspelt mark. ``facing`` are the columns of ``faces``."""
    for word in words[1:]:
        if columns(word)[1] + 1 in facing and (near := correction(word, ("flat", "tab", "front"))):
            raise Unreadable("misspelt", *columns(word), suggestion=near)


def check_words(words: list[Token], line: Line, *, placed: bool, legs: list[Token], bands: list[Token],
                facing: bool = False) -> None:
    """Raises Unreadable for the first word that is out of place. ``legs`` are the tokens of ``in``; ``facing`` is true
    where the part says ``faces`` without a mark."""
    _check_pairs(words)
    for index, word in enumerate(words):
        before = words[index - 1] if index else None
        if is_place(in_latin(word)) and in_latin(word) != word:
            raise Unreadable("other-alphabet", *columns(word), suggestion=in_latin(word))
        if bands and columns(word)[0] == columns(bands[-1])[1] + 1:
            _after_bands(word)
        if index and (is_place(word) or _ROWS.fullmatch(word)):
            _stray_place(word, before, placed)
        if index and (run := _RUN_TOGETHER.fullmatch(word)):
            raise Unreadable("hole-astray", *columns(word), suggestion=f"in {run[1]} {run[2]}")
        if index and word.lower() in _ROUND and (facing or "side" in (one.lower() for one in words[index + 1 : index + 2])):
            raise Unreadable("round-side", *columns(word))
        if index and before is not None and before.lower() in _NUMBERS and re.fullmatch(r"k|M|kilo|ohms?", word):
            value = f"{_NUMBERS[before.lower()]}{word if len(word) == 1 else 'k' if word == 'kilo' else ''}"
            raise Unreadable("number-in-words", columns(before)[0], columns(word)[1], suggestion=value)
        if index and re.fullmatch(r"[A-Za-z]", word):
            _letters_alone(words[index:])
        if index and _PINS_TOGETHER.fullmatch(word) and len(set(word.upper())) == len(word):
            raise Unreadable("letters-astray", *columns(word), suggestion=f"as {' '.join(word.upper())}")
        if legs and not line.text[columns(legs[-1])[1] : columns(word)[0]].strip(" ,\t\u00a0"):
            _half_a_hole(word, legs, others=index > 0)


def _letters_alone(words: list[Token]) -> NoReturn:
    """``C B E``: with ``as`` where more letters of pins follow right behind."""
    run = [word for word in words if re.fullmatch(r"[A-Za-z+-]", word)]
    suggestion = f"as {words[0]}" if len(run) > 1 and run == words[: len(run)] else None
    raise Unreadable("letters-astray", *columns(words[0]), suggestion=suggestion)


def _check_pairs(words: list[Token]) -> None:
    """``c24=C c25=B c26=E``: holes and pins in one word each."""
    pairs = [(word, match) for word in words[1:] if (match := _HOLE_AND_PIN.fullmatch(word))]
    if not pairs:
        return
    holes = [match["hole"] or match["hole_last"] for _, match in pairs]
    pins = [match["pin_last"] or match["pin"] for _, match in pairs]
    raise Unreadable("hole-and-pin", columns(pairs[0][0])[0], columns(pairs[-1][0])[1],
                     suggestion=f"in {' '.join(holes)} as {' '.join(pins)}")


def _after_bands(word: Token) -> None:
    if word.isalpha() and (near := correction(word, _BAND_COLOURS)):
        raise Unreadable("colour-expected", *columns(word), suggestion=near)


def _stray_place(word: Token, before: Token | None, placed: bool) -> None:
    keywords = _BEFORE_ONE_HOLE if placed else _BEFORE_HOLES + _BEFORE_ONE_HOLE
    if before is not None and before.lower() != "pot" and (near := correction(before, keywords)):
        raise Unreadable("misspelt", *columns(before), suggestion=near)
    raise Unreadable("hole-astray", *columns(word))


def _half_a_hole(word: Token, legs: list[Token], *, others: bool) -> None:
    """``in b5 k12``, ``in c10 11 12``: what comes right after the only hole that was named, or is the next row."""
    last = str(legs[-1])
    if len(legs) == 1 and re.fullmatch(r"[k-zK-Z]-?\d{1,2}", word):
        raise Unreadable("column-unknown", *columns(word))
    if not word.isdecimal() or len(word) > 2 or not is_hole(last):
        return
    row = int(re.sub(r"\D", "", last))
    if len(legs) == 1 or (others and abs(int(word) - row) == 1):
        raise Unreadable("hole-without-column", *columns(word), suggestion=f"{last[0]}{word}")
