"""From a survey to what there is to draw.

Input: a survey; the first reading of the list is drawn. Output: ``Bench``. A rail without a row is met where the other
end of the wire or the other leg is. Where readings differ about a part, its mark is left open ("?"), and so are the pins
that change their holes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from checker.bench.model import BenchPart
from checker.drawing.seen import Bench, Beside, End, LeadPin, Seen, Stretch, kind_of
from checker.seating import orientation
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, BoardPlan, name_of
from checker.seating.model import Reading, Seat, Spot
from checker.seating.seat import package_of, plan_for
from checker.survey import Survey
from grammar.syntax_tree import Hole, MarkFaces, Node, Part, Pin, PlacedAcross, PlacedIn, Point, Rail
from parts_library import pin_named
from parts_library.schema import Package

_MARK_OPEN = frozenset({"marking-unsaid", "claim-contradicts-marking"})


def seen_on(surveyed: Survey) -> Bench:
    """What is to be drawn of a survey, in its first reading."""
    reading = surveyed.seated.readings[0]
    left_out: list[str] = []
    parts = tuple(_placed(surveyed, reading, left_out))
    stretches = tuple(_stretches(surveyed, reading, parts, left_out))
    return Bench(plans=reading.plans, parts=parts, beside=tuple(_beside(surveyed, stretches, parts)),
                 stretches=stretches, left_out=tuple(dict.fromkeys(left_out)))


# ── parts on boards ───────────────────────────────────────────────────────────────────────────────────────────────


def _placed(surveyed: Survey, reading: Reading, left_out: list[str]) -> Iterator[Seen]:
    for key, part in surveyed.bench.parts.items():
        if not part.placed:
            continue
        seat = reading.seats.get(key)
        seen = _seated(surveyed, key, part, seat, reading) if seat is not None else _unseated(part)
        missing = [name_of(spot) for _, spot in seen.legs if not _is_there(reading.plans, spot)]
        if missing or not seen.legs:
            left_out.append(f"{part.name} is not drawn: " + (f"no hole {missing[0]}" if missing else "its legs are not known"))
        else:
            yield seen


def _seated(surveyed: Survey, key: str, part: BenchPart, seat: Seat, reading: Reading) -> Seen:
    seats = [one.seats[key] for one in surveyed.seated.readings if key in one.seats]
    others = [one for one in seats if one.legs != seat.legs]
    mark_open = bool(others) and any(one.because in _MARK_OPEN for one in seats)
    open_pins = frozenset(pin for pin, spot in seat.legs.items() if any(one.legs[pin] != spot for one in others))
    legs = {pin: _with_row(spot, list(seat.legs.values()), reading) for pin, spot in seat.legs.items()}
    package = package_of(surveyed.bench, part)
    facing = None if mark_open else _facing(part, seat, package)
    return Seen(name=part.name, kind=kind_of(part), legs=tuple(legs.items()), entry=part.entry, package=package,
                facing=facing, mark_open=mark_open, open_pins=open_pins)


def _unseated(part: BenchPart) -> Seen:
    """A part that is unknown, or whose way of sitting is impossible: its holes as written."""
    assert isinstance(part.statement, Part)
    place = part.statement.place
    spots: list[Spot] = []
    if isinstance(place, PlacedIn):
        spots = [point for point in place.points if isinstance(point, Hole | Rail)]
    elif isinstance(place, PlacedAcross):
        spots = list(orientation.dip_holes(place.first_row, place.last_row, place.left_column, place.right_column, True,
                                           place.board, place.span))
    return Seen(name=part.name, kind=kind_of(part), legs=tuple(("?", _row_said(spot)) for spot in spots), mark_open=True)


def _row_said(spot: Spot) -> Spot:
    return Rail(spot.side, spot.sign, 1, spot.text, spot.span, spot.board) if isinstance(spot, Rail) and not spot.row else spot


def _facing(part: BenchPart, seat: Seat, package: Package | None) -> tuple[int, int] | None:
    """Where the marked side of a part with a face looks: as the list says, else as it must for these pins."""
    if package is None or package.form not in ("to92", "to220") or part.entry is None:
        return None
    spots = list(seat.legs.values())
    assert isinstance(part.statement, Part)
    for mark in part.statement.marks:
        if isinstance(mark, MarkFaces):
            facing = orientation.facing_of(mark, spots)
            return orientation.opposite(facing) if mark.mark == "tab" else facing
    for pins in (part.entry.pins, *(order.pins for order in part.entry.other_orders)):
        for facing in orientation.facings_possible(spots):
            if dict(zip(pins, orientation.order_by_facing(spots, facing))) == seat.legs:
                return facing
    return None


# ── rails without a row ───────────────────────────────────────────────────────────────────────────────────────────


def _with_row(spot: Spot, company: Sequence[object], reading: Reading) -> Spot:
    """A rail without a row is met beside its company, as far as its first piece goes; else at row 1."""
    if not isinstance(spot, Rail) or spot.row is not None:
        return spot
    plan = plan_for(reading.plans, spot)
    rows = [other.row for other in company if isinstance(other, Hole | Rail) and other.row is not None]
    last = 1 if plan is None else LAST_ROW_OF_FIRST_PIECE[plan.size] if plan.split else plan.rows
    row = rows[0] if rows and rows[0] <= last else 1
    return Rail(spot.side, spot.sign, row, spot.text, spot.span, spot.board)


def _is_there(plans: dict[str, BoardPlan], spot: Spot) -> bool:
    plan = plan_for(plans, spot)
    if plan is None:
        return False
    return plan.has_rail(spot) if isinstance(spot, Rail) else plan.has_hole(spot)


# ── wires ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _stretches(surveyed: Survey, reading: Reading, parts: Sequence[Seen], left_out: list[str]) -> Iterator[Stretch]:
    placed = {seen.name.lower(): seen for seen in parts}
    for part in surveyed.bench.parts.values():
        if not isinstance(part.statement, Part):
            for pin, point in zip(part.pins or ("+", "-"), part.statement.terminals):
                end = _end(surveyed, reading, placed, point, left_out)
                if end is not None:
                    first = LeadPin(part.name, pin)
                    yield Stretch(part.span.line, (first, _with_row_of(end, (), reading)))
    for wire in surveyed.bench.wires:
        ends = [_end(surveyed, reading, placed, point, left_out) for point in wire.points]
        company = tuple(end for end in ends if end is not None)
        said = [None if end is None else _with_row_of(end, company, reading) for end in ends]
        for one, other in pairwise(end for end in said if end is not None):
            yield Stretch(wire.span.line, (one, other), (wire.colour or "").lower())


def _with_row_of(end: End, company: Sequence[object], reading: Reading) -> End:
    return end if isinstance(end, LeadPin) else _with_row(end, company, reading)


def _end(surveyed: Survey, reading: Reading, placed: dict[str, Seen], point: Point, left_out: list[str]) -> End | None:
    """The end of a wire, or None, with the reason among what is left out."""
    if isinstance(point, Hole | Rail):
        if _is_there(reading.plans, point):
            return point
        left_out.append(f"a wire is not drawn: no hole {name_of(point)}")
        return None
    if isinstance(point, Node):
        return LeadPin(f"@{point.name}", "")
    part = surveyed.bench.part(point.part) if isinstance(point, Pin) else None
    if part is None or not isinstance(point, Pin):
        left_out.append(f"a wire is not drawn: {point.text} is not known")
        return None
    pin = pin_named(part.entry, point.pin) if part.entry is not None else point.pin
    if pin is None:
        left_out.append(f"a wire is not drawn: {point.text} is not known")
        return None
    seen = placed.get(part.name.lower())
    if seen is not None:
        return next((spot for name, spot in seen.legs if name == pin), None)
    return LeadPin(part.name, pin)


def _beside(surveyed: Survey, stretches: Sequence[Stretch], parts: Sequence[Seen]) -> Iterator[Beside]:
    """Parts that are not placed, and named nodes, each with the pins at which a wire is."""
    wired: dict[str, dict[str, None]] = {}
    for stretch in stretches:
        for end in stretch.ends:
            if isinstance(end, LeadPin):
                wired.setdefault(end.name, {})[end.pin] = None
    placed = {seen.name for seen in parts}
    for part in surveyed.bench.parts.values():
        if part.name not in placed and (part.name in wired or not part.placed):
            yield Beside(part.name, kind_of(part), tuple(wired.get(part.name, {})))
    for name in wired:
        if name.startswith("@"):
            yield Beside(name, "joined here", ("",), part=False)
