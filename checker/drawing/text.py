"""A board in a terminal: one line a row, a sign in each hole that something is in, and at the side what it is.

Input: a ``Plan`` and a width in columns. Output: lines of plain Unicode, readable without colour; rows that nothing is
in are left out but for the neighbours of those in use. A cell of three columns holds the pin, or the name of a part
whose pins are alike; what is seen on the part stands beside it: the flat of a TO-92 and the tab of a TO-220 as a bar,
the band of a diode as ╫, a stripe as ▒.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from msgspec import Struct

from checker.drawing.plan import BoardAt, JumperAt, PartAt, Plan
from checker.drawing.text_below import beside, legend
from checker.report.words import visible
from checker.seating.boards import COLUMNS, LAST_ROW_OF_FIRST_PIECE, ROWS

LEAST_WIDTH = 56
_GRID = 53
"""Columns that the rows themselves take; what is left is for the words at the side."""
_LEAST_SIDE = 20
"""With less room than that at the side, the words go below their row."""
_EMPTY, _WIRED = "·", "o"
_SIDE_MARKS = {"left": ("▐", ""), "right": ("", "▌"), "top": ("▔", "▔"), "bottom": ("▁", "▁")}
_LEG_MARKS = {"band": ("╫", "╫"), "stripe": ("▒", "▒"), "flat": ("|", "|"), "plus": ("", "")}
_SAID_AT = {"band": "band", "stripe": "stripe", "flat": "flat of the rim", "plus": "+ mark"}
_BOLD, _PLAIN = "\x1b[1m", "\x1b[0m"


class _Row(Struct):
    """A row while it is filled: signs by column or rail, what stands in the channel, words for the side."""

    cells: dict[str, str]
    channel: str
    said: list[tuple[int, str]]


_ORDER = ("L+", "L-", *COLUMNS, "R+", "R-")


def text_of(plan: Plan, width: int = 80, colour: bool = False) -> str:
    """The whole drawing in lines no longer than ``width`` (at least 56)."""
    width = max(width, LEAST_WIDTH)
    lines = [_headline(plan.title, width, colour), ""]
    for board in plan.boards:
        lines += [*_board(plan, board, width), ""]
    lines += beside(plan, width)
    lines += legend(plan, width)
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _headline(text: str, width: int, colour: bool) -> str:
    shown = visible(text).replace("\n", " ")[:width]
    return f"{_BOLD}{shown}{_PLAIN}" if colour else shown


# ── rows ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _board(plan: Plan, board: BoardAt, width: int) -> Iterator[str]:
    rows = {number: _Row({}, "", []) for number in range(1, ROWS[board.size] + 1)}
    prefix = f"{board.name}:" if len(plan.boards) > 1 else ""
    found: dict[str, str] = {}
    for mark in plan.marks:
        found[mark.at] = found.get(mark.at, "") + f" ({mark.number})"
    for part in plan.parts:
        _put_part(rows, part, prefix, found)
    for jumper in plan.jumpers:
        _put_jumper(rows, jumper, prefix, found)
    size = f"{board.size} board, {ROWS[board.size]} rows"
    yield visible(f"{board.name}: {size}" if board.name else size)
    yield from _letters(board)
    last = 0
    for number in _shown(rows, board):
        if number > last + 1:
            count = number - last - 1
            yield f"  ⋮   {count} rows with nothing in them" if count > 1 else "  ⋮   1 row with nothing in it"
        yield from _row(board, number, rows[number], width)
        if board.split and number == LAST_ROW_OF_FIRST_PIECE[board.size]:
            yield "    ══ gap " + " " * 35 + "══ gap "
        last = number
    if last < len(rows):
        yield f"  ⋮   down to row {len(rows)}"


def _letters(board: BoardAt) -> Iterator[str]:
    rails = board.size != "mini"
    left = "  +  - " if rails else ""
    letters = ["".join(f" {letter} " for letter in half) for half in (COLUMNS[:5], COLUMNS[5:])]
    yield f"    {left}{letters[0]}     {letters[1]}{'  +  -' if rails else ''}"


def _shown(rows: dict[int, _Row], board: BoardAt) -> list[int]:
    """The rows in use and their neighbours; both sides of a gap in the rails."""
    used = {number for number, row in rows.items() if row.cells or row.channel}
    if board.split:
        used.add(LAST_ROW_OF_FIRST_PIECE[board.size])
    return sorted({near for number in used for near in (number - 1, number, number + 1) if near in rows})


def _row(board: BoardAt, number: int, row: _Row, width: int) -> Iterator[str]:
    rails = board.size != "mini"
    cell = {key: _cell(row.cells.get(key, _EMPTY)) for key in (*COLUMNS, "L+", "L-", "R+", "R-")}
    line = f"{number:>3} "
    if rails:
        line += cell["L+"] + cell["L-"] + " "
    line += "".join(cell[letter] for letter in COLUMNS[:5]) + (row.channel or "     ")
    line += "".join(cell[letter] for letter in COLUMNS[5:])
    if rails:
        line += " " + cell["R+"] + cell["R-"]
    margin = _GRID if rails else _GRID - 14
    items = [text for _, text in sorted(row.said, key=lambda one: one[0])]
    if width - margin - 1 < _LEAST_SIDE:
        yield line
        yield from (f"      {more}" for more in _packed(items, width - 6))
        return
    said = _packed(items, width - margin - 1) or [""]
    yield f"{line.ljust(margin)} {said[0]}"
    yield from (f"{' ' * margin} {more}" for more in said[1:])


def _packed(items: Sequence[str], width: int) -> list[str]:
    """Items one after the other, each whole on a line where it fits."""
    lines: list[str] = []
    for item in items:
        if lines and len(lines[-1]) + 2 + len(item) <= width:
            lines[-1] += f"  {item}"
        else:
            lines.extend(wrap(item, width, subsequent_indent="  ", break_long_words=True))
    return lines


def _cell(sign: str) -> str:
    return sign if len(sign) == 3 else sign[:3].center(3)


# ── parts and wires ───────────────────────────────────────────────────────────────────────────────────────────────


def _put_part(rows: dict[int, _Row], part: PartAt, prefix: str, found: dict[str, str]) -> None:
    for number, leg in enumerate(part.legs):
        where = _on(leg.hole, prefix)
        if where is None:
            continue
        row, key = where
        mark = _mark(part, leg.hole)
        pin = "" if leg.pin in ("1", "2") and len(part.legs) == 2 else leg.pin
        name = visible(part.name)
        sign = pin if pin and pin != "?" else name
        if len(part.legs) > 4:
            sign = str(part.numbers[number])
        rows[row].cells[key] = _signed(sign, mark, leg.open)
        shown = f"{pin}?" if leg.open and pin != "?" else pin
        said = " ".join(word for word in (leg.hole.removeprefix(prefix), name, shown) if word)
        rows[row].said.append((_ORDER.index(key), said + _said_mark(part, leg.hole, number) + found.get(leg.hole, "")))
    _put_chip(rows, part, prefix)


def _mark(part: PartAt, hole: str) -> tuple[str, str]:
    """The signs left and right of a pin for what is seen there."""
    if part.towards in _SIDE_MARKS:
        return _SIDE_MARKS[part.towards]
    return _LEG_MARKS.get(part.mark, ("", "")) if part.towards == hole else ("", "")


def _signed(sign: str, mark: tuple[str, str], open_: bool) -> str:
    shown = {"-": "−"}.get(sign, sign)
    if open_:
        return f"{shown[:2]}?".center(3)
    if not any(mark):
        return shown[:3].center(3)
    room = 3 - len(mark[0]) - len(mark[1])
    inner = shown[:room].rjust(room) if not mark[0] else shown[:room].ljust(room)
    return mark[0] + inner + mark[1]


def _said_mark(part: PartAt, hole: str, number: int) -> str:
    if part.mark == "?":
        return " (which way: ?)" if number == 0 else ""
    if part.towards in _SIDE_MARKS and number == 0:
        side = {"left": "left", "right": "right", "top": "up", "bottom": "down"}[part.towards]
        return f" ({'printed side' if part.mark == 'front' else part.mark} {side})"
    if part.towards == hole and part.mark in _SAID_AT:
        return f" ({_SAID_AT[part.mark]})"
    return ""


def _put_chip(rows: dict[int, _Row], part: PartAt, prefix: str) -> None:
    """A body over the channel: its sides, the notch or dot at pin 1, its name within."""
    spots = [where for leg in part.legs if (where := _on(leg.hole, prefix)) is not None]
    columns = {key for _, key in spots}
    if len(part.legs) < 4 or len(columns) != 2 or not (min(columns) <= "e" and "f" <= max(columns) <= "j"):
        return
    numbers = sorted({row for row, _ in spots})
    for row in range(numbers[0], numbers[-1] + 1):
        rows[row].channel = "┤   ├" if row in numbers else "│   │"
    end = spots[0][0]
    if part.mark == "notch":
        rows[end].channel = "┤ ∪ ├" if end == numbers[0] else "┤ ∩ ├"
    elif part.mark == "dot":
        rows[end].channel = "┤•  ├" if spots[0][1] <= "e" else "┤  •├"
    elif part.mark == "?":
        rows[numbers[0]].channel = "┤ ? ├"
    name = visible(part.name)
    if len(name) <= 3:
        place = numbers[len(numbers) // 2] if numbers[len(numbers) // 2] != end else numbers[0]
        if place != end:
            rows[place].channel = f"┤{name:^3}├"


def _put_jumper(rows: dict[int, _Row], jumper: JumperAt, prefix: str, found: dict[str, str]) -> None:
    """A wire at each of its holes; what goes on at the other end is said there, with its colour."""
    for here, there in (jumper.ends, jumper.ends[::-1]):
        where = _on(here, prefix)
        if where is None:
            continue
        row, key = where
        taken = key in rows[row].cells
        rows[row].cells.setdefault(key, _WIRED)
        other = _on(there, prefix)
        if other is not None and other[0] == row and _ORDER.index(other[1]) < _ORDER.index(key):
            continue
        colour = f" {jumper.colour}" if jumper.colour else ""
        mark = "" if taken else found.get(here, "")
        rows[row].said.append((_ORDER.index(key),
                               visible(f"{here.removeprefix(prefix)} → {there.removeprefix(prefix)}{colour}") + mark))


def _on(hole: str, prefix: str) -> tuple[int, str] | None:
    """Row and column (or rail) of a hole of the board with that prefix; None for another board's, or no hole."""
    if not hole.startswith(prefix):
        return None
    bare = hole.removeprefix(prefix)
    key, row = (bare[:2], bare[2:]) if bare[:1] in "LR" else (bare[:1], bare[1:])
    return (int(row), key) if row.isdigit() and key in (*COLUMNS, "L+", "L-", "R+", "R-") else None
