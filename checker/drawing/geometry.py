"""From a survey to its plan: the table of contents of a board drawing.

Input: a survey, and its report where findings are to be marked. Output: a ``Plan`` with real coordinates. First stand
the boards and boxes, then bodies, words, marks of findings, and last the jumpers, which go round all of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from checker.circuit.build import conductor_at
from checker.drawing.benchtop import KIND_SIZE, MARGIN, NAME_SIZE, PIN_SIZE, Benchtop, BoxPlace, lay_out, short
from checker.drawing.boards import board_at
from checker.drawing.bodies import Body, place_bodies
from checker.drawing.findings import mark_findings
from checker.drawing.legend import legend, notes_of, title_words
from checker.drawing.parts import finish
from checker.drawing.placing import Crowd
from checker.drawing.plan import BoxAt, JumperAt, PartAt, PinAt, Plan
from checker.drawing.routing import Router, Terminal
from checker.drawing.seeing import seen_on
from checker.drawing.seen import Bench, End, LeadPin, Stretch, end_name
from checker.drawing.shapes import PITCH, Area, Box, Disc, Shape, Stroke, Words, box_of
from checker.report.model import Report
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, RailPiece, Strip
from checker.survey import Survey
from grammar.syntax_tree import Hole, Rail

_TOP = 36.0
_FREE = 3 * PITCH
"""How far before a pin of a box no other wire runs."""


def plan_of(surveyed: Survey, report: Report | None = None) -> Plan:
    """The plan of everything on and beside the boards of a list."""
    bench = seen_on(surveyed)
    shown = {key: board.name or "" for key, board in surveyed.bench.boards.items()}
    table = lay_out(bench, {name: shown.get(name, name) for name in bench.plans}, _TOP)
    crowd = _crowd(bench, table)
    bodies = place_bodies(bench.parts, table, crowd)
    parts = finish(bodies, table, crowd)
    boxes = tuple(_box(place) for place in table.boxes)
    marks = mark_findings(report, parts, boxes, table, crowd)
    jumpers = tuple(_jumpers(bench, table, bodies, parts, [one.shapes[-1] for one in marks]))
    used = set(_used(surveyed, bench))
    width = max(table.width, 360.0)
    title = surveyed.bench.title or "Board"
    foot, height = legend(report, bench, width, table.bottom + 30, jumpers)
    return Plan(width=width, height=height + MARGIN, title=title, describes=_describes(bench, parts, report),
                boards=tuple(board_at(table, plan, used) for plan in bench.plans.values()), parts=parts, boxes=boxes,
                jumpers=jumpers, marks=marks, notes=tuple(notes_of(bench)), findings=_messages(report),
                written=(*title_words(title, width), *foot))


def _messages(report: Report | None) -> tuple[str, ...]:
    return tuple(one.message for one in report.findings) if report is not None else ()


def _describes(bench: Bench, parts: Sequence[PartAt], report: Report | None) -> str:
    wires = f"{len(bench.stretches)} wire" + ("" if len(bench.stretches) == 1 else "s")
    found = "" if report is None else " ".join(f"{number}: {one.message}." for number, one in enumerate(report.findings, 1))
    return f"{'. '.join(part.says for part in parts)}. {wires}. {found}".strip()


def _used(surveyed: Survey, bench: Bench) -> Iterator[Strip | RailPiece]:
    circuit = surveyed.operatings[0].circuit
    spots = [spot for seen in bench.parts for _, spot in seen.legs]
    spots += [end for stretch in bench.stretches for end in stretch.ends if isinstance(end, Hole | Rail)]
    for spot in spots:
        conductor = conductor_at(circuit, spot)
        if isinstance(conductor, Strip | RailPiece):
            yield conductor


# ── what is in the way ────────────────────────────────────────────────────────────────────────────────────────────


def _crowd(bench: Bench, table: Benchtop) -> Crowd:
    crowd = Crowd(bounds=Box(2, _TOP - 12, table.width - 2, table.bottom + 14))
    for place in table.boxes:
        crowd.add(place.box.grown(2), 1.0, 200.0)
    for stretch in bench.stretches:
        for end in stretch.ends:
            if not isinstance(end, LeadPin):
                x, y = table.at(end)
                crowd.add(Box(x, y, x, y).grown(5.0), 0.6, 14.0)
    for name, box in table.boards.items():
        left, top = table.origins[name]
        first, last = table.rows[name]
        for row in range(first, last + 1):
            for x in (-1.0, 12.0):
                number = (left + x * PITCH, top + row * PITCH)
                crowd.add(Box(*number, *number).grown(5.0), 0.05, 3.0)
        if bench.plans[name].split:
            gap = top + (LAST_ROW_OF_FIRST_PIECE[bench.plans[name].size] + 0.5) * PITCH
            for x in (-2.5, 13.5):
                crowd.add(Box(left + (x - 1.2) * PITCH, gap - 5, left + (x + 1.2) * PITCH, gap + 5), 0.5, 30.0)
        for y in (box.top, box.bottom):
            crowd.add(Box(box.left, y - 1, box.right, y + 1), 0.1, 25.0)
        for x in (box.left, box.right):
            crowd.add(Box(x - 1, box.top, x + 1, box.bottom), 0.1, 25.0)
        for y in (top + (first - 1) * PITCH, top + (last + 1) * PITCH):
            crowd.add(Box(box.left, y - 6, box.right, y + 6), 0.1, 6.0)
    return crowd


def _box(place: BoxPlace) -> BoxAt:
    beside, box = place.beside, place.box
    corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
    shapes: list[Shape] = [Area(corners, width=2.0 if beside.part else 1.2, dash="" if beside.part else "4 3")]
    middle = box.middle[0]
    if beside.part:
        shapes += [Words(middle, box.top + 9, short(beside.name), NAME_SIZE, bold=True, halo=False),
                   Words(middle, box.top + 19, short(beside.kind), KIND_SIZE, halo=False)]
    else:
        shapes.append(Words(middle, box.middle[1], short(beside.name), PIN_SIZE, bold=True, halo=False))
    pins = []
    for pin, (x, y) in place.pins.items():
        pins.append(PinAt(pin, x, y))
        shapes.append(Disc(x, y, 2.6, fill="#111111"))
        if pin:
            shapes.append(Words(x - 6 * place.faces, y, "−" if pin == "-" else pin, PIN_SIZE,
                                "end" if place.faces > 0 else "start", halo=False))
    says = f"{beside.name}, {beside.kind}, beside the board" if beside.part else f"{beside.name}, a joint of wires"
    return BoxAt(name=beside.name, says=says, box=box, pins=tuple(pins), shapes=tuple(shapes), part=beside.part)


# ── jumpers ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _jumpers(bench: Bench, table: Benchtop, bodies: Sequence[Body], parts: Sequence[PartAt],
             marks: Iterable[Disc | Words]) -> Iterator[JumperAt]:
    """All stretches of wire in the order of the list. Those to pins are laid first, as they cannot give way there, and
    the shortest before the longer."""
    router = Router(obstacles=_obstacles(table, bodies, parts, marks), upright=_upright_lanes(bench, table))
    for place in table.boxes:
        for pin in place.pins.values():
            router.keep_free(pin, place.faces * _FREE)
    ends = [(_place(table, stretch.ends[0]), _place(table, stretch.ends[1])) for stretch in bench.stretches]
    laid: dict[int, tuple[tuple[float, float], ...]] = {}
    for index in sorted(range(len(ends)), key=lambda i: (ends[i][0].hole and ends[i][1].hole, _apart(*ends[i]))):
        laid[index] = router.lay(*ends[index], _straight(bench.stretches[index], table))
    for index, stretch in enumerate(bench.stretches):
        names = tuple(end_name(end) if isinstance(end, LeadPin) else table.hole_name(end) for end in stretch.ends)
        yield JumperAt(line=stretch.line, ends=(names[0], names[1]), points=laid[index], colour=stretch.colour)


def _place(table: Benchtop, end: End) -> Terminal:
    return Terminal(table.pin_at(end), hole=False) if isinstance(end, LeadPin) else Terminal(table.at(end))


def _apart(one: Terminal, other: Terminal) -> float:
    return abs(one.place[0] - other.place[0]) + abs(one.place[1] - other.place[1])


def _straight(stretch: Stretch, table: Benchtop) -> bool:
    """True where no hole is between the two: neighbours, or both sides of the channel."""
    one, other = stretch.ends
    if isinstance(one, LeadPin) or isinstance(other, LeadPin):
        return False
    (xa, ya), (xb, yb) = sorted((table.at(one), table.at(other)))
    if abs(xa - xb) < 1:
        return abs(ya - yb) < PITCH * 1.1
    if abs(ya - yb) > 1:
        return False
    across_channel = isinstance(one, Hole) and isinstance(other, Hole) and {one.column, other.column} == {"e", "f"}
    return xb - xa < PITCH * (3.1 if across_channel else 1.1)


def _obstacles(table: Benchtop, bodies: Sequence[Body], parts: Sequence[PartAt],
               marks: Iterable[Disc | Words]) -> list[tuple[Box, float]]:
    found = [(body.box.grown(3.0), 2.0) for body in bodies]
    found += [(place.box.grown(3.0), 12.0) for place in table.boxes]
    for name, (left, top) in table.origins.items():
        for row in (table.rows[name][0] - 0.95, table.rows[name][1] + 0.95):
            found.append((Box(left - 3.4 * PITCH, top + row * PITCH, left + 14.4 * PITCH, top + row * PITCH).grown(6.0), 0.8))
    for part in parts:
        found += [(words.box.grown(1.5), 1.2) for words in part.labels]
        for shape in part.shapes:
            if isinstance(shape, Stroke) and shape.name == "leg":
                found += [(box_of(piece).grown(2.0), 1.0) for piece in pairwise(shape.points)]
    found += [(Box(mark.x, mark.y, mark.x, mark.y).grown(8.0), 2.0) for mark in marks]
    return found


def _upright_lanes(bench: Bench, table: Benchtop) -> list[tuple[float, float]]:
    """Tracks between the columns, three to a lane, and those beside the boards."""
    lanes = [(x, 0.0) for x in table.lanes]
    for name, (left, _) in table.origins.items():
        narrow = [*(index + 0.5 for index in range(4)), *(index + 7.5 for index in range(4)), -0.45, -1.55, 11.45, 12.55]
        if bench.plans[name].has_rails:
            narrow += [-3.5, -2.5, 13.5, 14.5]
        lanes += [(left + x * PITCH + track, dislike) for x in narrow
                  for track, dislike in ((0.0, 0.0), (-4.5, 1.5), (4.5, 1.5))]
        lanes += [(left + (4.4 + 0.225 * step) * PITCH, 0.0) for step in range(10)]
    return lanes
