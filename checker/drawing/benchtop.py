"""Where things stand on the paper: boards side by side, and in the gaps between and beside them the boxes.

Input: what there is to draw. Output: ``Benchtop``: the place of each hole, each board's box and the box and pins of
each thing beside a board. Pins of boxes are half a row off the holes, so that a straight wire from a pin hides no hole.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct, field

from checker.drawing.seen import Bench, Beside, LeadPin
from checker.drawing.shapes import CHARACTER, PITCH, Box, Point
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, BoardPlan, name_of, position
from checker.seating.model import Spot
from checker.seating.seat import plan_for

MARGIN = 14.0
_RAILED, _BARE = (-4.0, 15.0), (-1.75, 12.75)
"""How far a board reaches to both sides, in holes, with and without rails."""
_SPARE, _WORTH_A_CUT = 3, 10
"""Rows shown beyond the last one in use, and how many must be left out for a cut to be worth it."""
_LANE, _LEAST_LANES = 6.0, 5
NAME_SIZE, KIND_SIZE, PIN_SIZE = 11.0, 8.0, 9.0
MOST_CHARACTERS = 20
_HEAD = 30.0
"""Height of a box above its first pin."""


class BoxPlace(Struct, frozen=True):
    """A box beside a board: ``faces`` is 1 where its pins look to the right, -1 to the left."""

    beside: Beside
    box: Box
    faces: int
    pins: dict[str, Point]


class Benchtop(Struct):
    """The paper while it is filled. ``origins`` is the place of row 0 in column a of each board, ``rows`` its first
    and last row that is shown, ``lanes`` are x of the places between boards and boxes where wires may run up and down."""

    plans: dict[str, BoardPlan]
    shown: dict[str, str]
    origins: dict[str, Point] = field(default_factory=dict)
    boards: dict[str, Box] = field(default_factory=dict)
    rows: dict[str, tuple[int, int]] = field(default_factory=dict)
    boxes: list[BoxPlace] = field(default_factory=list)
    lanes: list[float] = field(default_factory=list)
    width: float = 0.0
    bottom: float = 0.0

    def at(self, spot: Spot) -> Point:
        """The place of a hole."""
        plan = plan_for(self.plans, spot)
        assert plan is not None
        x, y = position(spot)
        left, top = self.origins[plan.name]
        return left + x * PITCH, top + y * PITCH

    def hole_name(self, spot: Spot) -> str:
        """Its name, with the board's where there are several."""
        plan = plan_for(self.plans, spot)
        assert plan is not None
        bare = name_of(spot).rpartition(":")[2]
        return f"{self.shown[plan.name]}:{bare}" if len(self.plans) > 1 else bare

    def pin_at(self, pin: LeadPin) -> Point:
        for place in self.boxes:
            if place.beside.name == pin.name:
                return place.pins[pin.pin]
        raise KeyError(pin)


def short(text: str, most: int = MOST_CHARACTERS) -> str:
    """The text, cut where it is long."""
    return text if len(text) <= most else text[: most - 1] + "…"


def lay_out(bench: Bench, shown: dict[str, str], top: float) -> Benchtop:
    """Boards and boxes in their places below ``top``. ``shown`` are the boards' names as written."""
    table = Benchtop(plans=bench.plans, shown=shown)
    gaps = _gaps(bench)
    count = len(bench.plans)
    left = MARGIN
    row_zero = top + 2 * PITCH
    spots: list[tuple[int, float, float]] = []
    for number in range(count + 1):
        own = [beside for beside in bench.beside if gaps[beside.name] == number]
        spare = _lanes_wide(bench, own) if own or 0 < number < count else 0.0
        width = max((_box_width(beside) for beside in own), default=0.0)
        if number and spare:
            table.lanes.extend(left + 8 + _LANE * lane for lane in range(int((spare - 16) / _LANE) + 1))
            left += spare
        spots.append((number, left, width))
        left += width
        if number < count and spare and own:
            table.lanes.extend(left + 8 + _LANE * lane for lane in range(int((spare - 16) / _LANE) + 1))
            left += spare
        if number < count:
            left = _stand(table, bench, list(bench.plans.values())[number], left, row_zero)
    table.width = left + MARGIN
    _stack(table, bench, gaps, spots, row_zero)
    table.bottom = max([box.bottom for box in table.boards.values()] + [place.box.bottom for place in table.boxes],
                       default=top)
    return table


