"""The ways one placed part can sit: marks, claim, what is left unsaid and the orders it is sold in give its seats.

Input is a part with its library entry and package; output the seats (the one that the list says first) and mishaps.
Nothing is guessed: where two ways remain, both are handed on.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating import orientation
from checker.seating.boards import name_of, position
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import Claim, Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross, PlacedIn, Point, Rail
from parts_library import pin_named
from parts_library.schema import AnyEntry, Package

FACED_FORMS = ("to92", "to220")
# Which pin of a two-legged part a mark points at; "first" is pin 1 (A, +), "second" pin 2 (K, -).
_MARK_PIN = {"band": "second", "stripe": "second", "long": "first", "short": "second", "plus": "first",
             "minus": "second", "anode": "first", "cathode": "second", "flat": "second", "dot": "first"}


class Options(list[Seat]):
    """Seats in the order found, without repeats."""

    def offer(self, seat: Seat) -> None:
        if all(seat.legs != other.legs for other in self):
            self.append(seat)


def seats_of(part: BenchPart, package: Package | None) -> tuple[list[Seat], list[Mishap]]:
    """All seats of a placed part, and what is wrong with its placement. Without a seat there is at least one mishap."""
    statement = part.statement
    assert isinstance(statement, Part) and part.entry is not None
    if isinstance(statement.place, PlacedAcross):
        return _across(part, statement, statement.place, part.entry, package)
    assert isinstance(statement.place, PlacedIn)
    points = statement.place.points
    spots = tuple(p for p in points if isinstance(p, Hole | Rail))
    if len(spots) != len(points):
        return [], [_mishap(part, "bad-value", "needs-holes", statement.place.span)]
    if len(spots) != len(part.pins):
        return [], [_mishap(part, "bad-value", "leg-count", statement.place.span, legs=str(len(spots)),
                            pins=str(len(part.pins)))]
    form = package.form if package else "inline"
    if len(spots) == 2:
        return _two_legs(part, statement, spots)
    if form in FACED_FORMS:
        return _faced(part, statement, spots, part.entry)
    if form == "button":
        return [Seat(dict(zip(part.pins, _button_corners(spots))))], []
    if len(spots) == 3:
        return _three_in_line(part, statement, spots)
    return _counted(part, statement, spots, dotted=form == "dip")


def _mishap(part: BenchPart, rule: str, case: str, span: object = None, severity: str = "fault", **facts: str) -> Mishap:
    where = span if span is not None else part.span
    return Mishap(rule=rule, severity=severity, span=where, parts=(part.name,),  # type: ignore[arg-type]
                  facts={"case": case, **facts})


# ── two legs ──────────────────────────────────────────────────────────────────────────────────────────────────────


def is_symmetric(entry: AnyEntry) -> bool:
    """True where exchanging the two legs changes nothing: pins that are only numbered."""
    return entry.pins == ("1", "2")


def _first_pin_spot(part: BenchPart, mark: MarkAt, spots: Sequence[Spot]) -> Spot | None:
    """The leg that is pin 1 (A, +) according to a mark, or None where the mark is at no leg."""
    matching = [spot for spot in spots if _same_place(spot, mark.point)]
    if len(matching) != 1:
        return None
    other = spots[1] if matching[0] is spots[0] else spots[0]
    first = _MARK_PIN.get(mark.mark) == "first"
    if getattr(part.entry, "type", "") == "tantalum" and mark.mark in ("band", "stripe"):
        first = True
    return matching[0] if first else other


def _same_place(one: Point, other: Point) -> bool:
    if isinstance(one, Hole) and isinstance(other, Hole):
        return (one.column, one.row, one.board) == (other.column, other.row, other.board)
    if isinstance(one, Rail) and isinstance(other, Rail):
        return (one.side, one.sign, one.row, one.board) == (other.side, other.sign, other.row, other.board)
    return False


def _two_legs(part: BenchPart, statement: Part, spots: tuple[Spot, ...]) -> tuple[list[Seat], list[Mishap]]:
    assert part.entry is not None
    ways = {"first": dict(zip(part.pins, spots)), "second": dict(zip(part.pins, reversed(spots)))}
    if is_symmetric(part.entry):
        return [Seat(ways["first"])], []
    mishaps: list[Mishap] = []
    marked: list[str] = []
    for mark in statement.marks:
        if not isinstance(mark, MarkAt):
            mishaps.append(_mishap(part, "bad-value", "mark-without-leg", mark.span))
            continue
        spot = _first_pin_spot(part, mark, spots)
        if spot is None:
            mishaps.append(_mishap(part, "bad-value", "mark-elsewhere", mark.span, mark=mark.mark,
                                   where=mark.point.text))
        else:
            marked.append("first" if spot is spots[0] else "second")
    claimed = _claimed_legs(part, statement.claim, spots, mishaps)
    seats = Options()
    if claimed is not None and statement.claim is not None and statement.claim.measured:
        return [Seat(claimed)], mishaps
    for way in dict.fromkeys(marked):
        because = "claim-contradicts-marking" if len(set(marked)) > 1 else ""
        seats.offer(_polar_seat(part, ways[way], because))
    if claimed is not None and all(seat.legs != claimed for seat in seats):
        contradicted = bool(seats)
        if contradicted:
            seats = Options(_polar_seat(part, seat.legs, "claim-contradicts-marking") for seat in seats)
        seats.offer(_polar_seat(part, claimed, "claim-contradicts-marking" if contradicted else ""))
    if not seats:
        for legs in ways.values():
            seats.offer(_polar_seat(part, legs, "marking-unsaid"))
    return list(seats), mishaps


def _polar_seat(part: BenchPart, legs: dict[str, Spot], because: str) -> Seat:
    mark, pin = _visible_mark(part)
    spot = legs[part.pins[0] if pin == "first" else part.pins[1]]
    return Seat(legs, because, f"the {MARK_NAMES[mark]} is at {name_of(spot)}", f"{mark} {name_of(spot)}")


MARK_NAMES = {"band": "band", "stripe": "stripe", "long": "longer leg", "plus": "+ mark"}


def _visible_mark(part: BenchPart) -> tuple[str, str]:
    """The mark that a part like this shows, and the pin it is at."""
    kind = part.entry.__struct_config__.tag if part.entry is not None else ""
    if kind == "led":
        return "long", "first"
    if kind == "capacitor":
        return ("plus", "first") if getattr(part.entry, "type", "") == "tantalum" else ("stripe", "second")
    if kind in ("diode", "zener"):
        return "band", "second"
    return "plus", "first"


# ── three legs and a face ─────────────────────────────────────────────────────────────────────────────────────────


def _orders(entry: AnyEntry) -> list[tuple[tuple[str, ...], str]]:
    """Every pin order the type is sold in, the entry's own first, each with how it is marked."""
    return [(entry.pins, ""), *((order.pins, order.marked) for order in entry.other_orders)]


