"""Numbers of the findings, at the part and at the holes that each is about.

Input: the report and everything that has a place. Output: ``MarkAt``: a number in a dark circle, and a ring round a hole;
the legend has the sentence. At the legs of a part that has the number the ring is enough. A point without a place on the
paper (a rail without a row, a net) has no mark.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.drawing.benchtop import Benchtop
from checker.drawing.placing import Crowd
from checker.drawing.plan import BoxAt, MarkAt, PartAt
from checker.drawing.shapes import PAPER, Box, Disc, Point, Words
from checker.report.model import Report

RADIUS = 7.0


def mark_findings(report: Report | None, parts: Sequence[PartAt], boxes: Sequence[BoxAt], table: Benchtop,
                  crowd: Crowd) -> tuple[MarkAt, ...]:
    """A mark at each part and each hole of each finding."""
    marks: list[MarkAt] = []
    if report is None:
        return ()
    for index, finding in enumerate(report.findings):
        own = {leg.hole for part in parts if part.name in finding.parts for leg in part.legs}
        for name, box in _bodies(finding.parts, parts, boxes):
            marks.append(_mark(index, name, _around(box), crowd))
        for name, place in _holes(finding.points, parts, boxes, table):
            if name in own:
                marks.append(MarkAt(index, index + 1, name, (_ring(place),)))
            else:
                marks.append(_mark(index, name, _around(Box(*place, *place).grown(3.0)), crowd, place))
    return tuple(marks)


def _bodies(names: Sequence[str], parts: Sequence[PartAt], boxes: Sequence[BoxAt]) -> Iterator[tuple[str, Box]]:
    for name in dict.fromkeys(names):
        for part in parts:
            if part.name == name:
                yield name, part.body
        for box in boxes:
            if box.name == name:
                yield name, box.box


def _holes(points: Sequence[str], parts: Sequence[PartAt], boxes: Sequence[BoxAt],
           table: Benchtop) -> Iterator[tuple[str, Point]]:
    places = _places(parts, boxes, table)
    for point in dict.fromkeys(points):
        if point.lower() in places:
            yield point, places[point.lower()]


def _places(parts: Sequence[PartAt], boxes: Sequence[BoxAt], table: Benchtop) -> dict[str, Point]:
    found: dict[str, Point] = {}
    for name, (left, top) in table.origins.items():
        plan = table.plans[name]
        prefix = f"{table.shown[name].lower()}:" if len(table.plans) > 1 else ""
        first, last = table.rows[name]
        for row in range(first, last + 1):
            for index, column in enumerate("abcdefghij"):
                place = (left + (index + (2 if index > 4 else 0)) * 20.0, top + row * 20.0)
                found[f"{prefix}{column}{row}"] = place
            if plan.has_rails:
                for rail, x in (("l+", -3), ("l-", -2), ("r+", 13), ("r-", 14)):
                    found[f"{prefix}{rail}{row}"] = (left + x * 20.0, top + row * 20.0)
    for box in boxes:
        for pin in box.pins:
            found[f"{box.name}.{pin.pin}".lower()] = (pin.x, pin.y)
    for part in parts:
        for leg in part.legs:
            found.setdefault(f"{part.name}.{leg.pin}".lower(), (leg.x, leg.y))
    return found


def _around(box: Box) -> list[tuple[Point, float]]:
    middle = box.middle
    found = []
    for away, dislike in ((6.5, 0.0), (12.0, 5.0), (20.0, 12.0), (30.0, 22.0)):
        xs = (box.left - away, middle[0], box.right + away)
        ys = (box.top - away, middle[1], box.bottom + away)
        order = ((2, 0), (0, 0), (2, 2), (0, 2), (2, 1), (0, 1), (1, 0), (1, 2))
        found += [((xs[x], ys[y]), dislike + 0.3 * place) for place, (x, y) in enumerate(order)]
    return found


def _ring(hole: Point) -> Disc:
    return Disc(*hole, 5.6, fill="none", width=1.5, name="ring")


def _mark(index: int, at: str, candidates: Sequence[tuple[Point, float]], crowd: Crowd, hole: Point | None = None) -> MarkAt:
    """The number in the freest place, and a ring round the hole where it is at one."""
    x, y = min(candidates, key=lambda one: one[1] + crowd.cost(Box(*one[0], *one[0]).grown(RADIUS)))[0]
    crowd.add(Box(x, y, x, y).grown(RADIUS), 1.0, 60.0)
    ring = () if hole is None else (_ring(hole),)
    number = Words(x, y, str(index + 1), 9.5 if index < 9 else 8, bold=True, halo=False, ink=PAPER)
    return MarkAt(finding=index, number=index + 1, at=at, shapes=(*ring, Disc(x, y, RADIUS, fill="#111111", width=1.0), number))
