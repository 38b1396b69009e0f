"""The list's own lines, quoted with a mark under the stretch that is meant.

Input: the lines of a list, a span, the cells available. Output: rows of plain text, none wider than that. A
line that is too long is folded, not cut. Tabs are expanded, wide characters measured in cells, and there is
always a mark: where something is missing, one caret stands at the place. Only the comment at the end of a line that
does not fit is left away: what it holds is not what is spoken of.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from rich.cells import cell_len

from checker.report.model import Span
from checker.report.words import visible

TAB_STOP = 4
_MOST_LINES = 5
_LEAST_ROOM = 20
# A longer line of a list was not typed by hand.
_MOST_CHARACTERS = 400
_JOINER = "\u200d"


class Row(Struct, frozen=True):
    """One row to print; ``mark`` is true for a row of carets."""

    text: str
    mark: bool = False


class _Glyph(Struct, frozen=True):
    """What the terminal draws as one unit: its text, its cells, whether the span covers it."""

    text: str
    cells: int
    marked: bool


def quote(lines: Sequence[str], span: Span, width: int) -> list[Row]:
    """The rows that show ``span``: one line with carets below, or several lines with a star in the margin.

    A span that lies past the end of the text is shown at its end; a list without lines gives no rows.
    """
    if not lines:
        return []
    first, last = _first_and_last(lines, span)
    if last > first:
        return _several_lines(lines, first, last, width)
    text = _bare(lines[first - 1])
    if span.end_line == first:
        text = _without_comment(text, span.end_column - 1, width - len(f"{first}  "))
    start = span.column if span.line == first else len(text) + 1
    end = span.end_column if span.end_line == first else len(text) + 1
    return _rows(f"{first}  ", _glyphs(text, start, end), width)


def _first_and_last(lines: Sequence[str], span: Span) -> tuple[int, int]:
    """The lines the span touches, held to those there are; where it ends at column 1 it does not touch that line."""
    first = min(max(span.line, 1), len(lines))
    last = span.end_line if span.end_column > 1 else span.end_line - 1
    return first, min(max(last, first), len(lines))


def plain_line(line: int, text: str, width: int) -> list[Row]:
    """A line with its number and no mark, folded to ``width``."""
    margin = f"{line}  "
    bare = _without_comment(_bare(text), 0, width - len(margin))
    return _rows(margin, _glyphs(bare, 0, 0, at_least_one=False), width)


def _without_comment(text: str, keep: int, room: int) -> str:
    """A line that does not fit, its comment as ``# …``; ``keep`` characters at its start stay in any case."""
    if cell_len(text) <= room:
        return text
    at = next((place for place, character in enumerate(text)
               if character == "#" and place >= keep and text[:place].strip() and text[:place].count('"') % 2 == 0), None)
    return text if at is None else f"{text[:at].rstrip()}  # …"


def _several_lines(lines: Sequence[str], first: int, last: int, width: int) -> list[Row]:
    numbers = list(range(first, last + 1))
    shown = numbers if len(numbers) <= _MOST_LINES else [*numbers[: _MOST_LINES - 2], last]
    digits = len(str(last))
    rows: list[Row] = []
    for number in shown:
        if rows and number == last and len(shown) < len(numbers):
            rows.append(Row(f"{'':{digits}}  * … {len(numbers) - len(shown)} more lines"))
        glyphs = _glyphs(_bare(lines[number - 1]), 0, 0, at_least_one=False)
        rows.extend(_rows(f"{number:{digits}}  * ", glyphs, width))
    return rows


def _bare(line: str) -> str:
    return visible(line.rstrip("\r\n")).replace("\n", "\u240a")


def _glyphs(text: str, start: int, end: int, at_least_one: bool = True) -> list[_Glyph]:
    """The line in glyphs, those from column ``start`` to before ``end`` marked; else one at ``start``."""
    start = min(max(start, 1), len(text) + 1) if at_least_one else start
    end = max(end, start + 1) if at_least_one else end
    text, start, end = _window(text, start, end)
    glyphs: list[_Glyph] = []
    cells = column = 0
    for cluster in _clusters(text):
        shown = " " * (TAB_STOP - cells % TAB_STOP) if cluster == "\t" else cluster
        marked = column + len(cluster) >= start and column + 1 < end
        glyphs.append(_Glyph(shown, cell_len(shown), marked))
        cells, column = cells + cell_len(shown), column + len(cluster)
    if start > len(text) and at_least_one:
        glyphs.append(_Glyph(" ", 1, True))
    return glyphs


def _clusters(text: str) -> list[str]:
    """Characters with what is drawn over or joined to them."""
    clusters: list[str] = []
    for character in text:
        alone = not clusters or "\t" in (character, clusters[-1])
        if not alone and (clusters[-1].endswith(_JOINER) or cell_len(character) == 0):
            clusters[-1] += character
        else:
            clusters.append(character)
    return clusters


def _rows(margin: str, glyphs: list[_Glyph], width: int) -> list[Row]:
    room = max(width - len(margin), _LEAST_ROOM)
    rows: list[Row] = []
    for index, part in enumerate(_folded(glyphs, room)):
        before = margin if index == 0 else " " * len(margin)
        rows.append(Row((before + "".join(glyph.text for glyph in part)).rstrip()))
        if any(glyph.marked for glyph in part):
            carets = "".join(("^" if glyph.marked else " ") * glyph.cells for glyph in part)
            rows.append(Row(" " * len(margin) + (carets.rstrip() or "^"), mark=True))
    return rows


def _folded(glyphs: list[_Glyph], room: int) -> list[list[_Glyph]]:
    """The glyphs in parts of at most ``room`` cells, broken after a space where there is one; at least one part."""
    parts: list[list[_Glyph]] = []
    current: list[_Glyph] = []
    for glyph in glyphs:
        if current and sum(each.cells for each in current) + glyph.cells > room:
            cut = _last_break(current)
            parts.append(current[:cut])
            current = current[cut:]
        current.append(glyph)
    return [*parts, current]


def _last_break(glyphs: list[_Glyph]) -> int:
    """Where to fold: after the last space that has a word before it, else at the end."""
    blank = [glyph.text.isspace() for glyph in glyphs]
    first_word = blank.index(False) if False in blank else len(blank)
    return next((index for index in range(len(glyphs), first_word + 1, -1) if blank[index - 1]), len(glyphs))


def _window(text: str, start: int, end: int) -> tuple[str, int, int]:
    """An ordinary line with its columns; of an endless one the stretch about ``start``, columns moved along."""
    if len(text) <= _MOST_CHARACTERS:
        return text, start, end
    first = min(max(start - 1 - _MOST_CHARACTERS // 2, 0), len(text) - _MOST_CHARACTERS)
    last = first + _MOST_CHARACTERS
    before, after = "…" * (first > 0), "…" * (last < len(text))
    moved = len(before) - first
    return before + text[first:last] + after, start + moved, min(end, last + 1) + moved