def _faced(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
           entry: AnyEntry) -> tuple[list[Seat], list[Mishap]]:
    mishaps: list[Mishap] = []
    facings, said = _facings(part, statement, spots, mishaps)
    if not facings:
        return [], mishaps
    claimed = _claimed_legs(part, statement.claim, spots, mishaps)
    measured = statement.claim is not None and statement.claim.measured
    if claimed is not None and measured:
        return [Seat(claimed)], mishaps
    if claimed is not None and not said:
        fitting = [f for f in facings if _legs_for(spots, f, entry.pins) == claimed]
        if not fitting:
            fitting = [f for f in facings for pins, _ in _orders(entry)[1:] if _legs_for(spots, f, pins) == claimed]
        facings = tuple(fitting) or facings
        if not fitting:
            return [Seat(claimed, "claim-contradicts-marking", "the pins are as claimed", "measured")] + [
                _faced_seat(spots, f, entry.pins, "", "claim-contradicts-marking") for f in facings], mishaps
    seats = Options()
    for facing in facings:
        for number, (pins, marked) in enumerate(_orders(entry)):
            because = "marking-unsaid" if len(facings) > 1 else "pin-order-varies" if entry.other_orders else ""
            if len(facings) > 1 and number:
                because = "pin-order-varies"
            seats.offer(_faced_seat(spots, facing, pins, marked, because))
    if claimed is not None and all(seat.legs != claimed for seat in seats):
        seats = Options(Seat(s.legs, "claim-contradicts-marking", s.words, s.answer) for s in seats)
        seats.offer(Seat(claimed, "claim-contradicts-marking", "the pins are as claimed", "measured"))
    return list(seats), mishaps


