"""The marks of a part: where the band, the long leg, the flat, the notch is.

Input: lark's tree of one mark and the place of the part. Output: MarkAt, MarkFaces or Notch nodes. A mark that is told
by row, column or side (``band row 18``, ``long leg left``) is given the leg that is meant, as long as exactly one is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from grammar.points import Line, Unreadable, columns, read_point
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, PlacedAcross, PlacedIn, Point, Rail, Span
from grammar.trees import extent, tokens_of

if TYPE_CHECKING:
    from lark import Token, Tree

_MARKS = {
    "longer": "long", "longest": "long", "shorter": "short", "shortest": "short", "positive": "plus",
    "+": "plus", "negative": "minus", "-": "minus", "marked": "front", "label": "front", "printing": "front",
}  # fmt: skip
_FACING = frozenset({"flat", "tab", "front"})
_NEGATIVE_END = frozenset({"cathode", "minus"})
_POSITIVE_END = frozenset({"anode", "plus"})
_SIDES = {"left": "left", "right": "right", "top": "top", "up": "top", "bottom": "bottom", "down": "bottom"}
_RAILS = ("RAIL", "NAMED_RAIL", "UNCLEAR_RAIL")

_Mark = MarkAt | MarkFaces | Notch
_Place = PlacedIn | PlacedAcross | None


class _Aim(NamedTuple):
    """Where a mark points: the token, the span of the whole clause, and whether it only points that way (``faces``)."""

    target: Token
    span: Span
    toward: bool
    line: Line


def build_mark(tree: Tree[Token], place: _Place, line: Line) -> list[_Mark]:
    """The marks of one clause: one, or two where it says two things that need not agree (``anode short leg``)."""
    *mark_tokens, target = tokens_of(tree)
    start, end = extent(tree)
    _check_column(target)
    toward = any(word in line.text[start : columns(target)[0]].lower() for word in ("fac", "toward", "point"))
    aim = _Aim(target, line.span(start, end), toward, line)
    return [_mark(mark, aim, place) for mark in _names(mark_tokens)]


def build_facing(tree: Tree[Token], line: Line) -> MarkFaces:
    """``faces left`` with no mark named: the front of the part faces that way."""
    target = tokens_of(tree)[-1]
    _check_column(target)
    aim = _Aim(target, line.span(*extent(tree)), True, line)
    return _faces_point("front", read_point(target, line), aim) if target.type in _RAILS else _faces("front", aim)


def _check_column(target: Token) -> None:
    if target.type == "COLUMN" and target[-1].lower() > "j":
        raise Unreadable("column-unknown", *columns(target))


def _names(tokens: list[Token]) -> list[str]:
    """``cathode (band)`` is one mark, the one that is seen; ``plus stripe`` is the plus of a tantalum capacitor."""
    words = ["dot" if token.lower().startswith("pin") else token.lower().split()[-1] for token in tokens]
    names = list(dict.fromkeys(_MARKS.get(word, word) for word in words))
    ends = [name for name in names if name in _NEGATIVE_END | _POSITIVE_END]
    seen = [name for name in names if name not in ends]
    if len(ends) != 1 or len(seen) != 1:
        return names
    if ends[0] in _NEGATIVE_END:
        return seen if seen[0] in ("band", "stripe", "short", "flat") else names
    return seen if seen[0] == "long" else ends if ends[0] == "plus" and seen[0] in ("stripe", "band") else names


def _mark(mark: str, aim: _Aim, place: _Place) -> _Mark:
    target = aim.target
    if mark == "notch":
        return _notch(aim, place)
    if target.type == "HOLE" or target.type in _RAILS:
        point = read_point(target, aim.line)
        if mark in _FACING and (aim.toward or mark != "flat"):
            return _faces_point(mark, point, aim)
        return MarkAt(mark, point, aim.span)
    if mark in _FACING and not (mark == "flat" and _is_led_like(place)):
        return _faces(mark, aim)
    leg = _leg(mark, aim, place)
    if leg is not None:
        return MarkAt(mark, leg, aim.span)
    if mark == "flat":
        return _faces(mark, aim)
    raise Unreadable("mark-meets-no-leg", *columns(target))


def _faces(mark: str, aim: _Aim) -> MarkFaces:
    return MarkFaces(mark, aim.span, *_direction(aim.target))


def _is_led_like(place: _Place) -> bool:
    return isinstance(place, PlacedIn) and len(place.points) == 2


def _faces_point(mark: str, point: Point, aim: _Aim) -> MarkFaces:
    """``flat faces the left rail`` is a side; a single hole is no direction."""
    if isinstance(point, Rail) and not point.side:
        raise Unreadable("rail-unclear", *columns(aim.target))
    if isinstance(point, Rail):
        return MarkFaces(mark, aim.span, towards="left" if point.side == "L" else "right")
    raise Unreadable("faces-needs-a-direction", *columns(aim.target), before=mark)


def _direction(target: Token) -> tuple[str | None, int | None, str | None]:
    """Column, row, or side of the board that a target names."""
    word = target.lower()
    if target.type == "SIDE":
        return None, None, _SIDES[word.split()[0].split("-")[0]]
    if target.type == "COLUMN":
        return word[-1], None, None
    return None, _row(target), None


def _row(target: Token) -> int:
    row = int("".join(letter for letter in target if letter.isdecimal()))
    if row == 0:
        raise Unreadable("row-unknown", *columns(target))
    return row


def _notch(aim: _Aim, place: _Place) -> Notch:
    target = aim.target
    if target.type == "HOLE":
        point = read_point(target, aim.line)
        return Notch(aim.span, point.row if isinstance(point, Hole) else None)
    column, row, side = _direction(target) if target.type in ("ROW", "COLUMN", "SIDE") else ("", None, None)
    if column is not None or side in ("left", "right"):
        raise Unreadable("notch-needs-a-row", *columns(target))
    if aim.toward and row is not None and isinstance(place, PlacedAcross):
        # "notch faces row 1" on a chip in rows 10-13 is a direction, not the row the notch is in.
        row = min(max(row, place.first_row), place.last_row)
    return Notch(aim.span, row, side)


def _leg(mark: str, aim: _Aim, place: _Place) -> Point | None:
    """The one leg that a row, a column or a side means; None where no single one is meant."""
    target = aim.target
    column, row, side = _direction(target)
    if isinstance(place, PlacedAcross):
        return _corner_of_dot(mark, row, side, place)
    if place is None:
        return None
    holes = [point for point in place.points if isinstance(point, Hole)]
    meant = [hole for hole in holes if row == hole.row or column == hole.column]
    rails = [point for point in place.points if isinstance(point, Rail) and row is not None and point.row == row]
    found: list[Point] = [*meant, *rails]
    if len(found) == 1:
        return found[0]
    if found or not (aim.toward or target.type == "SIDE"):
        return None
    return _outermost(holes, column, row, side)


def _corner_of_dot(mark: str, row: int | None, side: str | None, place: PlacedAcross) -> Hole | None:
    """``across 10-13 dot row 10``: pin 1 is at the top left with the notch at the top, at the bottom right else."""
    if mark != "dot":
        return None
    if row == place.first_row or side == "top":
        column, corner_row = place.left_column, place.first_row
    elif row == place.last_row or side == "bottom":
        column, corner_row = place.right_column, place.last_row
    else:
        return None
    return Hole(column, corner_row, f"{column}{corner_row}", place.span, place.board)


def _outermost(holes: list[Hole], column: str | None, row: int | None, side: str | None) -> Hole | None:
    """The leg farthest toward a side; None where two are as far, or the row or column lies between the legs."""
    if column is not None or side in ("left", "right"):
        edge = ord(column or ("a" if side == "left" else "j"))
        places = [ord(hole.column) - edge for hole in holes]
    elif row is not None:
        places = [hole.row - row for hole in holes]
    else:
        places = [hole.row if side == "top" else -hole.row for hole in holes]
        places = [place + 1000 for place in places]
    if not places or min(places) < 0 < max(places):
        return None
    nearest_place = min(places, key=abs)
    meant = [hole for hole, place in zip(holes, places, strict=True) if place == nearest_place]
    return meant[0] if len(meant) == 1 else None
