"""The ways a part whose legs are counted can sit: chips and rows of pins by ``in``, potentiometers, buttons.

Input is a part with its points; output its seats. ``in`` counts from pin 1; a dot, a notch or the longest leg is held
against it, and so is what the package allows: a DIP counts down one side and up the other.
"""

from __future__ import annotations

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating import orientation
from checker.seating.boards import name_of, position
from checker.seating.marks import (
    Options,
    claimed_legs,
    mishap,
    not_on_package,
    pins_at,
    same_place,
    turned_is_said_of_buttons,
)
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, Part, PlacedIn, Rail

# Parts whose middle leg is known and whose outer legs are alike, so that no mark is needed.
_MIDDLE_KNOWN = (("1", "W", "3"), ("1", "COM", "3"))


def in_board_order(spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """By row, then from column a to j."""
    return tuple(sorted(spots, key=lambda spot: position(spot)[::-1]))


# ── three in a row ────────────────────────────────────────────────────────────────────────────────────────────────


def seats_of_three(part: BenchPart, statement: Part, spots: tuple[Spot, ...]) -> tuple[list[Seat], list[Mishap]]:
    """A potentiometer or a slide switch needs no mark; the pins of a module are claimed (printed on it) or open."""
    mishaps: list[Mishap] = []
    ordered = in_board_order(spots)
    claimed = claimed_legs(part, statement.claim, spots, mishaps)
    if part.pins in _MIDDLE_KNOWN:
        return _seats_round_the_middle(part, statement, spots, claimed), mishaps
    mishaps.extend(not_on_package(part, mark) for mark in statement.marks)
    if claimed is not None:
        return [Seat(claimed)], mishaps
    ways = [dict(zip(part.pins, ordered)), dict(zip(part.pins, reversed(ordered)))]
    return [Seat(legs, "marking-unsaid", f"{part.pins[0]} is at {name_of(legs[part.pins[0]])}",
                 f"as {pins_at(legs, spots)}") for legs in ways], mishaps


def _seats_round_the_middle(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
                            claimed: dict[str, Spot] | None) -> list[Seat]:
    as_built = dict(zip(part.pins, in_board_order(spots)))
    if claimed is None:
        return [Seat(as_built)]
    middle = part.pins[1]
    if claimed[middle] == as_built[middle] or (statement.claim is not None and statement.claim.measured):
        return [Seat(claimed)]
    because = "claim-contradicts-marking"
    return [Seat(as_built, because, f"{middle} is the middle leg", f"as {pins_at(as_built, spots)}"),
            Seat(claimed, because, "the pins are as claimed", "measured")]


# ── four legs or more, counted from pin 1 ─────────────────────────────────────────────────────────────────────────


def seats_of_counted(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
                     form: str) -> tuple[list[Seat], list[Mishap]]:
    """As listed, and beside it the ways that a mark or the package itself says, where they differ."""
    place = statement.place
    mishaps = turned_is_said_of_buttons(part, place) if isinstance(place, PlacedIn) else []
    as_listed = dict(zip(part.pins, spots))
    claimed = claimed_legs(part, statement.claim, spots, mishaps)
    seats = Options([Seat(as_listed)])
    if claimed is not None and claimed != as_listed:
        if form != "dip" or (statement.claim is not None and statement.claim.measured):
            return [Seat(claimed)], mishaps
        seats.offer(Seat(claimed))
    possible = _ways(spots, form)
    said = [way for mark in statement.marks if (way := _way_of(part, mark, spots, form, mishaps)) is not None]
    if not said:
        same_start = [way for way in possible if same_place(way[0], spots[0])]
        said = [] if spots in possible else same_start or list(possible)
    for way in said:
        seats.offer(Seat(dict(zip(part.pins, way))))
    return _told_apart(part, seats, spots, form), mishaps


def _told_apart(part: BenchPart, seats: list[Seat], spots: tuple[Spot, ...], form: str) -> list[Seat]:
    """Seats that contradict each other, each with what would be seen: the dot of a chip, else all pins."""
    if len(seats) == 1:
        return seats
    firsts = [name_of(seat.legs[part.pins[0]]) for seat in seats]
    because = "claim-contradicts-marking"
    if form == "dip" and len(set(firsts)) == len(firsts):
        return [Seat(seat.legs, because, f"pin 1 is at {first}", f"dot {first}") for seat, first in zip(seats, firsts)]
    orders = [pins_at(seat.legs, spots) for seat in seats]
    return [Seat(seat.legs, because, f"the pins are {order}", f"as {order} measured")
            for seat, order in zip(seats, orders)]


def _ways(spots: tuple[Spot, ...], form: str) -> tuple[tuple[Spot, ...], ...]:
    """The holes in the order of the pins, in each way that the package can stand; a row of pins can be turned round."""
    return _dip_ways(spots) if form == "dip" else (spots, spots[::-1])


def _dip_ways(spots: tuple[Spot, ...]) -> tuple[tuple[Spot, ...], ...]:
    """The two ways a DIP can stand in these holes, the notch at the first row first; as listed where they are no
    two columns of the same rows."""
    holes = [spot for spot in spots if isinstance(spot, Hole)]
    columns = sorted({hole.column for hole in holes})
    rows = sorted({hole.row for hole in holes})
    at = {(hole.column, hole.row): hole for hole in holes}
    if len(holes) != len(spots) or len(columns) != 2 or len(at) != len(spots) or 2 * len(rows) != len(spots):
        return (spots,)
    down = tuple(at[columns[0], row] for row in rows)
    up = tuple(at[columns[1], row] for row in reversed(rows))
    return down + up, up + down


def _way_of(part: BenchPart, mark: MarkAt | MarkFaces | Notch, spots: tuple[Spot, ...],
            form: str, mishaps: list[Mishap]) -> tuple[Spot, ...] | None:
    """The way of standing that a mark says, or None with a mishap."""
    possible = _ways(spots, form)
    pin = _marked_pin(part, mark)
    if isinstance(mark, MarkAt) and pin is not None:
        for way in possible:
            if same_place(way[part.pins.index(pin)], mark.point):
                return way
        at_leg = mark.mark == "dot" and any(same_place(spot, mark.point) for spot in spots)
        mishaps.append(mishap(part, "bad-value", "dot-not-at-pin-1" if at_leg else "mark-elsewhere", mark.span,
                              mark=mark.mark, where=mark.point.text))
    elif isinstance(mark, Notch) and form == "dip" and len(possible) == 2:
        at_first = _at_first(mark, possible[0])
        if at_first is not None:
            return possible[0] if at_first else possible[1]
        mishaps.append(mishap(part, "bad-value", "notch-in-the-middle", mark.span, row=str(mark.row)))
    else:
        mishaps.append(not_on_package(part, mark))
    return None


def _marked_pin(part: BenchPart, mark: MarkAt | MarkFaces | Notch) -> str | None:
    """The pin that a mark is at: a dot at pin 1, the longest leg of an RGB LED at the common pin."""
    if isinstance(mark, MarkAt) and mark.mark == "dot":
        return part.pins[0]
    if isinstance(mark, MarkAt) and mark.mark == "long" and "COM" in part.pins:
        return "COM"
    return None


def _at_first(mark: Notch, spots: tuple[Spot, ...]) -> bool | None:
    """True where the notch is at the first row of these holes, False at the last, None between them."""
    rows = [spot.row for spot in spots if isinstance(spot, Hole)]
    return notch_at_first(mark, min(rows), max(rows))


def notch_at_first(mark: Notch, first: int, last: int) -> bool | None:
    """True where a notch is at the lower row number, False at the higher, None where it is between them."""
    if mark.towards is not None or mark.row is None:
        return mark.towards == "top"
    if first < mark.row < last:
        return None
    return mark.row <= first


# ── four legs of a button ─────────────────────────────────────────────────────────────────────────────────────────


def seats_of_button(part: BenchPart, spots: tuple[Spot, ...]) -> tuple[list[Seat], list[Mishap]]:
    """The corners in the order of the pins, however ``in`` lists them."""
    holes = [spot for spot in spots if isinstance(spot, Hole)]
    columns, rows = {hole.column for hole in holes}, {hole.row for hole in holes}
    corners = {(hole.column, hole.row) for hole in holes}
    if not (len(columns) == len(rows) == 2 and len(corners) == 4) or any(isinstance(s, Rail) for s in spots):
        return [], [mishap(part, "bad-value", "corners-of-button")]
    first, last = sorted(rows)
    left, right = sorted(columns)
    by_place = {(hole.column, hole.row): hole for hole in holes}
    place = part.statement.place if isinstance(part.statement, Part) else None
    turned = isinstance(place, PlacedIn) and place.turned
    order = orientation.button_holes(first, last, left, right, turned, None, part.span)
    return [Seat(dict(zip(part.pins, (by_place[hole.column, hole.row] for hole in order))))], []
