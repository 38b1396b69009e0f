"""The sheet of a diagram: where each part stands, and at which height the level line of each net runs.

Input: columns and levels. Output: ``Sheet``, filled: axes from left to right, then layers and bands from the top. Nets of
one layer that would run into each other are one below the other.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from checker.drawing.columns import Column, Standing
from checker.drawing.levels import Levels
from checker.drawing.shapes import CHARACTER, Point

MARGIN, _GAP = 16.0, 20.0
_TRACK, _LEAD = 17.0, 15.0
"""Between two lines of one layer; between the last line of a layer and the symbols below it."""
NAME, KIND, NET = 10.0, 8.0, 8.5
"""Sizes of the words for parts, kinds and nets."""
SIDE_STEP = 6.0
"""How far the control lead of the next transistor of a column is moved out."""


class At(Struct, frozen=True):
    """A part in its place: the middle of its axis, and how far its control pin is moved out."""

    part: Standing
    x: float
    y: float
    moved: float


class Wire(Struct, frozen=True):
    """From a pin to the level line of its net."""

    net: int
    points: tuple[Point, ...]


class Sheet(Struct):
    """The diagram while it is laid out: places of parts, y of each net, extent of each net."""

    levels: Levels
    places: list[At] = field(default_factory=list)
    wires: list[Wire] = field(default_factory=list)
    lines: dict[int, float] = field(default_factory=dict)
    extents: dict[int, tuple[float, float]] = field(default_factory=dict)
    width: float = 0.0
    bottom: float = 0.0


def across(sheet: Sheet, columns: Sequence[Column]) -> list[float]:
    """The axis of each column."""
    x, axes = MARGIN + 4, []
    for column in columns:
        left = max(part.symbol.left + SIDE_STEP * place for place, part in enumerate(column))
        axes.append(x + left)
        x += left + max(part.symbol.right + _label_width(part) for part in column) + _GAP
    sheet.width = x - _GAP + MARGIN
    return axes


def _label_width(part: Standing) -> float:
    if part.symbol.boxed:
        return 0.0
    return 4 + max(len(part.name) * NAME, len(part.kind) * KIND) * CHARACTER


def down(sheet: Sheet, columns: Sequence[Column], axes: Sequence[float]) -> None:
    """The level lines of each layer in tracks, and the bands between, from the top."""
    bands = [max((2 * part.symbol.half for column in columns for part in column if part.band == band), default=0.0)
             for band in range(max(1, sheet.levels.layers))]
    extents = _extents(sheet, columns, axes)
    y = 52.0
    for layer in range(sheet.levels.layers):
        members = [net.number for net in sheet.levels.nets.values() if net.layer == layer]
        tracks = _tracks(members, extents)
        for net, track in tracks.items():
            sheet.lines[net] = y + _TRACK * track
        y += _TRACK * max(tracks.values(), default=0) + _LEAD
        for column, axis in zip(columns, axes):
            for place, part in enumerate(column):
                if part.band == layer:
                    sheet.places.append(At(part, axis, y + bands[layer] / 2, SIDE_STEP * place))
        y += bands[layer] + _LEAD + 6 if layer < sheet.levels.layers - 1 or bands[layer] else 0.0
    sheet.bottom = max([y - _LEAD, *(place.y + place.part.symbol.half for place in sheet.places)])


def _extents(sheet: Sheet, columns: Sequence[Column], axes: Sequence[float]) -> dict[int, tuple[float, float]]:
    found: dict[int, list[float]] = {}
    for column, axis in zip(columns, axes):
        for place, part in enumerate(column):
            for pin, net in part.nets.items():
                where = part.symbol.pins[pin]
                found.setdefault(net, []).append(axis + where.x - (SIDE_STEP * place if where.up is None else 0.0))
    return {net: (min(xs), max(max(xs), min(xs) + len(sheet.levels.nets[net].name) * NET * CHARACTER + 6))
            for net, xs in found.items()}


def _tracks(members: Sequence[int], extents: dict[int, tuple[float, float]]) -> dict[int, int]:
    """The left-edge rule: each net in the first track where it runs into no other."""
    ends: list[float] = []
    tracks: dict[int, int] = {}
    for net in sorted((net for net in members if net in extents), key=lambda net: extents[net]):
        start, end = extents[net]
        track = next((index for index, last in enumerate(ends) if last + 12 < start), len(ends))
        if track == len(ends):
            ends.append(end)
        ends[track] = end
        tracks[net] = track
    return tracks