def _facings(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
             mishaps: list[Mishap]) -> tuple[tuple[tuple[int, int], ...], bool]:
    """The facings of the marked side that remain, and whether the list said one. A tab looks the other way."""
    found: list[tuple[int, int]] = []
    for mark in statement.marks:
        if not isinstance(mark, MarkFaces):
            mishaps.append(_mishap(part, "bad-value", "mark-not-on-package", mark.span))
            continue
        try:
            facing = orientation.facing_of(mark, spots)
            orientation.order_by_facing(spots, facing)
        except orientation.OrientationError as problem:
            mishaps.append(_mishap(part, "bad-value", "facing-impossible", mark.span, reason=problem.reason))
            return (), True
        found.append(orientation.opposite(facing) if mark.mark == "tab" else facing)
    if found:
        return tuple(dict.fromkeys(found)), True
    possible = orientation.facings_possible(spots)
    if not possible:
        mishaps.append(_mishap(part, "bad-value", "legs-in-one-hole"))
    return possible, False


def _legs_for(spots: tuple[Spot, ...], facing: tuple[int, int], pins: tuple[str, ...]) -> dict[str, Spot]:
    return dict(zip(pins, orientation.order_by_facing(spots, facing)))


def _faced_seat(spots: tuple[Spot, ...], facing: tuple[int, int], pins: tuple[str, ...], marked: str,
                because: str) -> Seat:
    legs = _legs_for(spots, facing, pins)
    by_spot = {name_of(spot): pin for pin, spot in legs.items()}
    order = " ".join(by_spot[name_of(spot)] for spot in spots)
    words = f"the pins are {order}" if because == "pin-order-varies" else f"the flat {_words(facing)}"
    if marked:
        words += f" ({marked})"
    answer = f"as {order} measured" if because == "pin-order-varies" else f"flat {orientation.describe_facing(facing)}"
    return Seat(legs, because, words, answer)


def _words(facing: tuple[int, int]) -> str:
    return {(-1, 0): "faces column a", (1, 0): "faces column j", (0, -1): "faces row 1",
            (0, 1): "faces the last row"}[facing]


# ── three in a row without a face, and parts that count from pin 1 ────────────────────────────────────────────────


def _three_in_line(part: BenchPart, statement: Part, spots: tuple[Spot, ...]) -> tuple[list[Seat], list[Mishap]]:
    mishaps: list[Mishap] = []
    ordered = tuple(sorted(spots, key=lambda spot: position(spot)[::-1]))
    if part.entry is not None and part.entry.pins in (("1", "W", "3"), ("1", "COM", "3")):
        return [Seat(dict(zip(part.pins, ordered)))], mishaps
    claimed = _claimed_legs(part, statement.claim, spots, mishaps)
    if claimed is not None:
        return [Seat(claimed)], mishaps
    ways = [dict(zip(part.pins, ordered)), dict(zip(part.pins, reversed(ordered)))]
    return [Seat(legs, "marking-unsaid", f"{part.pins[0]} is at {name_of(legs[part.pins[0]])}",
                 "as " + " ".join(_pins_at(legs, spots))) for legs in ways], mishaps


def _pins_at(legs: dict[str, Spot], spots: Iterable[Spot]) -> list[str]:
    by_text = {name_of(spot): pin for pin, spot in legs.items()}
    return [by_text[name_of(spot)] for spot in spots]


def _counted(part: BenchPart, statement: Part, spots: tuple[Spot, ...],
             dotted: bool) -> tuple[list[Seat], list[Mishap]]:
    mishaps: list[Mishap] = []
    as_listed = dict(zip(part.pins, spots))
    claimed = _claimed_legs(part, statement.claim, spots, mishaps)
    if claimed is not None and claimed != as_listed:
        return [Seat(claimed)], mishaps
    first = _marked_first(statement, spots)
    if first is not None and first != 0:
        turned = spots[first:] + spots[:first]
        because = "claim-contradicts-marking"
        return [Seat(as_listed, because, f"pin 1 is at {name_of(spots[0])}", f"dot {name_of(spots[0])}"),
                Seat(dict(zip(part.pins, turned)), because, f"pin 1 is at {name_of(spots[first])}",
                     f"dot {name_of(spots[first])}")], mishaps
    return [Seat(as_listed)], mishaps


