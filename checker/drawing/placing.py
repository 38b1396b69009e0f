"""Finding room: bodies where they hide least, words where they collide with nothing.

Input: what is in the way, each thing with a weight. Output: the best of the candidates that are offered. ``Crowd`` is
filled as things are placed, so the order of placing is the order of importance.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct, field

from checker.drawing.shapes import Box, Point, Words

_CELL = 40.0


class Thing(Struct, frozen=True):
    """Something in the way: what covers it costs ``weight`` for each square unit, and at least ``touch``."""

    box: Box
    weight: float
    touch: float = 0.0
    owner: str = ""


class Crowd(Struct):
    """All that is in the way, in cells so that only what is near is looked at."""

    bounds: Box
    cells: dict[tuple[int, int], list[Thing]] = field(default_factory=dict)

    def add(self, box: Box, weight: float, touch: float = 0.0, owner: str = "") -> None:
        thing = Thing(box, weight, touch, owner)
        for cell in _cells(box):
            self.cells.setdefault(cell, []).append(thing)

    def cost(self, box: Box, owner: str = "") -> float:
        """What it costs to put something there; things of the same owner are no hindrance."""
        near = {id(thing): thing for cell in _cells(box) for thing in self.cells.get(cell, ())}
        total = 0.0
        for thing in near.values():
            if owner and thing.owner == owner:
                continue
            shared = box.overlap(thing.box)
            if shared > 0:
                total += thing.touch + shared * thing.weight
        inside = (box.left >= self.bounds.left and box.right <= self.bounds.right
                  and box.top >= self.bounds.top and box.bottom <= self.bounds.bottom)
        return total if inside else total + 1e5


def _cells(box: Box) -> Iterable[tuple[int, int]]:
    for x in range(int(box.left // _CELL), int(box.right // _CELL) + 1):
        for y in range(int(box.top // _CELL), int(box.bottom // _CELL) + 1):
            yield x, y


def best_words(crowd: Crowd, candidates: Sequence[tuple[tuple[Words, ...], float]], owner: str = "") -> tuple[Words, ...]:
    """The candidate that costs least; each is some lines of text and how little it is liked."""
    return min(candidates, key=lambda one: one[1] + sum(crowd.cost(words.box.grown(1.0), owner) for words in one[0]))[0]


def settle(crowd: Crowd, words: Iterable[Words], owner: str = "") -> None:
    """Words are there now: others keep off."""
    for one in words:
        crowd.add(one.box.grown(1.0), 1.0, 40.0, owner)


def round_about(place: Point, text: str, size: float, away: float, *, bold: bool = False,
                name: str = "") -> list[tuple[tuple[Words, ...], float]]:
    """Candidates for a short word near a point: eight directions at that distance, then farther."""
    x, y = place
    found: list[tuple[tuple[Words, ...], float]] = []
    for times, dislike in ((1.0, 0.0), (1.5, 4.0), (2.1, 9.0)):
        reach = away * times
        for dx, dy, anchor, more in ((1, 0, "start", 0), (-1, 0, "end", 0), (0, -1, "middle", 1), (0, 1, "middle", 1),
                                     (0.8, -0.9, "start", 1), (0.8, 0.9, "start", 1), (-0.8, -0.9, "end", 1),
                                     (-0.8, 0.9, "end", 1)):
            gap = reach * 0.55 if anchor != "middle" else 0.0
            word = Words(x + (gap if dx > 0 else -gap if dx < 0 else 0.0), y + dy * reach, text, size, anchor, bold, name=name)
            found.append(((word,), dislike + more))
    return found


def round_box(box: Box, lines: Sequence[tuple[str, float, bool]]) -> list[tuple[tuple[Words, ...], float]]:
    """Candidates for one or two lines of words round a body: right, left, above, below, then the corners and farther."""
    found = []
    height = 11.0 * len(lines)
    for gap, dislike in ((4.0, 0.0), (12.0, 6.0), (24.0, 14.0), (40.0, 26.0), (62.0, 40.0)):
        middle_x, middle_y = box.middle
        tries = [(box.right + gap, middle_y, "start", 0.0), (box.left - gap, middle_y, "end", 0.5),
                 (middle_x, box.top - gap - height / 2, "middle", 1.0), (middle_x, box.bottom + gap + height / 2, "middle", 1.0)]
        tries += [(box.right + gap, y, "start", 1.5) for y in (box.top, box.bottom)]
        tries += [(box.left - gap, y, "end", 2.0) for y in (box.top, box.bottom)]
        tries += [(box.right, y, "start", 3.0) for y in (box.top - gap - height / 2, box.bottom + gap + height / 2)]
        tries += [(box.left, y, "end", 3.0) for y in (box.top - gap - height / 2, box.bottom + gap + height / 2)]
        for x, y, anchor, more in tries:
            start = y - height / 2 + 5.5
            words = tuple(Words(x, start + 11.0 * index, text, size, anchor, bold)
                          for index, (text, size, bold) in enumerate(lines))
            found.append((words, dislike + more))
    return found
