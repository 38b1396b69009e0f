"""The ways a part that straddles the channel can sit: a chip by its notch or dot, a button as it is turned.

Input is a part placed ``across``; output its seats: one where the notch is said, else both ends.
"""

from __future__ import annotations

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating import orientation
from checker.seating.counted import notch_at_first
from checker.seating.marks import mishap, not_on_package, same_place, turned_is_said_of_buttons
from checker.seating.model import Seat
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross
from parts_library.schema import AnyEntry, Package


def seats_across(part: BenchPart, statement: Part, place: PlacedAcross, entry: AnyEntry,
                 package: Package | None) -> tuple[list[Seat], list[Mishap]]:
    """The seats of a part across the channel."""
    form = package.form if package else "dip"
    if form == "button" and len(entry.pins) == 4:
        holes = orientation.button_holes(place.first_row, place.last_row, place.left_column, place.right_column,
                                         place.turned, place.board, place.span)
        return [Seat(dict(zip(entry.pins, holes)))], []
    rows = place.last_row - place.first_row + 1
    if form != "dip":
        order = " ".join(entry.pins) if form == "inline" else ""
        return [], [mishap(part, "bad-value", "not-for-across", place.span, order=order)]
    legs = package.numbers(len(entry.pins)) if package else tuple(range(1, len(entry.pins) + 1))
    if rows * 2 != max(legs):
        return [], [mishap(part, "bad-value", "row-count", place.span, rows=str(rows), pins=str(len(entry.pins)),
                           wanted=f"{place.first_row}-{place.first_row + max(legs) // 2 - 1}")]
    mishaps = turned_is_said_of_buttons(part, place)
    if statement.claim is not None:
        mishaps.append(mishap(part, "bad-value", "claim-without-in", statement.claim.span))
    said = [way for mark in statement.marks if (way := _notch_first(part, place, mark, mishaps)) is not None]
    ways = list(dict.fromkeys(said)) or [True, False]
    because = "" if len(ways) == 1 else "claim-contradicts-marking" if said else "marking-unsaid"
    return [_dip_seat(place, entry, legs, way, because) for way in ways], mishaps


def _dip_seat(place: PlacedAcross, entry: AnyEntry, legs: tuple[int, ...], notch_first: bool, because: str) -> Seat:
    """``legs`` are the places of the two rows that have a leg, in the order of the pins."""
    holes = orientation.dip_holes(place.first_row, place.last_row, place.left_column, place.right_column,
                                  notch_first, place.board, place.span)
    row = place.first_row if notch_first else place.last_row
    return Seat(dict(zip(entry.pins, (holes[leg - 1] for leg in legs))), because, f"the notch is at row {row}",
                f"notch row {row}")


def _notch_first(part: BenchPart, place: PlacedAcross, mark: MarkAt | MarkFaces | Notch,
                 mishaps: list[Mishap]) -> bool | None:
    """True where the mark puts the notch at the first row, False at the last, None where it says nothing."""
    if isinstance(mark, Notch):
        at_first = notch_at_first(mark, place.first_row, place.last_row)
        if at_first is None:
            mishaps.append(mishap(part, "bad-value", "notch-in-the-middle", mark.span, row=str(mark.row)))
        return at_first
    if isinstance(mark, MarkAt) and mark.mark == "dot" and isinstance(mark.point, Hole):
        for at_first in (True, False):
            pin_1 = orientation.dip_holes(place.first_row, place.last_row, place.left_column, place.right_column,
                                          at_first, place.board, place.span)[0]
            if same_place(pin_1, mark.point):
                return at_first
        mishaps.append(mishap(part, "bad-value", "dot-not-at-pin-1", mark.span, where=mark.point.text))
        return None
    mishaps.append(not_on_package(part, mark, f"notch row {place.first_row}, or dot and the hole of pin 1"))
    return None
