"""The ways a part with two legs can sit: the band, the stripe, the longer leg say which leg is which.

Input is a part with its two points; output its seats. A part whose pins are only numbered has one seat.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating.boards import name_of
from checker.seating.marks import Options, claimed_legs, mishap, not_on_package, same_place
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import MarkAt, Part
from parts_library.schema import AnyEntry, Package

# Which pin of a two-legged part a mark points at; "first" is pin 1 (A, +), "second" pin 2 (K, -).
_MARK_PIN = {"band": "second", "stripe": "second", "long": "first", "short": "second", "plus": "first",
             "minus": "second", "anode": "first", "cathode": "second", "flat": "second"}
# A tantalum capacitor has its bar at the positive leg.
_TANTALUM = {"band": "first", "stripe": "first"}
# A phototransistor in an LED's case has its emitter, pin 2, on the longer leg and the collector at the flat.
# Source: drawing of a 5 mm type (LL-503PTC2E-1AD, rev. 2, 1 emitter, 2 collector); which is longer is from memory.
_PHOTOTRANSISTOR = {"long": "second", "short": "first", "flat": "first"}
# The poles can be named on any part; a band and a stripe are two words for one thing.
_POLES = frozenset({"plus", "minus", "anode", "cathode"})
_BAND_OR_STRIPE = frozenset({"band", "stripe"})
MARK_NAMES = {"long": "longer leg", "short": "shorter leg", "plus": "+ mark", "minus": "- mark"}


def is_symmetric(entry: AnyEntry) -> bool:
    """True where exchanging the two legs changes nothing: pins that are only numbered."""
    return entry.pins == ("1", "2")


def seats_of_two(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
                 package: Package | None) -> tuple[list[Seat], list[Mishap]]:
    """The seats of a two-legged part, by its marks first, then by its claim."""
    assert part.entry is not None
    ways = {"first": dict(zip(part.pins, spots)), "second": dict(zip(part.pins, reversed(spots)))}
    if is_symmetric(part.entry):
        return [Seat(ways["first"])], []
    mishaps: list[Mishap] = []
    marked = _marked(part, statement, spots, package, mishaps)
    claimed = claimed_legs(part, statement.claim, spots, mishaps)
    if claimed is not None and statement.claim is not None and statement.claim.measured:
        return [Seat(claimed)], mishaps
    seats = Options()
    for way in dict.fromkeys(marked):
        because = "claim-contradicts-marking" if len(set(marked)) > 1 else ""
        seats.offer(_polar_seat(part, package, ways[way], because))
    if claimed is not None and all(seat.legs != claimed for seat in seats):
        contradicted = bool(seats)
        if contradicted:
            seats = Options(_polar_seat(part, package, seat.legs, "claim-contradicts-marking") for seat in seats)
        seats.offer(_polar_seat(part, package, claimed, "claim-contradicts-marking" if contradicted else ""))
    if not seats:
        for legs in ways.values():
            seats.offer(_polar_seat(part, package, legs, "marking-unsaid"))
    return list(seats), mishaps


def _marked(part: BenchPart, statement: Part, spots: tuple[Spot, ...], package: Package | None,
            mishaps: list[Mishap]) -> list[str]:
    """For each mark that can be used: which way round it puts the part."""
    marked: list[str] = []
    for mark in statement.marks:
        if not isinstance(mark, MarkAt):
            mishaps.append(mishap(part, "bad-value", "mark-without-leg", mark.span))
        elif not _is_on(mark.mark, part, package):
            mishaps.append(not_on_package(part, mark, ", ".join(package.marks) if package else ""))
        elif (spot := _first_pin_spot(part, mark, spots)) is None:
            mishaps.append(mishap(part, "bad-value", "mark-elsewhere", mark.span, mark=mark.mark,
                                  where=mark.point.text))
        else:
            marked.append("first" if spot is spots[0] else "second")
    return marked


def _is_on(mark: str, part: BenchPart, package: Package | None) -> bool:
    """True where a part in this package has the mark, so that it says which leg is which."""
    if mark not in _MARK_PIN:
        return False
    seen = frozenset(package.marks) if package is not None else frozenset()
    if not seen or mark in seen or mark in _POLES:
        return True
    return mark in _BAND_OR_STRIPE and (_is_tantalum(part) or bool(seen & _BAND_OR_STRIPE))


def _first_pin_spot(part: BenchPart, mark: MarkAt, spots: Sequence[Spot]) -> Spot | None:
    """The leg that is pin 1 (A, +) according to a mark, or None where the mark is at no leg."""
    matching = [spot for spot in spots if same_place(spot, mark.point)]
    if len(matching) != 1:
        return None
    other = spots[1] if matching[0] is spots[0] else spots[0]
    return matching[0] if _pin_of(mark.mark, part) == "first" else other


def _pin_of(mark: str, part: BenchPart) -> str:
    special = _TANTALUM if _is_tantalum(part) else _PHOTOTRANSISTOR if _is_phototransistor(part) else {}
    return special.get(mark, _MARK_PIN[mark])


def _is_tantalum(part: BenchPart) -> bool:
    return getattr(part.entry, "type", "") == "tantalum"


def _is_phototransistor(part: BenchPart) -> bool:
    return bool(getattr(part.entry, "photo", False))


def _polar_seat(part: BenchPart, package: Package | None, legs: dict[str, Spot], because: str) -> Seat:
    mark = package.marks[0] if package is not None and package.marks else "plus"
    spot = legs[part.pins[0] if _pin_of(mark, part) == "first" else part.pins[1]]
    return Seat(legs, because, f"the {MARK_NAMES.get(mark, mark)} is at {name_of(spot)}", f"{mark} {name_of(spot)}")