def _marked_first(statement: Part, spots: tuple[Spot, ...]) -> int | None:
    """Index of the leg that a dot or notch makes pin 1, or None where neither is said."""
    for mark in statement.marks:
        if isinstance(mark, MarkAt) and mark.mark == "dot":
            for index, spot in enumerate(spots):
                if _same_place(spot, mark.point):
                    return index
        if isinstance(mark, Notch):
            holes = [spot for spot in spots if isinstance(spot, Hole)]
            if len(holes) == len(spots):
                rows = [hole.row for hole in holes]
                at_first = mark.towards == "top" or (mark.row is not None and
                                                      abs(mark.row - min(rows)) <= abs(mark.row - max(rows)))
                row = min(rows) if at_first else max(rows)
                end = [i for i, hole in enumerate(holes) if hole.row == row]
                pick = min if at_first else max
                return pick(end, key=lambda i: holes[i].column)
    return None


def _button_corners(spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
    return tuple(sorted(spots, key=lambda spot: position(spot)[::-1]))


# ── across the channel ────────────────────────────────────────────────────────────────────────────────────────────


def _across(part: BenchPart, statement: Part, place: PlacedAcross, entry: AnyEntry,
            package: Package | None) -> tuple[list[Seat], list[Mishap]]:
    form = package.form if package else "dip"
    if form == "button" and len(entry.pins) == 4:
        holes = orientation.button_holes(place.first_row, place.last_row, place.left_column, place.right_column,
                                         place.turned, place.board, place.span)
        return [Seat(dict(zip(entry.pins, holes)))], []
    rows = place.last_row - place.first_row + 1
    if form not in ("dip",):
        return [], [_mishap(part, "bad-value", "not-for-across", place.span)]
    if rows * 2 != len(entry.pins):
        return [], [_mishap(part, "bad-value", "row-count", place.span, rows=str(rows), pins=str(len(entry.pins)),
                            wanted=f"{place.first_row}-{place.first_row + len(entry.pins) // 2 - 1}")]
    mishaps: list[Mishap] = []

    def seat(notch_first: bool, because: str) -> Seat:
        holes = orientation.dip_holes(place.first_row, place.last_row, place.left_column, place.right_column,
                                      notch_first, place.board, place.span)
        row = place.first_row if notch_first else place.last_row
        return Seat(dict(zip(entry.pins, holes)), because, f"the notch is at row {row}", f"notch row {row}")

    said = [way for mark in statement.marks if (way := _notch_first(part, place, mark, mishaps)) is not None]
    ways = list(dict.fromkeys(said)) or [True, False]
    because = "" if len(ways) == 1 else "claim-contradicts-marking" if said else "marking-unsaid"
    return [seat(way, because) for way in ways], mishaps


def _notch_first(part: BenchPart, place: PlacedAcross, mark: MarkAt | MarkFaces | Notch,
                 mishaps: list[Mishap]) -> bool | None:
    """True where the mark puts the notch at the first row, False at the last, None where it says nothing."""
    if isinstance(mark, Notch):
        if mark.towards is not None:
            return mark.towards == "top"
        if mark.row is not None:
            if mark.row <= place.first_row or mark.row >= place.last_row:
                return mark.row <= place.first_row
            mishaps.append(_mishap(part, "bad-value", "notch-in-the-middle", mark.span, row=str(mark.row)))
            return None
    if isinstance(mark, MarkAt) and mark.mark == "dot" and isinstance(mark.point, Hole):
        corner = (mark.point.column, mark.point.row)
        if corner == (place.left_column, place.first_row):
            return True
        if corner == (place.right_column, place.last_row):
            return False
        mishaps.append(_mishap(part, "bad-value", "dot-not-at-pin-1", mark.span, where=mark.point.text))
        return None
    mishaps.append(_mishap(part, "bad-value", "mark-not-on-package", mark.span))
    return None


# ── claims ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _claimed_legs(part: BenchPart, claim: Claim | None, spots: tuple[Spot, ...],
                  mishaps: list[Mishap]) -> dict[str, Spot] | None:
    """Pin to hole as claimed, or None without a usable claim."""
    if claim is None or part.entry is None:
        return None
    pins: list[str] = []
    for word in claim.pins:
        pin = pin_named(part.entry, word.text)
        if pin is None:
            mishaps.append(_mishap(part, "unknown-point", "claim-pin", word.span, pin=word.text,
                                   pins=" ".join(part.pins)))
            return None
        pins.append(pin)
    if len(pins) != len(spots) or sorted(pins) != sorted(part.pins):
        mishaps.append(_mishap(part, "bad-value", "claim-count", claim.span, pins=" ".join(part.pins)))
        return None
    return dict(zip(pins, spots))