def _stand(table: Benchtop, bench: Bench, plan: BoardPlan, left: float, row_zero: float) -> float:
    """Put a board there; how far it reaches."""
    near, far = _RAILED if plan.has_rails else _BARE
    first, last = _rows_shown(bench, plan)
    table.rows[plan.name] = first, last
    table.origins[plan.name] = (left - near * PITCH, row_zero - (first - 1) * PITCH)
    table.boards[plan.name] = Box(left, row_zero - PITCH * 0.9, left + (far - near) * PITCH,
                                  row_zero + (last - first + 2.9) * PITCH)
    return left + (far - near) * PITCH


def _rows_shown(bench: Bench, plan: BoardPlan) -> tuple[int, int]:
    """The rows of a board; of a long one not the many at an end in which nothing is, so that the rest can be read."""
    ends = [end for stretch in bench.stretches for end in stretch.ends if not isinstance(end, LeadPin)]
    spots = [*ends, *(spot for seen in bench.parts for _, spot in seen.legs)]
    used = [spot.row or 1 for spot in spots if plan_for(bench.plans, spot) is plan]
    if plan.split:
        used += [LAST_ROW_OF_FIRST_PIECE[plan.size], LAST_ROW_OF_FIRST_PIECE[plan.size] + 1]
    if plan.size != "full" or not used:
        return 1, plan.rows
    first, last = min(used) - _SPARE, max(used) + _SPARE
    return (first if first > _WORTH_A_CUT else 1), (last if plan.rows - last >= _WORTH_A_CUT else plan.rows)


def _lanes_wide(bench: Bench, own: Sequence[Beside]) -> float:
    """The room for wires beside the boxes of one gap."""
    names = {beside.name for beside in own}
    wires = sum(any(isinstance(end, LeadPin) and end.name in names for end in stretch.ends) for stretch in bench.stretches)
    return 16 + _LANE * max(_LEAST_LANES, min(wires, 14))


def _box_width(beside: Beside) -> float:
    texts = [(short(beside.name), NAME_SIZE), (short(beside.kind), KIND_SIZE), *((pin, PIN_SIZE) for pin in beside.pins)]
    return max(len(text) * size * CHARACTER for text, size in texts) + 16


# ── which gap ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _gaps(bench: Bench) -> dict[str, int]:
    """For each thing beside the boards the gap where most of its wires go, counted from the left."""
    sides = {beside.name: [_side(bench.plans, spot) for spot in _holes_of(bench, beside.name)] for beside in bench.beside}
    gaps = {name: round(sum(found) / len(found) - 0.01) for name, found in sides.items() if found}
    for _ in bench.beside:
        for beside in bench.beside:
            near = [gaps[other] for other in _neighbours(bench, beside.name) if other in gaps]
            if beside.name not in gaps and near:
                gaps[beside.name] = near[0]
    return {beside.name: gaps.get(beside.name, 0) for beside in bench.beside}


def _holes_of(bench: Bench, name: str) -> Iterator[Spot]:
    for stretch in bench.stretches:
        for one, other in (stretch.ends, stretch.ends[::-1]):
            if isinstance(one, LeadPin) and one.name == name and not isinstance(other, LeadPin):
                yield other


def _neighbours(bench: Bench, name: str) -> Iterator[str]:
    for stretch in bench.stretches:
        for one, other in (stretch.ends, stretch.ends[::-1]):
            if isinstance(one, LeadPin) and one.name == name and isinstance(other, LeadPin) and other.name != name:
                yield other.name


