"""The ways one placed part can sit: marks, claim, what is left unsaid and the orders it is sold in give its seats.

Input is a part with its library entry and package; output the seats (the one that the list says first) and mishaps.
Nothing is guessed: where two ways remain, both are handed on. Each kind of place has a file of its own.
"""

from __future__ import annotations

from msgspec import structs

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating.across import seats_across
from checker.seating.boards import name_of
from checker.seating.counted import seats_of_button, seats_of_counted, seats_of_three
from checker.seating.faced import FACES, seats_of_faced
from checker.seating.marks import mishap, same_place
from checker.seating.model import Seat
from checker.seating.two_legs import is_symmetric, seats_of_two
from grammar.syntax_tree import Hole, Part, PlacedAcross, PlacedIn, Rail
from parts_library.schema import Package

__all__ = ["is_symmetric", "seats_of"]


def seats_of(part: BenchPart, package: Package | None) -> tuple[list[Seat], list[Mishap]]:
    """All seats of a placed part, and what is wrong with its placement. Without a seat there is at least one mishap."""
    statement = part.statement
    assert isinstance(statement, Part) and part.entry is not None
    if isinstance(statement.place, PlacedAcross):
        return seats_across(part, statement, statement.place, part.entry, package)
    assert isinstance(statement.place, PlacedIn)
    points = statement.place.points
    spots = tuple(p for p in points if isinstance(p, Hole | Rail))
    if len(spots) != len(points):
        return [], [mishap(part, "bad-value", "needs-holes", statement.place.span)]
    if twice := _twice(part, spots):
        return [], [twice]
    if len(spots) != len(part.pins):
        return [], [mishap(part, "bad-value", "leg-count", statement.place.span, legs=str(len(spots)),
                           pins=str(len(part.pins)), across=_corners(spots, len(part.pins)))]
    form = package.form if package else "inline"
    if len(spots) == 2:
        return seats_of_two(part, statement, spots, package)
    if form in FACES:
        return seats_of_faced(part, statement, spots, part.entry, form)
    if form == "button":
        return seats_of_button(part, spots)
    if len(spots) == 3:
        return seats_of_three(part, statement, spots)
    return seats_of_counted(part, statement, spots, form)


def _twice(part: BenchPart, spots: tuple[Hole | Rail, ...]) -> Mishap | None:
    """A hole that is named for two legs: where one of them is has not been said."""
    for number, spot in enumerate(spots):
        if isinstance(spot, Hole) and any(same_place(spot, earlier) for earlier in spots[:number]):
            found = mishap(part, "bad-value", "hole-twice", spot.span, hole=name_of(spot))
            return structs.replace(found, points=(name_of(spot),))
    return None


def _corners(spots: tuple[Hole | Rail, ...], pins: int) -> str:
    """``e10 f16`` for 14 legs: the rows, where the holes are corners of a chip over the channel; "" where they are not."""
    holes = [spot for spot in spots if isinstance(spot, Hole)]
    rows, columns = {hole.row for hole in holes}, {hole.column for hole in holes}
    if len(holes) != len(spots) or len(columns) != 2 or not min(columns) < "f" <= max(columns):
        return ""
    first, last = min(rows), max(rows)
    usual = "" if columns == {"e", "f"} else f" {min(columns)}-{max(columns)}"
    return f"{first}-{last}{usual}" if last - first + 1 == pins // 2 and len(rows) == 2 else ""
