"""A list laid out in the canonical way: plain spellings, columns, comments kept.

Input: a text. Output: the text with every line that could be read printed anew, parts and supplies of a block in columns,
comments of a block under one another, no more than one empty line in a row. A line that could not be read, and one that
would not read back as the same statement, stays as it is; so does a list in which one line's spelling decides another's
meaning. Laying out twice changes nothing more.
"""

from __future__ import annotations

from itertools import groupby, zip_longest

from msgspec import Struct

from grammar.printer import columns
from grammar.reader import controls_in, read
from grammar.syntax_tree import Part, Statement, Supply
from grammar.tidy import comment_starts

WIDEST_COLUMN = 26
"""A kind with its values that is longer than this does not push the others of its block to the right."""

FARTHEST_COMMENT = 60
"""Comments stand under one another up to this column."""


class _Line(Struct):
    """One line: as it was, its statement if it is to be printed anew, and its comment."""

    text: str
    statement: Statement | None = None
    comment: str = ""


def laid_out(text: str) -> str:
    """The text in the canonical layout."""
    if controls_in(text):
        # what holds bytes of something else is left alone: with a blank less it might be read, or not be read, as a list
        return text
    before = read(text)
    if len(before.lines) < len(text.replace("\r\n", "\n").replace("\r", "\n").rstrip("\n").split("\n")) and text.strip():
        # what is no text, or too long, was not read as lines that could be laid out, and nothing of it may be lost
        return text
    lines = [_Line(line.rstrip(" \t")) for line in before.lines]
    for statement in before.statements:
        line = lines[statement.span.line - 1]
        starts = comment_starts(line.text)
        lines[statement.span.line - 1] = _Line(line.text, statement, line.text[starts:].strip())
    for number in _changed(before.statements, _printed(lines)):
        lines[number - 1] = _Line(lines[number - 1].text)
    if _changed(before.statements, _printed(lines)):
        # how one line writes its holes can decide how another is read: then the list stays as it is
        lines = [_Line(line.rstrip(" \t")) for line in before.lines]
    result = "\n".join(_without_gaps(_printed(lines))) + "\n"
    # with fewer blanks in it a file that is hardly text may count as none at all: then nothing is touched
    return text if len(read(result).statements) < len(before.statements) else result


def _changed(statements: tuple[Statement, ...], printed: list[str]) -> list[int]:
    """The lines whose printed form would be read as something else."""
    after = {statement.span.line: statement for statement in read("\n".join(printed)).statements}
    return [one.span.line for one in statements if meaning(after.get(one.span.line)) != meaning(one)]


def meaning(value: object) -> object:
    """A statement without its spans, and without how its points were spelt."""
    if isinstance(value, Struct):
        kept = [name for name in value.__struct_fields__ if name != "span" and not (name == "text" and _is_point(value))]
        return type(value).__name__, tuple(meaning(getattr(value, name)) for name in kept)
    return tuple(meaning(one) for one in value) if isinstance(value, tuple) else value


def _is_point(value: Struct) -> bool:
    return type(value).__name__ in ("Hole", "Rail", "Pin", "Node")


# ── columns ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _printed(lines: list[_Line]) -> list[str]:
    """Every line as it will stand, block by block: a block ends at an empty line."""
    printed: list[str] = []
    for is_empty, block in groupby(lines, key=lambda line: not line.text):
        of_block = list(block)
        printed += ["" for _ in of_block] if is_empty else _block(of_block)
    return printed


def _block(lines: list[_Line]) -> list[str]:
    placed = [columns(line.statement) for line in lines if isinstance(line.statement, Part | Supply)]
    widths = [max((len(piece) for piece in column if len(piece) <= WIDEST_COLUMN), default=0)
              for column in zip_longest(*(pieces[:3] for pieces in placed), fillvalue="")]
    bodies = [_body(line, widths) for line in lines]
    told = [len(body) for line, body in zip(lines, bodies, strict=True) if line.comment and len(body) < FARTHEST_COMMENT]
    column = max(told, default=0) + 2
    return [f"{body:<{column}}{line.comment}" if line.comment and len(body) < column else
            f"{body}  {line.comment}".rstrip(" ") for line, body in zip(lines, bodies, strict=True)]


def _body(line: _Line, widths: list[int]) -> str:
    """A line without its comment; one that is not printed anew as it is."""
    if line.statement is None:
        return line.text
    pieces = columns(line.statement)
    if not isinstance(line.statement, Part | Supply):
        return " ".join(pieces)
    padded = zip_longest(pieces, widths[:len(pieces) - 1], fillvalue=0)
    return " ".join(f"{piece:<{width}}" for piece, width in padded).rstrip(" ")


def _without_gaps(lines: list[str]) -> list[str]:
    """No empty lines at the ends, and no two in a row."""
    kept = [line for line, before in zip(lines, ["", *lines]) if line or before]
    while kept and not kept[-1]:
        kept.pop()
    return kept
