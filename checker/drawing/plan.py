"""The plan of a drawing: boards, parts, boxes, jumpers and marks in their places, before it becomes SVG or text.

All coordinates are units of ``checker.drawing.shapes``. The plan is frozen and holds everything that is drawn.
"""

from __future__ import annotations

from msgspec import Struct

from checker.drawing.shapes import Box, Disc, Point, Shape, Words


class HoleAt(Struct, frozen=True):
    """A hole that something is in: its name as in a list, with the board's where there are several."""

    name: str
    x: float
    y: float


class BoardAt(Struct, frozen=True):
    """One board: ``shapes`` is everything printed on it, ``holes`` are all of its holes."""

    name: str
    size: str
    split: bool
    box: Box
    shapes: tuple[Shape, ...]
    holes: tuple[HoleAt, ...]


class LegAt(Struct, frozen=True):
    """A leg in its hole; ``open`` where another reading of the list has another pin there."""

    pin: str
    hole: str
    x: float
    y: float
    open: bool = False


class PartAt(Struct, frozen=True):
    """A part on a board. ``says`` is a sentence for those who cannot see it; ``body`` where its body is; ``mark`` names
    the mark that is drawn ("flat"), or is "?" where the list leaves it open, or ""; ``towards`` is where a face looks or
    the hole at which a mark is; ``numbers`` are those of the legs."""

    name: str
    says: str
    package: str
    legs: tuple[LegAt, ...]
    body: Box
    shapes: tuple[Shape, ...]
    labels: tuple[Words, ...]
    mark: str = ""
    towards: str = ""
    numbers: tuple[int, ...] = ()


class PinAt(Struct, frozen=True):
    """A wired pin of a box."""

    pin: str
    x: float
    y: float


class BoxAt(Struct, frozen=True):
    """A part beside the boards, with the pins that a lead is at. ``part`` is False for a named node."""

    name: str
    says: str
    box: Box
    pins: tuple[PinAt, ...]
    shapes: tuple[Shape, ...]
    part: bool = True


class JumperAt(Struct, frozen=True):
    """One stretch of wire or one lead; ``line`` is that of the list, ``ends`` as in a list."""

    line: int
    ends: tuple[str, str]
    points: tuple[Point, ...]
    colour: str = ""


class MarkAt(Struct, frozen=True):
    """The number of a finding at a part or a hole; ``finding`` counts from 0, as in the report."""

    finding: int
    number: int
    at: str
    shapes: tuple[Disc | Words, ...]


class Plan(Struct, frozen=True):
    """The whole drawing. ``findings`` are their messages in the order of the report, ``notes`` what else is to be said;
    ``written`` is all that stands round the drawing: title, legend and key."""

    width: float
    height: float
    title: str
    describes: str
    boards: tuple[BoardAt, ...]
    parts: tuple[PartAt, ...]
    boxes: tuple[BoxAt, ...]
    jumpers: tuple[JumperAt, ...]
    marks: tuple[MarkAt, ...]
    findings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    written: tuple[Shape, ...] = ()
