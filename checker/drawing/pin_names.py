"""The names of pins beside their legs, for parts with three legs or more.

Input: what is seen of a part and where its legs are. Output: words: within the body of a chip or a module, behind the legs
of a part with a face, where they hide no hole. A pin that another reading has elsewhere has a question mark.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.drawing.seen import Seen
from checker.drawing.shapes import CHARACTER, PITCH, Frame, Point, Words, box_of
from checker.drawing.standing import is_row_upright, rows_frame

_UPRIGHT = 0.7
"""An axis that runs more up and down than sideways."""


def is_upright(frame: Frame) -> bool:
    """True where a frame's along runs up or down the paper."""
    return abs(frame.along[1]) > _UPRIGHT


def pin_words(seen: Seen, places: Sequence[Point], side: int = 1) -> list[Words]:
    """The names of the pins of a part with three legs or more, inside its body where there is room."""
    form = seen.package.form if seen.package is not None else ""
    labels = [f"{pin}?" if pin in seen.open_pins else pin for pin, _ in seen.legs]
    if form == "dip" or (len(places) > 4 and seen.package is not None and seen.package.width is not None):
        return _words_in_two_rows(labels, places)
    box = box_of(places)
    middle = box.middle
    if form in ("to92", "to220"):
        return [_beside_leg(label, place, seen.facing, box.right - box.left) for label, place in zip(labels, places)]
    if form == "button":
        return [Words(x + (15 if x < middle[0] else -15), y + (10 if y < middle[1] else -10), label, 8, halo=False)
                for label, (x, y) in zip(labels, places)]
    if is_row_upright(places):
        return [Words(x + 7 * side, y, label, 8, "start" if side > 0 else "end", halo=False)
                for label, (x, y) in zip(labels, places)]
    return [Words(x, y + side * (7 + len(label) * 0.301 * 8), label, 8, turned=True, halo=False)
            for label, (x, y) in zip(labels, places)]


def _beside_leg(label: str, place: Point, facing: tuple[int, int] | None, wide: float) -> Words:
    """A pin's name behind its leg, away from the face."""
    x, y = facing if facing is not None else (0, -1) if wide > PITCH * 1.5 else (-1, 0)
    anchor = "middle" if y else "start" if x < 0 else "end"
    gap = 10.5 if y else 7.2
    size = 9.0 if y else min(9.0, 14.0 / (max(1, len(label)) * CHARACTER))
    return Words(place[0] - x * gap, place[1] - y * gap, label, max(size, 7.0), anchor, bold=True)


def _words_in_two_rows(labels: Sequence[str], places: Sequence[Point]) -> list[Words]:
    frame, _, half_width = rows_frame(places)
    room = (half_width - 0.48) * PITCH
    words = []
    for label, (x, y) in zip(labels, places):
        size = min(8.0, room / max(1.0, len(label) * CHARACTER))
        if is_upright(frame):
            right = x < frame.origin[0]
            words.append(Words(x + (9 if right else -9), y, label, size, "start" if right else "end", halo=False))
        else:
            down = y < frame.origin[1]
            words.append(Words(x, y + (1 if down else -1) * (9 + len(label) * 0.3 * size), label, size, turned=True, halo=False))
    return words
