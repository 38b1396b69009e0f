"""The connections of a list as a diagram: plus at the top, minus at the bottom, every net one level line with its name.

Input: a survey. Output: SVG. Nets lie in layers, parts stand in the bands between them, and a straight line goes from
each pin up or down to its net. A dot joins; lines that cross without a dot are not joined.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from textwrap import wrap

from checker.drawing.columns import columns_of, left_over
from checker.drawing.legend import title_words
from checker.drawing.levels import Levels, levels_of
from checker.drawing.shapes import CHARACTER, INK, PAPER, Area, Disc, Point, Shape, Stroke, Words, words_box
from checker.drawing.sheet import KIND, MARGIN, NAME, NET, At, Sheet, Wire, across, down
from checker.drawing.svg import drawn, page
from checker.markup import Element, tag
from checker.survey import Survey


def diagram_svg(surveyed: Survey, note: str = "") -> str:
    """The diagram of the first reading; ``note`` is written below it."""
    sheet = laid_out(surveyed)
    loose = left_over(surveyed.operatings[0].circuit, sheet.levels)
    notes = [note] * bool(note) + ([f"Nothing is wired to {', '.join(loose)}"] if loose else [])
    title = surveyed.bench.title or "Connections"
    width = max(sheet.width, 300.0)
    words, height = _writing(title, notes, width, sheet.bottom)
    layers = [tag("g", _nets(sheet), class_="nets"), tag("g", _parts(sheet), class_="parts"),
              tag("g", drawn(words), class_="legend")]
    return page(width, height, f"{title}, connections", _says(surveyed, sheet.levels), layers, "connection-diagram")


def laid_out(surveyed: Survey) -> Sheet:
    """The sheet with everything in its place."""
    levels = levels_of(surveyed)
    columns = columns_of(surveyed.operatings[0].circuit, levels)
    sheet = Sheet(levels)
    down(sheet, columns, across(sheet, columns))
    sheet.wires = list(_wires(sheet))
    for wire in sheet.wires:
        x = wire.points[-1][0]
        low, high = sheet.extents.get(wire.net, (x, x))
        sheet.extents[wire.net] = (min(low, x), max(high, x))
    return sheet


def _says(surveyed: Survey, levels: Levels) -> str:
    names = surveyed.bench.parts
    return ". ".join(f"{net.name}: {', '.join(f'{names[key].name}.{pin}' for key, pin in net.pins)}"
                     for net in levels.nets.values())


def _writing(title: str, notes: Sequence[str], width: float, bottom: float) -> tuple[list[Words], float]:
    words = list(title_words(title, width))
    y = bottom + 22
    for note in notes:
        for line in wrap(note, int((width - 2 * MARGIN) / (NAME * CHARACTER))):
            words.append(Words(MARGIN, y, line, NAME, "start", halo=False))
            y += 14
    return words, y


# ── lines ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _wires(sheet: Sheet) -> Iterator[Wire]:
    for place in sheet.places:
        for pin, net in place.part.nets.items():
            yield Wire(net, tuple(_way(place, pin, sheet.lines[net])))


def _way(place: At, pin: str, line: float) -> list[Point]:
    """From the pin straight to the line of its net, or round the symbol where that is on the other side."""
    where = place.part.symbol.pins[pin]
    x, y = place.x + where.x, place.y + where.y
    if where.up is None:
        side = x - place.moved
        return [(x, y), (side, y), (side, line)] if place.moved else [(x, y), (x, line)]
    if (line < y) == where.up:
        return [(x, y), (x, line)]
    out = y + (-5 if where.up else 5)
    side = place.x - place.part.symbol.left - 2
    return [(x, y), (x, out), (side, out), (side, line)]


def _nets(sheet: Sheet) -> Iterator[Element]:
    """Level lines first, then the lines to pins with a halo where they cross, dots and names on top."""
    by_net: dict[int, list[Wire]] = {}
    for wire in sheet.wires:
        by_net.setdefault(wire.net, []).append(wire)
    bars = {net: _bar(sheet, net, wires) for net, wires in by_net.items()}
    yield tag("g", drawn([bar for found in bars.values() for bar in found]), class_="bars")
    yield tag("g", drawn(_halos(sheet)), class_="crossings")
    taken = [(wire.net, piece) for wire in sheet.wires for piece in pairwise(wire.points)]
    names: list[Words] = []
    for net, wires in by_net.items():
        shapes: list[Shape] = [Stroke(wire.points, width=1.6) for wire in wires]
        shapes += [Disc(x, sheet.lines[net], 3.0, fill=INK, width=0.5) for x in _joints(sheet, net, wires)]
        if len(wires) == 1 and not bars[net]:
            shapes.append(Disc(wires[0].points[-1][0], sheet.lines[net], 3.0, width=1.4, name="end"))
        names.append(_net_name(sheet, net, wires, taken, names))
        shapes.append(names[-1])
        yield tag("g", drawn(shapes), class_="net", data_net=sheet.levels.nets[net].name)


def _bar(sheet: Sheet, net: int, wires: Sequence[Wire]) -> list[Shape]:
    xs = [wire.points[-1][0] for wire in wires]
    y = sheet.lines[net]
    if max(xs) - min(xs) < 1:
        return []
    return [Stroke(((min(xs), y), (max(xs), y)), width=2.6 if sheet.levels.nets[net].end else 1.6)]


def _halos(sheet: Sheet) -> Iterator[Shape]:
    """White beside each line that crosses a level line of another net."""
    for wire in sheet.wires:
        for (xa, ya), (xb, yb) in pairwise(wire.points):
            if abs(xa - xb) < 0.1 and abs(ya - yb) > 8:
                low, high = min(ya, yb) + 4, max(ya, yb) - 4
                yield Stroke(((xa, low), (xa, high)), width=6.0, ink=PAPER, name="flat")


def _joints(sheet: Sheet, net: int, wires: Sequence[Wire]) -> list[float]:
    """Where three lines or more meet on a level line."""
    xs = [wire.points[-1][0] for wire in wires]
    found = []
    for x in sorted({round(x, 1) for x in xs}):
        meeting = sum(abs(x - other) < 0.5 for other in xs) + (min(xs) < x - 0.5) + (max(xs) > x + 0.5)
        if meeting > 2:
            found.append(x)
    return found


def _net_name(sheet: Sheet, net: int, wires: Sequence[Wire],
              taken: Sequence[tuple[int, tuple[Point, Point]]], names: Sequence[Words]) -> Words:
    """The name above its line, where the fewest lines run through it."""
    name = sheet.levels.nets[net].name
    y = sheet.lines[net] - 6.5
    tries = []
    bars = [(sheet.lines[other], ends) for other, ends in sheet.extents.items() if other != net]
    for place, x in enumerate(sorted({wire.points[-1][0] for wire in wires})):
        for anchor, offset in (("start", 4.0), ("end", -4.0)):
            box = words_box(x + offset, y, name, NET, anchor).grown(1.0)
            hits = sum(box.left < xa < box.right and min(ya, yb) < box.bottom and max(ya, yb) > box.top
                       for _, ((xa, ya), (xb, yb)) in taken if abs(xa - xb) < 0.1)
            hits += sum(box.left < max(pair) and box.right > min(pair) and box.top < line < box.bottom
                        for line, pair in bars)
            hits += 3 * sum(box.overlap(other.box) > 0 for other in names)
            outside = box.left < 4 or box.right > sheet.width - 4
            tries.append((hits * 10 + 100 * outside + place + 2 * (anchor == "end"), x + offset, anchor))
    _, x, anchor = min(tries)
    return Words(x, y, name, NET, anchor, bold=bool(sheet.levels.nets[net].end), name="net-name")


# ── parts ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _parts(sheet: Sheet) -> Iterator[Element]:
    for place in sheet.places:
        part = place.part
        shapes = [moved(shape, place.x, place.y) for shape in part.symbol.shapes]
        if not part.symbol.boxed:
            x = place.x + part.symbol.right + 2
            shapes.append(Words(x, place.y - 5, part.name, NAME, "start", bold=True))
            shapes.append(Words(x, place.y + 6, part.kind, KIND, "start"))
        yield tag("g", tag("title", f"{part.name}, {part.kind}"), drawn(shapes), class_="part", data_part=part.name)


def moved(shape: Shape, x: float, y: float) -> Shape:
    """The same shape elsewhere."""
    if isinstance(shape, Words):
        return Words(shape.x + x, shape.y + y, shape.text, shape.size, shape.anchor, shape.bold, shape.turned, shape.halo,
                     shape.ink, shape.name)
    if isinstance(shape, Disc):
        return Disc(shape.x + x, shape.y + y, shape.radius, shape.fill, shape.width, shape.ink, shape.name)
    points = tuple((a + x, b + y) for a, b in shape.points)
    if isinstance(shape, Area):
        return Area(points, shape.fill, shape.width, shape.ink, shape.dash, shape.name)
    return Stroke(points, shape.width, shape.ink, shape.dash, shape.round_by, shape.name)