def _side(plans: dict[str, BoardPlan], spot: Spot) -> int:
    plan = plan_for(plans, spot)
    assert plan is not None
    return list(plans).index(plan.name) + (position(spot)[0] > 5.5)


# ── one below the other ───────────────────────────────────────────────────────────────────────────────────────────


def _stack(table: Benchtop, bench: Bench, gaps: dict[str, int], spots: Sequence[tuple[int, float, float]],
           row_zero: float) -> None:
    """Put the boxes of each gap one below the other, each near to where its wires go."""
    wish = {beside.name: _mean(table.at(spot)[1] for spot in _holes_of(bench, beside.name)) for beside in bench.beside}
    for beside in bench.beside:
        if wish[beside.name] is None:
            near = [wish[other] for other in _neighbours(bench, beside.name)]
            wish[beside.name] = _mean(y for y in near if y is not None)
    for number, left, width in spots:
        own = sorted((beside for beside in bench.beside if gaps[beside.name] == number),
                     key=lambda beside: wish[beside.name] or row_zero)
        tops = _tops([_height(beside) for beside in own], [wish[beside.name] or row_zero for beside in own], row_zero,
                     max((box.bottom for box in table.boards.values()), default=row_zero + 600))
        faces = -1 if number and number == len(bench.plans) else 1
        for beside, top in zip(own, tops):
            box = Box(left, top, left + width, top + _height(beside))
            table.boxes.append(BoxPlace(beside, box, faces, {}))
    for index, place in enumerate(table.boxes):
        table.boxes[index] = BoxPlace(place.beside, place.box, place.faces, dict(_pins(table, bench, place)))


def _mean(values: Iterable[float]) -> float | None:
    found = list(values)
    return sum(found) / len(found) if found else None


def _height(beside: Beside) -> float:
    return PITCH * (2 + max(0, len(beside.pins) - 1)) + (0.0 if beside.part else -PITCH / 2)


def _tops(heights: Sequence[float], wishes: Sequence[float], top: float, bottom: float) -> list[float]:
    """Where each box begins: on a row, half its height above its wish, none over another."""
    tops: list[float] = []
    free = top - PITCH
    for height, wish in zip(heights, wishes):
        start = max(free, wish - height / 2 - PITCH / 2)
        tops.append(top + round((start - top) / PITCH) * PITCH)
        free = tops[-1] + height + PITCH
    over = (free - PITCH - bottom) if tops else 0.0
    for index in range(len(tops) - 1, -1, -1):
        if over <= 0:
            break
        room = tops[index] - (tops[index - 1] + heights[index - 1] + PITCH if index else top - PITCH)
        shift = min(over, max(0.0, room))
        shift = PITCH * int(shift / PITCH)
        for later in range(index, len(tops)):
            tops[later] -= shift
        over -= shift
    return tops


def _pins(table: Benchtop, bench: Bench, place: BoxPlace) -> Iterator[tuple[str, Point]]:
    """The wired pins on the edge that looks to the board, in the order of where their wires go."""
    targets = {pin: _mean(_target_y(table, bench, LeadPin(place.beside.name, pin))) for pin in place.beside.pins}
    ordered = sorted(place.beside.pins, key=lambda pin: (targets[pin] is None, targets[pin] or 0.0))
    x = place.box.right if place.faces > 0 else place.box.left
    first = place.box.top + (_HEAD if place.beside.part else PITCH / 2)
    for number, pin in enumerate(ordered):
        yield pin, (x, first + number * PITCH)


def _target_y(table: Benchtop, bench: Bench, pin: LeadPin) -> Iterator[float]:
    for stretch in bench.stretches:
        for one, other in (stretch.ends, stretch.ends[::-1]):
            if one == pin:
                if not isinstance(other, LeadPin):
                    yield table.at(other)[1]
                else:
                    yield next(place.box.middle[1] for place in table.boxes if place.beside.name == other.name)
