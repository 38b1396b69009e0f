"""From the tokens of the grammar to points: holes, rails, pins, nodes.

Input: one token and the line as given. Output: a ``Point`` with its span, or ``Unreadable`` with the label of a row in
``grammar.problems``. A rail of which no side was said gets the side "" here; ``grammar.names`` fills it in.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.syntax_tree import Bare, Hole, Node, Pin, Point, Rail, Span, Word

if TYPE_CHECKING:
    from lark import Token

_HOLE = re.compile(
    r"(?:(?P<board>[^:]+):)?(?:(?P<column>[a-z])\s*-?\s*(?P<row>\d+)|(?P<row_first>\d+)-?(?P<column_last>[a-z]))", re.I
)
_HOLE_IN_WORDS = re.compile(
    r"row\s+(?P<row>\d+).*(?P<column>[a-z])|col.*?(?P<column_first>[a-z])\W+row\s+(?P<row_last>\d+)", re.I
)
_RAIL = re.compile(r"(?:(?P<board>[^:]+):)?(?P<side>[lr]) ?(?P<sign>[+-])\D*(?P<row>\d*)", re.I)
_ROW_AT_END = re.compile(r"\d+$")
_BEFORE_A_SIGN = re.compile(r"^(?:left|right)(?:[- ]hand)?(?: +side)?(?: +rail(?= +[^\s\d]))? *")
_PLUS_WORDS = ("red", "plus", "positive", "+", "vcc")
_NAME_AND_SIGN = re.compile(r"(?P<name>[a-z][\w-]*\w)(?P<sign>[+-])", re.I)


class Unreadable(Exception):
    """A place in the line that cannot be read: a label of ``PROBLEMS``, columns from 0, and what fills the sentence."""

    def __init__(self, label: str, start: int, end: int, *, suggestion: str | None = None, **fills: str) -> None:
        super().__init__(label)
        self.label, self.start, self.end, self.suggestion, self.fills = label, start, end, suggestion, fills


class Line:
    """The line being read, as given; makes words and spans from columns that count from 0."""

    def __init__(self, text: str) -> None:
        self.text = text

    def span(self, start: int, end: int) -> Span:
        return Span(1, start + 1, 1, end + 1)

    def word(self, start: int, end: int) -> Word:
        return Word(self.text[start:end], self.span(start, end))

    def token_word(self, token: Token) -> Word:
        start, end = columns(token)
        return self.word(start, end)


def columns(token: Token) -> tuple[int, int]:
    """Start and end column of a token, from 0, end exclusive."""
    start = token.start_pos or 0
    return start, start + len(token)


def read_point(token: Token, line: Line) -> Point:
    """The point a token stands for. Raises Unreadable for a column or row that no board has and for an unclear rail."""
    start, end = columns(token)
    text, span = line.text[start:end], line.span(start, end)
    match token.type:
        case "HOLE" | "HOLE_APART":
            return _hole(token, text, span)
        case "RAIL" | "RAIL_AND_ROW":
            return _rail(token, text, span)
        case "NAMED_RAIL":
            return _named_rail(token, text, span)
        case "UNCLEAR_RAIL":
            raise Unreadable("rail-unclear", start, end)
        case "PIN":
            part, _, pin = text.rpartition(".") if "." in text else (text[:-1], "", text[-1])
            return Pin(part, pin, text, span)
        case "PIN_OF" | "PIN_AFTER":
            words = token.split()
            part, pin = (words[-1], words[-3]) if token.type == "PIN_OF" else (words[0], words[-1])
            return Pin(part, pin, text, span)
        case "PIN_APART":
            return Pin(text[:-1].rstrip(), token[-1], text, span)
        case "NODE":
            return Node(text[1:].casefold(), text, span)
        case "DESIGNATOR" if is_hole(text):
            return _hole(token, text, span)
        case _:
            return _bare(token, text, span)


def read_place(token: Token, line: Line) -> Point:
    """The hole or rail that a token of ``in`` stands for, or a plain word of that shape (``R1 220 b5 b9``)."""
    if token.type != "WORD":  # a place after `in`, or the target of a mark
        return read_point(token, line)
    return read_point(token.update(type="HOLE" if is_hole(str(token)) else "RAIL"), line)


def is_hole(text: str) -> bool:
    """Whether the text has the shape of a hole, column first (``a12``), as far as any board goes."""
    return re.fullmatch(r"[a-jA-J]-?\d{1,3}", text) is not None


def _hole(token: Token, text: str, span: Span) -> Hole | Bare:
    column, row, board = _column_and_row(str(token))
    if row == 0 and text in ("A0", "D0"):
        # a pin, where a name stands before it or the list has one controller: that is seen once all names are known
        return Bare(text, span)
    if row == 0:
        raise Unreadable("row-unknown", *columns(token))
    return Hole(column.lower(), row, text, span, board)


def _column_and_row(text: str) -> tuple[str, int, str | None]:
    """Column, row and board of ``a12``, ``12a``, ``TOP:a12``, ``row 12 column a``, ``column a row 12``."""
    if match := _HOLE_IN_WORDS.fullmatch(text):
        return match["column"] or match["column_first"], int(match["row"] or match["row_last"]), None
    match = _HOLE.fullmatch(text)
    assert match is not None, "the grammar let through a hole of another shape"
    return match["column"] or match["column_last"], int(match["row"] or match["row_first"]), match["board"]


def _rail(token: Token, text: str, span: Span) -> Rail:
    match = _RAIL.fullmatch(str(token))
    assert match is not None, "the grammar let through a rail of another shape"
    if match["row"] and int(match["row"]) == 0:
        raise Unreadable("row-unknown", *columns(token))
    return Rail(
        match["side"].upper(), match["sign"], int(match["row"]) if match["row"] else None, text, span, match["board"]
    )


def _named_rail(token: Token, text: str, span: Span) -> Rail:
    side = "L" if "left" in token.lower() else "R" if "right" in token.lower() else ""
    sign = "+" if _BEFORE_A_SIGN.sub("", token.lower()).startswith(_PLUS_WORDS) else "-"
    row = _ROW_AT_END.search(token)
    if row and int(row[0]) == 0:
        raise Unreadable("row-unknown", *columns(token))
    return Rail(side, sign, int(row[0]) if row else None, text, span)


def _bare(token: Token, text: str, span: Span) -> Point:
    """A word; ``PACK+`` without a dot is the pin + of PACK. Lower-case ``k12`` is meant as a hole that no board has."""
    if re.fullmatch(r"[a-j]0+", text, re.I):
        raise Unreadable("row-unknown", *columns(token))
    if match := _NAME_AND_SIGN.fullmatch(text):
        return Pin(match["name"], match["sign"], text, span)
    return Bare(text, span)
