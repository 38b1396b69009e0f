"""A plan as SVG: black on white, presentation attributes only, every part, jumper and hole findable by its name.

Input: a ``Plan``. Output: a string, one ``<svg>`` with ``viewBox``, ``<title>`` and ``<desc>``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.drawing.plan import BoxAt, JumperAt, MarkAt, PartAt, Plan
from checker.drawing.shapes import INK, PAPER, Area, Disc, Point, Shape, Words
from checker.drawing.wires import colour_of, dash_of, width_of
from checker.markup import Element, tag, xml
from checker.report.words import visible

FACE = "ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace"


def svg_of(plan: Plan) -> str:
    """The drawing of a plan."""
    used = {leg.hole for part in plan.parts for leg in part.legs} | {end for j in plan.jumpers for end in j.ends}
    layers = [
        tag("g", (_board(board.shapes) for board in plan.boards), class_="boards"),
        tag("g", (_hole(hole.name, hole.x, hole.y, used=hole.name in used, many=len(plan.boards) > 1)
                  for board in plan.boards for hole in board.holes), class_="holes", fill=INK),
        tag("g", (_jumper(jumper) for jumper in plan.jumpers), class_="jumpers", fill="none"),
        tag("g", (_part(part) for part in plan.parts), class_="parts"),
        tag("g", (_box(box) for box in plan.boxes), class_="beside"),
        tag("g", (ends([jumper.points[0], jumper.points[-1]]) for jumper in plan.jumpers), class_="ends", fill=INK),
        tag("g", (_labels(part) for part in plan.parts), class_="labels"),
        tag("g", (_mark(mark) for mark in plan.marks), class_="findings"),
        tag("g", drawn(plan.written), class_="legend"),
    ]
    return page(plan.width, plan.height, plan.title, plan.describes, layers, "board-drawing")


def page(width: float, height: float, title: str, describes: str, layers: Iterable[Element], kind: str) -> str:
    """A whole SVG on white paper."""
    return xml(tag("svg", tag("title", visible(title)), tag("desc", visible(describes)),
                   tag("rect", x=0, y=0, width=width, height=height, fill=PAPER, class_="paper"), layers,
                   xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {width:g} {height:g}", role="img", class_=kind,
                   font_family=FACE))


def _board(shapes: Iterable[Shape]) -> Element:
    return tag("g", drawn(shapes), class_="board")


def _hole(name: str, x: float, y: float, *, used: bool, many: bool) -> Element:
    shown = name if many else name.rpartition(":")[2]
    return tag("circle", cx=x, cy=y, r=3.4 if used else 1.7, data_hole=shown, class_="hole used" if used else "hole",
               fill=None if used else "#8a8a8a")


def _jumper(jumper: JumperAt) -> Element:
    width = width_of(jumper.colour)
    path = rounded(jumper.points, 6.0)
    said = f"line {jumper.line}: {jumper.colour + ' ' if jumper.colour else ''}wire, {jumper.ends[0]} to {jumper.ends[1]}"
    return tag("g", tag("title", said),
               tag("path", d=path, stroke=PAPER, stroke_width=width + 2.4, stroke_linecap="round"),
               tag("path", d=path, stroke=colour_of(jumper.colour), stroke_width=width, stroke_linejoin="round",
                   stroke_dasharray=dash_of(jumper.colour) or None),
               class_="jumper", data_line=str(jumper.line), data_from=jumper.ends[0], data_to=jumper.ends[1])


def ends(places: Iterable[Point]) -> Iterator[Element]:
    """A dot at each end of a wire."""
    for x, y in places:
        yield tag("circle", cx=x, cy=y, r=3.4, class_="end")


def _part(part: PartAt) -> Element:
    dots = [tag("circle", cx=leg.x, cy=leg.y, r=3.6, fill=INK, stroke=PAPER, stroke_width=0.9, class_="leg-end",
                data_pin=leg.pin, data_at=leg.hole)
            for leg in part.legs]
    return tag("g", tag("title", part.says), drawn(part.shapes), dots, class_="part", data_part=part.name,
               data_mark=part.mark or None, data_towards=part.towards or None)


def _labels(part: PartAt) -> Element:
    return tag("g", drawn(part.labels), class_="label", data_of=part.name)


def _box(box: BoxAt) -> Element:
    return tag("g", tag("title", box.says), drawn(box.shapes), class_="part beside" if box.part else "node",
               data_part=box.name if box.part else None)


def _mark(mark: MarkAt) -> Element:
    return tag("g", drawn(mark.shapes), class_="finding", data_finding=str(mark.finding), data_at=mark.at)


# ── shapes ────────────────────────────────────────────────────────────────────────────────────────────────────────


def drawn(shapes: Iterable[Shape]) -> Iterator[Element]:
    """Each shape as its element."""
    for shape in shapes:
        if isinstance(shape, Words):
            yield _words(shape)
        elif isinstance(shape, Disc):
            yield tag("circle", cx=shape.x, cy=shape.y, r=shape.radius, fill=shape.fill, stroke=shape.ink,
                      stroke_width=shape.width, class_=shape.name or None)
        elif isinstance(shape, Area):
            yield tag("path", d=_outline(shape.points) + " Z", fill=shape.fill, stroke=shape.ink, stroke_width=shape.width,
                      stroke_linejoin="round", stroke_dasharray=shape.dash or None, class_=shape.name or None)
        else:
            yield tag("path", d=rounded(shape.points, shape.round_by), fill="none", stroke=shape.ink,
                      stroke_width=shape.width, stroke_dasharray=shape.dash or None,
                      stroke_linecap="butt" if shape.name in ("flat", "tab", "strip", "rail") else "round",
                      class_=shape.name or None)


def _words(words: Words) -> Element:
    y = words.y + words.size * 0.35
    turn = f"rotate(-90 {_n(words.x)} {_n(words.y)})" if words.turned else None
    return tag("text", visible(words.text), x=words.x, y=y, font_size=words.size, text_anchor=words.anchor, fill=words.ink,
               font_weight="bold" if words.bold else None, transform=turn, class_=words.name or None,
               stroke=PAPER if words.halo else None, stroke_width=3 if words.halo else None,
               stroke_linejoin="round" if words.halo else None, paint_order="stroke" if words.halo else None)


def _n(value: float) -> str:
    return f"{round(value, 2):g}"


def _outline(points: Iterable[Point]) -> str:
    return "M" + " L".join(f"{_n(x)} {_n(y)}" for x, y in points)


def rounded(points: tuple[Point, ...], radius: float) -> str:
    """The path through the points, each corner cut to a curve of at most that radius."""
    if radius <= 0 or len(points) < 3:
        return _outline(points)
    path = [f"M{_n(points[0][0])} {_n(points[0][1])}"]
    for before, here, after in zip(points, points[1:], points[2:]):
        one, two = _toward(here, before, radius), _toward(here, after, radius)
        path.append(f"L{_n(one[0])} {_n(one[1])} Q{_n(here[0])} {_n(here[1])} {_n(two[0])} {_n(two[1])}")
    path.append(f"L{_n(points[-1][0])} {_n(points[-1][1])}")
    return " ".join(path)


def _toward(here: Point, there: Point, most: float) -> Point:
    x, y = there[0] - here[0], there[1] - here[1]
    length = (x * x + y * y) ** 0.5 or 1.0
    step = min(most, length / 2)
    return here[0] + x / length * step, here[1] + y / length * step
