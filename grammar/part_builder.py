"""The statement ``part`` and its shorter forms: words, place, marks, claim, bands, code, in any order.

Input: lark's tree of the line. Output: a ``Part``, or ``Unreadable``. Legs that a mark names by row or side
(``band row 18``) are looked up among the holes of ``in`` (``grammar.marks``), so that the tree holds points only.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from grammar.first_words import check_first_word
from grammar.marks import build_facing, build_mark
from grammar.points import Line, Unreadable, columns, is_hole, read_place, read_point
from grammar.spoken_legs import PIN_WORDS, pins_before_places, pins_said_with_holes, places_of_marks
from grammar.stray_words import (
    FILLERS,
    bands_without_word,
    check_before_facing,
    check_kind,
    check_words,
    code_without_word,
    stray_places,
)
from grammar.syntax_tree import Claim, Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross, PlacedIn, Word
from grammar.trees import check_name, clauses_of, extent, statement_span, tokens_of

if TYPE_CHECKING:
    from lark import Token, Tree

_RUN_TOGETHER = re.compile(r"(?:[EBC][-/]?){3}|(?:[GDS][-/]?){3}|[AK][-/]?[AK]", re.IGNORECASE)
_AMPS_LIKE_A_HOLE = re.compile(r"\d+[AaFH]")


def build_part(tree: Tree[Token], line: Line) -> Part:
    """``part NAME …``."""
    return _part(tree, tokens_of(tree)[1], [], line)


def build_bare_part(tree: Tree[Token], line: Line) -> Part:
    """``R1 220 between b5 and b12``, without ``part``."""
    return _part(tree, tokens_of(tree)[0], [], line)


def build_kind_first(tree: Tree[Token], line: Line) -> Part:
    """``red led LED1 in d12 d14``: the kind before the name."""
    *kind, name = [child for child in tree.children if isinstance(child, str)]
    return _part(tree, name, kind, line)


def _part(tree: Tree[Token], name: Token, kind: list[Token], line: Line) -> Part:
    check_kind(kind, name)
    clauses: dict[str, list[Tree[Token]]] = {}
    for clause in clauses_of(tree):
        clauses.setdefault(str(clause.data), []).append(clause)
    after = [token for clause in clauses.get("value", []) for token in tokens_of(clause)]
    check_name(name, after[0] if after else None)
    if tree.data != "part" and not clauses.get("placed_in"):
        check_first_word(name, kind, after)
    words = [word for word in kind + after if word.lower() not in FILLERS]
    bands = [token for clause in clauses.get("bands", []) for token in tokens_of(clause)]
    code = [token for clause in clauses.get("code", []) for token in tokens_of(clause)]
    words, bands = bands_without_word(name, words, bands)
    words, code = code_without_word(name, words, code)
    words, pins = pins_said_with_holes(words, clauses.get("placed_in", []))
    place, words, pins = _place(name, clauses, _Said(words, pins, bool(bands)), line)
    if not (words or bands or code):
        raise Unreadable("kind-missing", *columns(name))
    check_before_facing(words, [extent(clause)[0] for clause in clauses.get("facing", [])])
    check_words(words, line, placed=place is not None, legs=_holes(clauses), bands=bands, facing="facing" in clauses)
    marks = _marks(clauses, place, line)
    if marks and place is None:
        raise Unreadable("place-missing", marks[0].span.column - 1, marks[0].span.end_column - 1)
    return Part(
        line.token_word(name),
        tuple(line.token_word(token) for token in words),
        statement_span(tree, line),
        place,
        marks,
        _claim(clauses, pins, line),
        tuple(line.token_word(token) for token in bands),
        line.token_word(code[0]) if code else None,
    )


_Clauses = dict[str, list["Tree[Token]"]]


class _Said(NamedTuple):
    """What a part says beside its clauses: words, pins that were said with their holes, and whether it has bands."""

    words: list[Token]
    pins: list[Token]
    bands: bool


def _holes(clauses: _Clauses) -> list[Token]:
    return [token for clause in clauses.get("placed_in", []) for token in tokens_of(clause)]


def _place(
    name: Token, clauses: _Clauses, said: _Said, line: Line
) -> tuple[PlacedIn | PlacedAcross | None, list[Token], list[Token]]:
    """The place, the words that are left (amps that looked like a hole come in, holes without ``in`` go out), and the
    pins that were said with their holes."""
    words, pins, _ = said
    across, legs, turned = clauses.get("across", []), clauses.get("placed_in", []), bool(clauses.get("turned"))
    if len(across) + bool(legs) > 1:
        raise Unreadable("placed-twice", *columns(name))
    if across:
        return _placed_across(across[0], turned, line), words, pins
    if legs:
        start, _ = extent(legs[0])
        holes, amps = _without_amps(_holes(clauses))
        words = sorted(words + amps, key=columns)
    else:
        words, holes, pins = _places_without_in(clauses, said)
        if not holes:
            _check_turned(clauses, 0)
            return None, words, pins
        start, _ = columns(holes[0])
    points = tuple(read_place(hole, line) for hole in holes)
    _check_turned(clauses, len(points))
    return PlacedIn(points, line.span(start, columns(holes[-1])[1]), turned), words, pins


def _places_without_in(clauses: _Clauses, said: _Said) -> tuple[list[Token], list[Token], list[Token]]:
    """The words that are left, the places, and the pins said with them: ``R1 220 b5 b9``, ``long leg e5, short e6``."""
    words = said.words
    if spoken := pins_before_places(words):
        return spoken
    if places := stray_places(words, after_bands=said.bands):
        joins = words[words.index(places[0]) : words.index(places[-1])]
        return [word for word in words if word not in places and word not in joins], places, []
    return words, places_of_marks(clauses.get("mark", [])), []


def _check_turned(clauses: _Clauses, legs: int) -> None:
    """``turned`` says something of the four legs of a button, and nothing of another part."""
    if legs != 4 and "turned" in clauses:
        raise Unreadable("turned-says-nothing", *extent(clauses["turned"][0]))


def _without_amps(tokens: list[Token]) -> tuple[list[Token], list[Token]]:
    """``fuse in b5 b9 2A``: among holes with the column first, 2A is two amps."""
    if not any(is_hole(str(token)) for token in tokens):
        return tokens, []
    amps = [token for token in tokens if _AMPS_LIKE_A_HOLE.fullmatch(str(token))]
    return [token for token in tokens if token not in amps], amps


def _placed_across(clause: Tree[Token], turned: bool, line: Line) -> PlacedAcross:
    tokens, span = tokens_of(clause), statement_span(clause, line)
    if tokens[0].type == "HOLE":
        return _corners(tokens, turned, clause, line)
    board, _, said = tokens[0].rpartition(":")
    first, last = sorted(int(number) for number in re.findall(r"\d+", said))
    if first == 0:
        raise Unreadable("row-unknown", *columns(tokens[0]))
    letters = re.findall(r"(?<![a-z])[a-j](?![a-z])", tokens[1].lower()) if len(tokens) > 1 else ["e", "f"]
    left, right = sorted(letters)
    return PlacedAcross(first, last, span, left, right, turned, board or None)


def _corners(tokens: list[Token], turned: bool, clause: Tree[Token], line: Line) -> PlacedAcross:
    """``across e10 f13``: two opposite corners."""
    corners = [point for point in (read_point(token, line) for token in tokens) if isinstance(point, Hole)]
    first, last = sorted(corner.row for corner in corners)
    left, right = sorted(corner.column for corner in corners)
    return PlacedAcross(first, last, statement_span(clause, line), left, right, turned, corners[0].board)


def _marks(
    clauses: _Clauses, place: PlacedIn | PlacedAcross | None, line: Line
) -> tuple[MarkAt | MarkFaces | Notch, ...]:
    marks = [mark for tree in clauses.get("mark", []) for mark in build_mark(tree, place, line)]
    facing = [build_facing(tree, line) for tree in clauses.get("facing", [])]
    return tuple(sorted([*marks, *facing], key=lambda mark: mark.span))


def _claim(clauses: _Clauses, pins_with_holes: list[Token], line: Line) -> Claim | None:
    if pins_with_holes:
        words = tuple(pin for token in pins_with_holes for pin in _pins(token, line))
        span = line.span(columns(pins_with_holes[0])[0], columns(pins_with_holes[-1])[1])
        return Claim(words, "measured" in clauses, span)
    if "claim" not in clauses:
        return None
    tree = clauses["claim"][0]
    measured = clauses.get("measured", [])
    start, end = extent(tree)
    if measured:
        end = max(end, extent(measured[0])[1])
    pins = tuple(pin for token in tokens_of(tree) for pin in _pins(token, line))
    return Claim(pins, bool(measured), line.span(start, end))


def _pins(token: Token, line: Line) -> list[Word]:
    """One pin, or three letters written together (``EBC``, ``E-B-C``); a spelled-out name in short (``emitter``)."""
    start, _ = columns(token)
    if _RUN_TOGETHER.fullmatch(str(token)):
        letters = [(place, letter) for place, letter in enumerate(token) if letter.isalpha()]
        return [line.word(start + place, start + place + 1) for place, _ in letters]
    word = line.token_word(token)
    return [Word(PIN_WORDS.get(word.text.lower(), word.text), word.span)]
