"""Seating: every leg into its hole, and every way to read that.

Input is the bench, output ``Seated``: the readings and the mishaps of placement. A reading that nothing distinguishes
is not made twice; more than ``MOST_READINGS`` are not looked at in combination but one question at a time, and the
report says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from checker.bench.mishap import Mishap
from checker.bench.model import Bench, BenchPart
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, ROWS, BoardPlan, name_of, plan_for, position
from checker.seating.model import Reading, Seat, Seated, Spot
from checker.seating.options import seats_of
from checker.seating.orientation import without_row
from checker.seating.placing import outside, taken, with_lonely_strip
from grammar.syntax_tree import Board, Hole, Part, PlacedAcross, PlacedIn, Point, Rail, Span
from parts_library.schema import Package

__all__ = ["MOST_READINGS", "all_points", "package_of", "plan_for", "seat"]

MOST_READINGS = 32


def seat(bench: Bench) -> Seated:
    """All readings of the list, the one that it says itself first."""
    mishaps: list[Mishap] = []
    choices: dict[str, list[Seat]] = {}
    for key, part in bench.parts.items():
        if part.entry is not None and part.placed:
            seats, found = seats_of(part, package_of(bench, part))
            mishaps.extend(found)
            if seats:
                choices[key] = seats
    plans = _plans(bench, mishaps)
    first_plans = plans[0] if plans else {}
    mishaps.extend(outside(bench, choices, first_plans))
    mishaps.extend(taken(bench, choices, first_plans))
    mishaps = with_lonely_strip(bench, choices, first_plans, mishaps)
    mishaps.extend(_too_far(bench, choices))
    readings, bounded = _readings(choices, plans)
    return Seated(bench=bench, readings=readings, mishaps=tuple(mishaps), bounded=bounded)


def package_of(bench: Bench, part: BenchPart) -> Package | None:
    return bench.library.packages.get(part.entry.package) if part.entry is not None else None


# ── boards ────────────────────────────────────────────────────────────────────────────────────────────────────────


def all_points(bench: Bench) -> Iterator[Point]:
    """Every point of the list that a lead or a leg goes to."""
    for wire in bench.wires:
        yield from wire.points
    for part in bench.parts.values():
        if isinstance(part.statement, Part):
            if isinstance(part.statement.place, PlacedIn):
                yield from part.statement.place.points
        else:
            yield from part.statement.terminals


def _plans(bench: Bench, mishaps: list[Mishap]) -> list[dict[str, BoardPlan]]:
    """The ways to look at the boards: one, or two where it is open whether a rail is split and that could matter."""
    spots = [p for p in all_points(bench) if isinstance(p, Hole | Rail)]
    acrosses = [p.statement.place for p in bench.parts.values()
                if isinstance(p.statement, Part) and isinstance(p.statement.place, PlacedAcross)]
    boards = bench.boards or ({"": _assumed_board(spots, acrosses)} if spots or acrosses else {})
    ways: list[list[BoardPlan]] = []
    for key, board in boards.items():
        rails = [p for p in spots if isinstance(p, Rail) and (p.board or "").lower() in (key, "")]
        split = board.rails == "split"
        ways.append([BoardPlan(key, board.size, split)])
        if board.rails is None and board.size == "full" and _both_pieces_used(rails, board.size):
            ways[-1].append(BoardPlan(key, board.size, True))
        if split:
            mishaps.extend(Mishap(rule="bad-value", severity="fault", span=rail.span, points=(rail.text,),
                                  facts={"case": "which-piece", "rail": f"{rail.side}{rail.sign}"})
                           for rail in rails if rail.row is None and not _is_supply_terminal(bench, rail))
    return [{plan.name: plan for plan in combination} for combination in product(*ways)]


def _is_supply_terminal(bench: Bench, rail: Rail) -> bool:
    return any(rail in part.statement.terminals for part in bench.parts.values()
               if not isinstance(part.statement, Part))


def _assumed_board(spots: list[Hole | Rail], acrosses: list[PlacedAcross]) -> Board:
    rows = [p.row or 1 for p in spots] + [place.last_row for place in acrosses]
    size = "half" if max(rows, default=1) <= ROWS["half"] else "full"
    return Board(size=size, span=Span(1, 1, 1, 1))


def _both_pieces_used(rails: list[Rail], size: str) -> bool:
    last = LAST_ROW_OF_FIRST_PIECE[size]
    pieces: dict[tuple[str, str], set[bool]] = {}
    for rail in rails:
        pieces.setdefault((rail.side, rail.sign), set()).add((rail.row or 1) > last)
    return any(len(used) > 1 for used in pieces.values())


# ── what placement itself shows ───────────────────────────────────────────────────────────────────────────────────


def _too_far(bench: Bench, choices: dict[str, list[Seat]]) -> Iterator[Mishap]:
    for key, seats in choices.items():
        part = bench.parts[key]
        package = package_of(bench, part)
        if package is None or package.form in ("dip", "button", "inline", "off-board"):
            continue
        spots = _along_the_line(tuple(seats[0].legs.values()))
        if len({(s.board or "") for s in spots}) > 1:
            continue
        for one, other in pairwise(spots):
            distance = _distance(one, other)
            if distance > package.reach + 0.5:
                yield Mishap(rule="leads-do-not-reach", severity="fault", span=part.span, parts=(part.name,),
                             points=(name_of(one), name_of(other)),
                             facts={"distance": f"{distance * 2.54:.0f}", "reach": f"{package.reach * 2.54:.0f}",
                                    "package": package.name})
                break


def _along_the_line(spots: tuple[Spot, ...]) -> list[Spot]:
    """The legs as they follow each other along the longer side of what they cover."""
    columns, rows = zip(*(position(spot) for spot in spots))
    along = 0 if max(columns) - min(columns) > max(rows) - min(rows) else 1
    return sorted(spots, key=lambda spot: position(spot)[along])


def _distance(one: Spot, other: Spot) -> float:
    """Holes from leg to leg; a rail without a row is met where it is nearest."""
    (x1, y1), (x2, y2) = position(one), position(other)
    if any(without_row(spot) for spot in (one, other)):
        return abs(x1 - x2)
    return float(((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5)


# ── readings ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _readings(choices: dict[str, list[Seat]],
              plans: list[dict[str, BoardPlan]]) -> tuple[tuple[Reading, ...], bool]:
    """Every combination of seats and plans, bounded; the first is the list's own."""
    first = {key: seats[0] for key, seats in choices.items()}
    total = len(plans) or 1
    for seats in choices.values():
        total *= len(seats)
    if total <= MOST_READINGS:
        combinations = [dict(zip(choices, picked)) for picked in product(*choices.values())]
    else:
        combinations = [first] + [{**first, key: seat_} for key, seats in choices.items() for seat_ in seats[1:]]
    readings = []
    for plan in plans or [{}]:
        for seats_picked in combinations:
            differs = tuple(key for key, s in seats_picked.items() if s is not first[key])
            because = next((seats_picked[key].because for key in differs), "")
            if plan is not (plans or [{}])[0] and not differs:
                because, differs = "rail-gap", tuple(plan)
            readings.append(Reading(seats=seats_picked, plans=plan, because=because, differs=differs))
    return tuple(readings[:MOST_READINGS]), total > MOST_READINGS
