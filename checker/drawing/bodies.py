"""Bodies of parts in their places: all of them before any word, each where it hides least.

Input: what is seen of the parts, the benchtop and the crowd. Output: ``Body``, and the crowd with all bodies in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from checker.cards.marks import pin_at
from checker.drawing.benchtop import Benchtop
from checker.drawing.lying import FORMS, PLAIN, Form, Lie, lies, upright
from checker.drawing.placing import Crowd
from checker.drawing.seen import Seen
from checker.drawing.shapes import Area, Box, Disc, Point, Shape, Stroke, box_of, distance, reach
from checker.drawing.standing import standing


class Body(Struct, frozen=True):
    """A part with its body placed: ``marked`` is the pin at the mark of a two-legged part."""

    seen: Seen
    places: tuple[Point, ...]
    shapes: tuple[Shape, ...]
    box: Box
    mark: str = ""
    marked: str = ""
    lie: Lie | None = None
    side: int = 1


def place_bodies(parts: Sequence[Seen], table: Benchtop, crowd: Crowd) -> list[Body]:
    """All bodies: those whose legs fix them first, then lying ones, the shortest first."""
    places = {seen.name: tuple(table.at(spot) for _, spot in seen.legs) for seen in parts}
    bodies = {}
    for seen in parts:
        for x, y in places[seen.name]:
            crowd.add(Box(x, y, x, y).grown(5.0), 0.6, 14.0, seen.name)
    ordered = sorted(parts, key=lambda seen: (len(seen.legs) == 2, _span(places[seen.name])))
    for seen in ordered:
        body = _lying(seen, places[seen.name], crowd) if len(seen.legs) == 2 else _standing(seen, places[seen.name], crowd)
        bodies[seen.name] = body
        crowd.add(body.box, 0.5 if body.lie is not None else 0.25, 30.0, seen.name)
        if body.lie is not None:
            for lead in body.lie.leads:
                for one, other in pairwise(lead):
                    crowd.add(box_of((one, other)).grown(1.5), 0.3, 6.0, seen.name)
    return [bodies[seen.name] for seen in parts]


def _span(places: Sequence[Point]) -> float:
    box = box_of(places)
    return box.right - box.left + box.bottom - box.top


def _standing(seen: Seen, places: tuple[Point, ...], crowd: Crowd) -> Body:
    side = min((1, -1), key=lambda side: crowd.cost(reach(standing(seen, places, side)), seen.name))
    shapes = standing(seen, places, side)
    mark = ""
    if seen.mark_open:
        mark = "?"
    elif seen.package is not None:
        names = {shape.name for shape in shapes}
        mark = next((name for name in ("flat", "tab", "front", "notch", "dot") if name in names), "")
    solid = [shape for shape in shapes if isinstance(shape, Area | Disc)]
    return Body(seen, places, tuple(shapes), reach(solid or shapes), mark, side=side)


def _lying(seen: Seen, places: tuple[Point, ...], crowd: Crowd) -> Body:
    form = FORMS.get(seen.package.name, PLAIN) if seen.package is not None else PLAIN
    mark, pin = _mark_of_two(seen)
    marked = 0 if pin == "" else 1 if pin == seen.legs[1][0] else -1
    best = min(lies(form, *places), key=lambda lie: _lie_cost(lie, form, crowd, seen.name))
    shapes: list[Shape] = [Stroke(lead, width=2.0, name="leg", round_by=4.0) for lead in best.leads]
    body = upright(form, best.frame) if best.upright else form.draw(best.frame, form.half_length, form.half_width, marked)
    return Body(seen, places, tuple(shapes + body), _outline(best, form), mark, pin, best)


def _lie_cost(lie: Lie, form: Form, crowd: Crowd, owner: str) -> float:
    cost = lie.awkward * 6 + crowd.cost(_outline(lie, form), owner)
    for lead in lie.leads:
        for one, other in pairwise(lead):
            cost += 0.5 * crowd.cost(box_of((one, other)).grown(1.0), owner) + 2.5 * _holes_passed(one, other)
    return cost


def _outline(lie: Lie, form: Form) -> Box:
    half = form.half_width if lie.upright else form.half_length
    return box_of(lie.frame.rectangle(-half, -form.half_width, half, form.half_width))


def _holes_passed(one: Point, other: Point) -> float:
    """About how many holes a straight leg covers beyond its own."""
    upright = abs(one[0] - other[0]) < 1 or abs(one[1] - other[1]) < 1
    return max(0.0, distance(one, other) - 0.9) if upright and abs((one[0] - other[0]) + (one[1] - other[1])) > 20 else 0.0


def _mark_of_two(seen: Seen) -> tuple[str, str]:
    """The mark of a part with two legs and the pin it is at; "?" where the list leaves it open."""
    if seen.package is None or seen.entry is None:
        return "?", ""
    marks = [mark for mark in seen.package.marks if mark in ("band", "stripe", "flat", "plus")]
    if seen.mark_open:
        return ("?", "") if marks else ("", "")
    for mark in marks:
        pin = pin_at(mark, seen.entry)
        if pin is not None:
            return mark, pin
    return "", ""
