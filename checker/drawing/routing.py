"""Jumpers that hide no holes: each runs between the rows and between the columns, with at most a few bends.

Input: the two ends, the lanes, and what is in the way. Output: the points of a line. A wire leaves its hole to the lane
above or below, runs along it, up or down another lane, and along the lane of its other end. All such ways are priced
at once; the cheapest is taken, and a later wire in the same lane keeps to its own track.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct, field
from numpy.typing import NDArray

from checker.drawing.shapes import PITCH, Box, Point

Floats = NDArray[np.float64]

_TRACKS = (0.0, -4.5, 4.5)
_BEND, _CROSSING, _SHARED = 12.0, 9.0, 45.0
_STUB = 6.0


class Terminal(Struct, frozen=True):
    """An end of a wire: a hole, from which it goes up or down first, or a pin, from which it goes straight out."""

    place: Point
    hole: bool = True


class Router(Struct):
    """What is on the paper already. ``obstacles`` are boxes with what a unit of length over them costs; ``upright`` the x
    of all tracks that run up and down, each with how little it is liked; ``sideways`` and ``down`` the pieces of wires that
    are laid, as (fixed, low, high)."""

    obstacles: list[tuple[Box, float]]
    upright: list[tuple[float, float]]
    sideways: list[tuple[float, float, float]] = field(default_factory=list)
    down: list[tuple[float, float, float]] = field(default_factory=list)

    def keep_free(self, pin: Point, outward: float) -> None:
        """Nothing else is to run where a wire leaves a pin; ``outward`` is where it goes, to the right or to the left."""
        self._note(self.sideways, pin[1], pin[0], pin[0] + outward)

    def lay(self, one: Terminal, other: Terminal, straight: bool) -> tuple[Point, ...]:
        """The points of a wire, which is then in the way of later ones."""
        if straight:
            return (one.place, other.place)
        lane, y1, y2 = self._cheapest(one, other)
        return self._drawn(one, other, lane, y1, y2)

    def _cheapest(self, one: Terminal, other: Terminal) -> tuple[float, float, float]:
        xa, xb = one.place[0], other.place[0]
        low, high = min(xa, xb) - 4 * PITCH, max(xa, xb) + 4 * PITCH
        dislike = dict(self.upright)
        lanes = [x for x in dislike if low <= x <= high] or list(dislike) or [(xa + xb) / 2]
        tries = [(x, y1, y2) for x in lanes for y1 in _exits(one) for y2 in _exits(other)]
        x, y1, y2 = (np.array(column) for column in zip(*tries))
        own = np.array([dislike.get(lane, 0.0) for lane, _, _ in tries])
        pieces_h = ((y1, np.minimum(xa, x), np.maximum(xa, x)), (y2, np.minimum(xb, x), np.maximum(xb, x)))
        piece_v = (x, np.minimum(y1, y2), np.maximum(y1, y2))
        cost = sum(high_ - low_ for _, low_, high_ in (*pieces_h, piece_v)) + _BEND * (y1 != y2) + own
        for piece, terminal in zip(pieces_h, (one, other)):
            if not terminal.hole:
                cost = cost + _along(piece, self.sideways) * _SHARED
            cost = cost + self._over(piece, sideways=True) + _meets(piece, self.down) * _CROSSING
            cost = cost + _shares(piece, self.sideways) * _SHARED
        cost = cost + self._over(piece_v, sideways=False) + _meets(piece_v, self.sideways) * _CROSSING
        cost = cost + _along(piece_v, self.down) * _SHARED
        best = int(np.argmin(cost))
        return tries[best]

    def _over(self, piece: tuple[Floats, Floats, Floats], *, sideways: bool) -> Floats:
        """What the pieces cost for what they run over."""
        fixed, low, high = (column[:, None] for column in piece)
        if not self.obstacles:
            return np.zeros(len(piece[0]))
        boxes = np.array([(b.left, b.top, b.right, b.bottom, w) for b, w in self.obstacles]).T
        left, top, right, bottom, weight = boxes
        start, end, near, far = (left, right, top, bottom) if sideways else (top, bottom, left, right)
        length = np.clip(np.minimum(high, end) - np.maximum(low, start), 0.0, None)
        return np.asarray((length * weight * ((fixed > near) & (fixed < far))).sum(axis=1))

    # ── tracks ────────────────────────────────────────────────────────────────────────────────────────────────────

    def _drawn(self, one: Terminal, other: Terminal, lane: float, y1: float, y2: float) -> tuple[Point, ...]:
        xa, xb = one.place[0], other.place[0]
        if y1 == y2:
            tracks = (0.0,) if not (one.hole and other.hole) else _TRACKS
            y1 = y2 = self._track(self.sideways, y1, xa, xb, tracks)
            self._note(self.sideways, y1, xa, xb)
            middle: list[Point] = []
            if one.hole and other.hole and abs(xa - xb) < 2 * _STUB:
                middle = [(lane, y1)]
            return _tidy([one.place, *_out(one, xb, y1), *middle, *_out(other, xa, y2), other.place])
        x = lane
        y1 = self._track(self.sideways, y1, xa, x, _TRACKS if one.hole else (0.0,))
        y2 = self._track(self.sideways, y2, xb, x, _TRACKS if other.hole else (0.0,))
        self._note(self.down, x, y1, y2)
        self._note(self.sideways, y1, xa, x)
        self._note(self.sideways, y2, xb, x)
        return _tidy([one.place, *_out(one, x, y1), (x, y1), (x, y2), *_out(other, x, y2), other.place])

    def _track(self, laid: Sequence[tuple[float, float, float]], lane: float, start: float, end: float,
               tracks: Sequence[float]) -> float:
        """The first track of a lane that no other wire has along this stretch."""
        low, high = min(start, end) - 3, max(start, end) + 3
        return next((lane + t for t in tracks
                     if not any(abs(fixed - lane - t) < 4.2 and low < b and a < high for fixed, a, b in laid)), lane + tracks[0])

    def _note(self, laid: list[tuple[float, float, float]], fixed: float, start: float, end: float) -> None:
        if abs(start - end) > 1:
            laid.append((fixed, min(start, end), max(start, end)))


def _exits(terminal: Terminal) -> tuple[float, ...]:
    y = terminal.place[1]
    return (y - PITCH / 2, y + PITCH / 2) if terminal.hole else (y,)


def _out(terminal: Terminal, toward: float, y: float) -> list[Point]:
    """The point at which a wire from a hole has come to its lane, a little to the side."""
    if not terminal.hole:
        return []
    x = terminal.place[0]
    step = max(-_STUB, min(_STUB, toward - x))
    return [(x + step, y)]


def _tidy(points: list[Point]) -> tuple[Point, ...]:
    """Without points twice."""
    found = points[:1]
    for point in points[1:]:
        if abs(point[0] - found[-1][0]) + abs(point[1] - found[-1][1]) > 0.5:
            found.append(point)
    return tuple(found)


def _meets(piece: tuple[Floats, Floats, Floats], laid: Sequence[tuple[float, float, float]]) -> Floats:
    """How many laid pieces of the other direction each piece crosses."""
    if not laid:
        return np.zeros(len(piece[0]))
    fixed, low, high = (column[:, None] for column in piece)
    other, start, end = np.array(laid).T
    return np.asarray(((low < other) & (other < high) & (start < fixed) & (fixed < end)).sum(axis=1))


def _along(piece: tuple[Floats, Floats, Floats], laid: Sequence[tuple[float, float, float]]) -> Floats:
    """How many laid pieces each piece would run upon."""
    if not laid:
        return np.zeros(len(piece[0]))
    fixed, low, high = (column[:, None] for column in piece)
    other, start, end = np.array(laid).T
    return np.asarray(((np.abs(fixed - other) < 4.2) & (low - 4 < end) & (start < high + 4)).sum(axis=1) * 2.0)


def _shares(piece: tuple[Floats, Floats, Floats], laid: Sequence[tuple[float, float, float]]) -> Floats:
    """How crowded the lane of each piece is: nothing for the first two companions, more for each further one."""
    if not laid:
        return np.zeros(len(piece[0]))
    fixed, low, high = (column[:, None] for column in piece)
    other, start, end = np.array(laid).T
    beside = ((np.abs(fixed - other) < 8) & (low - 2 < end) & (start < high + 2)).sum(axis=1)
    return np.asarray(beside * 0.1 + np.clip(beside - 2, 0, None))
