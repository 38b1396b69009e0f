"""Which leg of a part is in which hole, worked out anew from DESIGN.md section 2 ("Orientation") for the benchmark's oracle.

Input: a ``part`` statement and its library entry. Output: pin → point. Nothing here comes from the checker's own seating. What
the oracle does not cover raises ``NotCovered`` with the reason.
"""

from __future__ import annotations

from collections.abc import Sequence

from grammar.syntax_tree import Claim, Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross, PlacedIn, Point, Rail
from parts_library import load_library, pin_named
from parts_library.schema import AnyEntry, Switch

LIBRARY = load_library()
COLUMNS = "abcdefghij"
NEGATIVE_MARKS = ("band", "cathode", "short", "minus", "stripe", "flat")


class NotCovered(Exception):
    """The list holds something that the oracle has no geometry or no equations for."""


def pin_of(entry: AnyEntry, text: str) -> str:
    found = pin_named(entry, text)
    if not isinstance(found, str):
        raise NotCovered(f"{text} is no pin of {entry.name}")
    return found


def seated(entry: AnyEntry, part: Part) -> dict[str, Point]:
    """Pin → point of a placed part. The order of rules: ``measured``, then marks, then the claim, then plain order."""
    place, marks = part.place, part.marks
    if isinstance(place, PlacedAcross):
        return _across(entry, place, marks)
    assert isinstance(place, PlacedIn)
    points = place.points
    if part.claim is not None and (part.claim.measured or not marks):
        return _claimed(entry, part.claim, points)
    if len(entry.pins) == 2 and len(points) == 2:
        return _two_legs(entry, points, marks)
    package = LIBRARY.packages.get(entry.package)
    if package is not None and package.form in ("to92", "to220") and len(points) == 3:
        pins = _faced(entry, points, marks, part.claim)
    elif isinstance(entry, Switch) or not marks:
        pins = dict(zip(entry.pins, points))
    else:
        raise NotCovered(f"{entry.name} with a mark")
    return pins


def _claimed(entry: AnyEntry, claim: Claim, points: Sequence[Point]) -> dict[str, Point]:
    if len(claim.pins) != len(points):
        raise NotCovered("a claim of another length")
    return {pin_of(entry, word.text): point for word, point in zip(claim.pins, points)}


def _two_legs(entry: AnyEntry, points: Sequence[Point], marks: Sequence[object]) -> dict[str, Point]:
    plain = dict(zip(entry.pins, points))
    if set(entry.pins) == {"1", "2"}:
        return plain
    at = [mark for mark in marks if isinstance(mark, MarkAt)]
    if not at:
        if {"A", "K"} == set(entry.pins) or {"+", "-"} == set(entry.pins):
            raise NotCovered("a polarised part with no mark")
        return plain
    mark = at[0]
    marked = next((i for i, point in enumerate(points) if _same(point, mark.point)), None)
    if marked is None:
        raise NotCovered("a mark where no leg is")
    positive = entry.pins[0] if entry.pins[0] in ("A", "+") else entry.pins[1]
    negative = next(pin for pin in entry.pins if pin != positive)
    is_negative = mark.mark in NEGATIVE_MARKS
    if mark.mark == "stripe" and getattr(entry, "type", "") == "tantalum":
        is_negative = False
    pin = negative if is_negative else positive
    return {pin: points[marked], (positive if is_negative else negative): points[1 - marked]}


def _same(one: Point, other: Point) -> bool:
    if isinstance(one, Hole) and isinstance(other, Hole):
        return (one.board, one.column, one.row) == (other.board, other.column, other.row)
    if isinstance(one, Rail) and isinstance(other, Rail):
        return (one.board, one.side, one.sign, one.row) == (other.board, other.side, other.sign, other.row)
    return False


def _faced(entry: AnyEntry, points: Sequence[Point], marks: Sequence[object], claim: Claim | None) -> dict[str, Point]:
    """Counted from the left of somebody who looks at the flat (or printed) side, legs down."""
    faces = next((mark for mark in marks if isinstance(mark, MarkFaces)), None)
    holes = [point for point in points if isinstance(point, Hole)]
    if faces is None or len(holes) != 3:
        raise NotCovered("three legs with no facing")
    flip = faces.mark == "tab"
    x = [COLUMNS.index(hole.column) for hole in holes]
    y = [hole.row for hole in holes]
    if faces.column is not None:
        towards = COLUMNS.index(faces.column) - sum(x) / 3
        # facing left (toward a): the viewer stands at the left and looks right; row 1 is at the viewer's left hand
        along = y if (towards < 0) != flip else [-value for value in y]
    else:
        assert faces.row is not None
        up = (faces.row < sum(y) / 3) != flip
        # facing row 1: the viewer stands at the top and looks down the board; column j is at the viewer's left hand
        along = [-value for value in x] if up else x
    if len(set(along)) != 3:
        raise NotCovered("legs that fall together")
    order = sorted(range(3), key=lambda i: along[i])
    pins: tuple[str, ...] = entry.pins
    if claim is not None:
        named = [pin_of(entry, word.text) for word in claim.pins]
        pins = tuple(named[i] for i in order)
        if pins not in (entry.pins, *(other.pins for other in entry.other_orders)):
            raise NotCovered("a claim against the mark")
    elif entry.other_orders:
        raise NotCovered("sold in several orders")
    return {pin: holes[i] for pin, i in zip(pins, order)}


def _across(entry: AnyEntry, place: PlacedAcross, marks: Sequence[object]) -> dict[str, Point]:
    """DIP counted from the notch down the left side and up the right; a button's four legs in fixed places."""
    rows = range(place.first_row, place.last_row + 1)

    def hole(column: str, row: int) -> Hole:
        return Hole(column, row, f"{column}{row}", place.span, place.board)

    left, right = place.left_column, place.right_column
    if isinstance(entry, Switch) and len(entry.pins) == 4:
        top, bottom = place.first_row, place.last_row
        corners = [hole(left, top), hole(right, top), hole(left, bottom), hole(right, bottom)]
        if place.turned:
            corners = [corners[0], corners[2], corners[1], corners[3]]
        return dict(zip(entry.pins, corners))
    if len(entry.pins) != 2 * len(rows):
        raise NotCovered("rows and pins do not match")
    seats = [hole(left, row) for row in rows] + [hole(right, row) for row in reversed(rows)]
    notch = next((mark for mark in marks if isinstance(mark, (Notch, MarkAt))), None)
    if notch is None:
        raise NotCovered("a chip with no notch")
    if isinstance(notch, Notch):
        at_top = notch.row == place.first_row
    elif isinstance(notch.point, Hole):
        at_top = (notch.point.column, notch.point.row) == (left, place.first_row)
    else:
        raise NotCovered("a dot that is on no hole")
    if not at_top:
        half = len(rows)
        seats = seats[half:] + seats[:half]
    return dict(zip(entry.pins, seats))
