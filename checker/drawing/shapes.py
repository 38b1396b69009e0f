"""Shapes of a line drawing: strokes, areas, discs and words, each with real coordinates.

Ten units are half the distance of two holes (``PITCH`` units are 2.54 mm); x grows to the right, y downward. Input and
output of everything that draws: what a shape is, how far it reaches, and how wide a word is. Words are set in a
monospaced face, so that their width is known without a font.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin
from typing import TypeAlias

from msgspec import Struct

PITCH = 20.0
"""Units from hole to hole."""

CHARACTER = 0.602
"""Width of a character of a monospaced face over its size. Source: 1233 of 2048 units in one common free face, 600 of
1000 in another (from memory); a face that is wider would still be read."""

INK, PAPER, PALE, FAINT = "#111111", "#ffffff", "#e6e6e6", "#9a9a9a"

Point: TypeAlias = tuple[float, float]


class Box(Struct, frozen=True):
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> Point:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> Box:
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def overlap(self, other: Box) -> float:
        """The area that two boxes share."""
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.bottom, other.bottom) - max(self.top, other.top)
        return width * height if width > 0 and height > 0 else 0.0

    def holds(self, point: Point) -> bool:
        return self.left <= point[0] <= self.right and self.top <= point[1] <= self.bottom


class Stroke(Struct, frozen=True):
    """A line through points; ``dash`` is a pattern of SVG, ``round_by`` the radius of its corners."""

    points: tuple[Point, ...]
    width: float = 1.6
    ink: str = INK
    dash: str = ""
    round_by: float = 0.0
    name: str = ""


class Area(Struct, frozen=True):
    """A closed outline; ``fill`` is a colour or "none"."""

    points: tuple[Point, ...]
    fill: str = PAPER
    width: float = 1.6
    ink: str = INK
    dash: str = ""
    name: str = ""


class Disc(Struct, frozen=True):
    """A circle."""

    x: float
    y: float
    radius: float
    fill: str = PAPER
    width: float = 1.6
    ink: str = INK
    name: str = ""


class Words(Struct, frozen=True):
    """One line of text; (x, y) is its middle in height and its start, middle or end by ``anchor``. ``turned`` is set
    upright, reading upward. ``halo`` keeps lines below it away."""

    x: float
    y: float
    text: str
    size: float = 9.0
    anchor: str = "middle"
    bold: bool = False
    turned: bool = False
    halo: bool = True
    ink: str = INK
    name: str = ""

    @property
    def box(self) -> Box:
        """How far the text reaches."""
        return words_box(self.x, self.y, self.text, self.size, self.anchor, self.turned)


Shape: TypeAlias = Stroke | Area | Disc | Words


def words_box(x: float, y: float, text: str, size: float, anchor: str = "middle", turned: bool = False) -> Box:
    """The box of one line of text."""
    width, height = len(text) * CHARACTER * size, 0.74 * size
    if turned:
        return Box(x - height / 2, y - width / 2, x + height / 2, y + width / 2)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, y - height / 2, left + width, y + height / 2)


def box_of(points: Iterable[Point]) -> Box:
    """The box that holds all points."""
    xs, ys = zip(*points)
    return Box(min(xs), min(ys), max(xs), max(ys))


def reach(shapes: Iterable[Shape]) -> Box:
    """The box that holds all shapes, words included."""
    boxes = [_box(shape) for shape in shapes]
    return Box(min(b.left for b in boxes), min(b.top for b in boxes),
               max(b.right for b in boxes), max(b.bottom for b in boxes))


def _box(shape: Shape) -> Box:
    if isinstance(shape, Words):
        return shape.box
    if isinstance(shape, Disc):
        return Box(shape.x, shape.y, shape.x, shape.y).grown(shape.radius)
    return box_of(shape.points)


class Frame(Struct, frozen=True):
    """A place of its own on the paper: ``along`` and ``across`` are unit vectors, lengths are in holes."""

    origin: Point
    along: Point
    across: Point

    def at(self, a: float, b: float) -> Point:
        """The point ``a`` holes along and ``b`` across."""
        return (self.origin[0] + PITCH * (a * self.along[0] + b * self.across[0]),
                self.origin[1] + PITCH * (a * self.along[1] + b * self.across[1]))

    def path(self, *places: tuple[float, float]) -> tuple[Point, ...]:
        return tuple(self.at(a, b) for a, b in places)

    def rectangle(self, a1: float, b1: float, a2: float, b2: float) -> tuple[Point, ...]:
        return self.path((a1, b1), (a2, b1), (a2, b2), (a1, b2))

    def arc(self, a: float, b: float, half_a: float, half_b: float, start: float, end: float,
            steps: int = 20) -> tuple[Point, ...]:
        """Points of an ellipse round (a, b) from ``start`` to ``end``, in turns; 0 is along, a quarter is across."""
        turns = [2 * pi * (start + (end - start) * step / steps) for step in range(steps + 1)]
        return tuple(self.at(a + half_a * cos(t), b + half_b * sin(t)) for t in turns)


def frame_between(one: Point, other: Point, share: float = 0.5) -> Frame:
    """The frame that looks from one point to another, its origin that share of the way; across is a quarter turn on."""
    x, y = other[0] - one[0], other[1] - one[1]
    length = (x * x + y * y) ** 0.5 or 1.0
    x, y = x / length, y / length
    return Frame((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])), (x, y), (-y, x))


def distance(one: Point, other: Point) -> float:
    """Holes from one point to another."""
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5) / PITCH
