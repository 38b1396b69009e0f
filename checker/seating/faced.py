"""The ways a part with three legs and a face can sit: where the flat, the tab or the printed front looks.

Input is a part in TO-92, TO-220 or the like with its three points; output its seats: one for each facing that remains
and each order the type is sold in.
"""

from __future__ import annotations

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating import orientation
from checker.seating.marks import Options, claimed_legs, mishap, not_on_package, pins_at
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import MarkFaces, Part
from parts_library.schema import AnyEntry

# The faces that can be named on each form; the first is the word for it. The tab looks the other way.
FACES = {"to92": ("flat", "front"), "to220": ("front", "tab")}


_OTHERWISE = {"instead": "Name a column or a row that the face looks toward, such as faces a"}


def seats_of_faced(part: BenchPart, statement: Part, spots: tuple[Spot, ...], entry: AnyEntry,
                   form: str) -> tuple[list[Seat], list[Mishap]]:
    """The seats of a part with a face: the one that is claimed first where it is among those that fit."""
    mishaps: list[Mishap] = []
    claimed = claimed_legs(part, statement.claim, spots, mishaps)
    facings, said = _facings_said(part, statement, spots, FACES[form], mishaps)
    if claimed is not None and statement.claim is not None and statement.claim.measured:
        return [Seat(claimed)], mishaps
    if not said:
        facings = _facings_open(part, spots, mishaps)
        if claimed is not None:
            facings = _that_fit(facings, spots, entry, claimed) or facings
    if not facings:
        return [], mishaps
    seats = _all_seats(spots, facings, entry, FACES[form][0], said)
    if claimed is None:
        return list(seats), mishaps
    if any(seat.legs == claimed for seat in seats):
        return sorted(seats, key=lambda seat: seat.legs != claimed), mishaps
    as_claimed = Seat(claimed, "claim-contradicts-marking", "the pins are as claimed", "measured")
    others = [Seat(s.legs, "claim-contradicts-marking", s.words, s.answer) for s in seats]
    return [*others, as_claimed] if said else [as_claimed, *others], mishaps


def _facings_said(part: BenchPart, statement: Part, spots: tuple[Spot, ...], faces: tuple[str, ...],
                  mishaps: list[Mishap]) -> tuple[tuple[tuple[int, int], ...], bool]:
    """The facings of the marked side that the list says, and whether it says any; none where one is impossible."""
    found: list[tuple[int, int]] = []
    for mark in statement.marks:
        if not isinstance(mark, MarkFaces) or mark.mark not in faces:
            mishaps.append(not_on_package(part, mark, " or ".join(f"{face} faces a column" for face in faces)))
            continue
        try:
            facing = orientation.facing_of(mark, spots)
            orientation.order_by_facing(spots, facing)
        except orientation.OrientationError as problem:
            told = {"instead": f"Write {mark.mark} faces {problem.towards}, or a column or row that it looks toward",
                    "suggestion": f"{mark.mark} faces {problem.towards}"} if problem.towards else _OTHERWISE
            mishaps.append(mishap(part, "bad-value", "facing-impossible", mark.span, reason=problem.reason, **told))
            return (), True
        found.append(orientation.opposite(facing) if mark.mark == "tab" else facing)
    return tuple(dict.fromkeys(found)), bool(found)


def _facings_open(part: BenchPart, spots: tuple[Spot, ...], mishaps: list[Mishap]) -> tuple[tuple[int, int], ...]:
    """The facings that are possible where nothing is said."""
    possible = orientation.facings_possible(spots)
    if not possible and any(orientation.without_row(spot) for spot in spots):
        mishaps.append(mishap(part, "bad-value", "facing-impossible", reason=orientation.WHERE_ON_RAIL))
    elif not possible:
        mishaps.append(mishap(part, "bad-value", "legs-in-one-hole"))
    return possible


def _orders(entry: AnyEntry) -> list[tuple[tuple[str, ...], str]]:
    """Every pin order the type is sold in, the entry's own first, each with how it is marked."""
    return [(entry.pins, ""), *((order.pins, order.marked) for order in entry.other_orders)]


def _that_fit(facings: tuple[tuple[int, int], ...], spots: tuple[Spot, ...], entry: AnyEntry,
              claimed: dict[str, Spot]) -> tuple[tuple[int, int], ...]:
    """The facings from which the pins are as claimed, in the first order that can be so."""
    for pins, _ in _orders(entry):
        fitting = tuple(facing for facing in facings if _legs_for(spots, facing, pins) == claimed)
        if fitting:
            return fitting
    return ()


def _all_seats(spots: tuple[Spot, ...], facings: tuple[tuple[int, int], ...], entry: AnyEntry, face: str,
               said: bool) -> Options:
    """One seat for each facing and order; two facings that are said contradict each other."""
    open_facing = "claim-contradicts-marking" if said else "marking-unsaid"
    seats = Options()
    for facing in facings:
        for number, (pins, marked) in enumerate(_orders(entry)):
            because = "pin-order-varies" if entry.other_orders else ""
            if len(facings) > 1 and not number:
                because = open_facing
            seats.offer(_faced_seat(spots, facing, pins, marked, because, face))
    return seats


def _legs_for(spots: tuple[Spot, ...], facing: tuple[int, int], pins: tuple[str, ...]) -> dict[str, Spot]:
    return dict(zip(pins, orientation.order_by_facing(spots, facing)))


def _faced_seat(spots: tuple[Spot, ...], facing: tuple[int, int], pins: tuple[str, ...], marked: str,
                because: str, face: str) -> Seat:
    legs = _legs_for(spots, facing, pins)
    order = pins_at(legs, spots)
    if because == "pin-order-varies":
        words, answer = f"the pins are {order}", f"as {order} measured"
    else:
        words, answer = f"the {face} {_words(facing)}", f"{face} {orientation.describe_facing(facing)}"
    return Seat(legs, because, f"{words} ({marked})" if marked else words, answer)


def _words(facing: tuple[int, int]) -> str:
    return {(-1, 0): "faces column a", (1, 0): "faces column j", (0, -1): "faces row 1",
            (0, 1): "faces the last row"}[facing]
