"""Bodies of parts with three legs or more, seen from above: faces, two rows, rows of pins, buttons, digits.

Input: what is seen of the part (``Seen``) and where its legs are. Output: shapes. Frames look along the part: for
two rows from pin 1 down its side, so that everything on the body turns with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from checker.cards.marks import SEVEN_SEGMENTS
from checker.drawing.seen import Seen
from checker.drawing.shapes import CHARACTER, INK, PALE, PITCH, Area, Box, Disc, Frame, Point, Shape, Stroke, box_of
from parts_library.schema import Switch


def standing(seen: Seen, places: Sequence[Point], side: int = 1) -> list[Shape]:
    """The body of a part with three legs or more; ``side`` is where a row of pins has its names, 1 or -1."""
    form = seen.package.form if seen.package is not None else ""
    name = seen.package.name if seen.package is not None else ""
    if form in ("to92", "to220"):
        return _faced(seen, places, form)
    if name == SEVEN_SEGMENTS and not seen.mark_open:
        return _digit(seen, places)
    if form == "dip" or (seen.package is not None and seen.package.width is not None and len(places) > 4):
        return _two_rows(seen, places)
    if form == "button":
        return _button(seen, places)
    return _in_a_row(name, seen, places, side)


# ── parts with a face ─────────────────────────────────────────────────────────────────────────────────────────────


def _faced(seen: Seen, places: Sequence[Point], form: str) -> list[Shape]:
    """Along is toward the face, across is along the legs."""
    if seen.facing is None:
        return _faceless(places)
    x, y = seen.facing
    middle = box_of(places).middle
    line = (median(place[0] for place in places), median(place[1] for place in places))
    frame = Frame((middle[0] if y else line[0], middle[1] if x else line[1]), (float(x), float(y)), (float(y), -float(x)))
    ordered = sorted(places, key=lambda place: place[0] * y - place[1] * x)
    legs = [Stroke((place, frame.at(0.0, index - 1.0)), width=2.2, name="leg") for index, place in enumerate(ordered)]
    return [*legs, *(_half_round(frame) if form == "to92" else _tabbed(seen, frame))]


def _faceless(places: Sequence[Point]) -> list[Shape]:
    box = box_of(places).grown(PITCH * 0.55)
    return [Area(((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)), dash="5 3")]


def _half_round(frame: Frame) -> list[Shape]:
    """A TO-92: flat toward the face, round behind."""
    flat, half, back = 0.58, 1.37, 1.2
    outline = (frame.at(flat, half), *frame.arc(0.0, 0.0, back, half, 0.25, 0.75, 24), frame.at(flat, -half))
    return [Area(outline), Stroke(frame.path((flat, -half), (flat, half)), width=4.6, name="flat")]


def _tabbed(seen: Seen, frame: Frame) -> list[Shape]:
    """A TO-220: printed side toward the face, the tab as a thick line behind. Without a tab the front has the name."""
    assert seen.package is not None
    half, front, back = 1.8, 0.42, -0.9
    if seen.package.name == "IR-RECEIVER-3":
        dome = frame.arc(front, 0, 0.5, 0.75, -0.25, 0.25, 16)
        return [Area((*frame.rectangle(back, -half, front, half)[:2], *dome, *frame.rectangle(back, -half, front, half)[2:]),
                     name="front")]
    body: list[Shape] = [Area(frame.rectangle(back, -half, front, half)),
                         Stroke(frame.path((front - 0.16, -half + 0.2), (front - 0.16, half - 0.2)), width=0.9, name="front")]
    if "tab" in seen.package.marks:
        body.append(Stroke(frame.path((back - 0.13, -half - 0.25), (back - 0.13, half + 0.25)), width=7.0, name="tab"))
    return body


# ── two rows ──────────────────────────────────────────────────────────────────────────────────────────────────────


def rows_frame(places: Sequence[Point]) -> tuple[Frame, float, float]:
    """The frame of two rows, its origin the middle of the body: along runs from pin 1 down its row, across to the other
    row; with it half the length between first and last leg, and half the distance of the rows."""
    half = len(places) // 2
    one, end, last = places[0], places[half - 1], places[-1]
    along = _unit(one, end) if half > 1 else _turned(_unit(one, last))
    across = _unit(one, last)
    middle = box_of(places).middle
    return Frame(middle, along, across), _length(one, end) / 2, _length(one, last) / 2


def _unit(one: Point, other: Point) -> Point:
    length = ((other[0] - one[0]) ** 2 + (other[1] - one[1]) ** 2) ** 0.5 or 1.0
    return (other[0] - one[0]) / length, (other[1] - one[1]) / length


def _turned(vector: Point) -> Point:
    return -vector[1], vector[0]


def _length(one: Point, other: Point) -> float:
    return float(((other[0] - one[0]) ** 2 + (other[1] - one[1]) ** 2) ** 0.5) / PITCH


def _two_rows(seen: Seen, places: Sequence[Point]) -> list[Shape]:
    frame, half_length, half_width = rows_frame(places)
    length, width = half_length + 0.62, half_width - 0.28
    body = list(frame.rectangle(-length, -width, length, width))
    name = seen.package.name if seen.package is not None else ""
    if name == "BAR-20" and not seen.mark_open:
        body = [*frame.path((-length + 0.5, -width), (-length, -width + 0.5)), frame.at(-length, width),
                frame.at(length, width), frame.at(length, -width)]
    shapes: list[Shape] = [Area(tuple(body), width=2.0)]
    if not seen.mark_open:
        shapes += _pin_one(frame, length, width, name, "notch" in (seen.package.marks if seen.package else ()))
    if name == "BAR-20":
        step = 2 * half_length / (len(places) // 2 - 1)
        shapes += [Area(frame.rectangle(a - 0.28, -0.35, a + 0.28, 0.35), fill=PALE, width=0.9)
                   for a in (-half_length + step * i for i in range(len(places) // 2))]
    return [*(_stub(frame, place, width) for place in places), *shapes]


def _stub(frame: Frame, place: Point, width: float) -> Stroke:
    """A leg from the body to its hole."""
    x, y = (place[0] - frame.origin[0]) / PITCH, (place[1] - frame.origin[1]) / PITCH
    a = x * frame.along[0] + y * frame.along[1]
    b = x * frame.across[0] + y * frame.across[1]
    return Stroke((place, frame.at(a, width if b > 0 else -width)), width=3.0, name="leg")


def _pin_one(frame: Frame, length: float, width: float, name: str, notched: bool) -> list[Shape]:
    """The notch at the end of pin 1, and a dot at pin 1."""
    dot = frame.at(-length + 0.2, -width + 0.2)
    shapes: list[Shape] = [Disc(*dot, 2.3, fill=INK, name="dot")]
    if notched and name != "BAR-20":
        bow = frame.arc(-length, 0, 0.42, 0.42, -0.25, 0.25, 14)
        shapes.append(Area(bow, fill=INK, name="notch"))
    return shapes


def _digit(seen: Seen, places: Sequence[Point]) -> list[Shape]:
    """Pins 1 to 5 run below the digit from left to right, so the digit's right is along and its top is across."""
    frame, half_length, half_width = rows_frame(places)
    length, width = max(half_length + 0.5, 2.4), half_width - 0.28
    shapes: list[Shape] = [*(_stub(frame, place, width) for place in places),
                           Area(frame.rectangle(-length, -width, length, width), width=2.0)]
    half, top = 0.9, width - 1.0
    for one, other in (((-half, top), (half, top)), ((-half, 0), (half, 0)), ((-half, -top), (half, -top)),
                       ((-half, 0), (-half, top)), ((half, 0), (half, top)), ((-half, -top), (-half, 0)),
                       ((half, -top), (half, 0))):
        shapes.append(Stroke(frame.path(one, other), width=3.4, ink="#777777"))
    return [*shapes, Disc(*frame.at(half + 0.55, -top), 3.0, fill="#777777", name="point"),
            Disc(*frame.at(-length + 0.26, -width + 0.26), 2.6, fill=INK, name="dot")]


# ── buttons ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _button(seen: Seen, places: Sequence[Point]) -> list[Shape]:
    """A push button on four legs; a thin line joins the legs that are always joined."""
    box = box_of(places)
    left, right = box.left + PITCH * 0.3, box.right - PITCH * 0.3
    top, bottom = box.top - PITCH * 0.35, box.bottom + PITCH * 0.35
    shapes: list[Shape] = [Stroke(((x, y), (max(left, min(right, x)), y)), width=3.0, name="leg") for x, y in places]
    shapes.append(Area(((left, top), (right, top), (right, bottom), (left, bottom)), width=2.0))
    at = dict(zip((pin for pin, _ in seen.legs), places))
    contacts = seen.entry.contacts if isinstance(seen.entry, Switch) else ()
    for contact in contacts:
        if not contact.when:
            one, other = (at[pin] for pin in contact.pins)
            inside = [(max(left + 5, min(right - 5, x)), y) for x, y in (one, other)]
            shapes.append(Stroke(tuple(inside), width=1.4, name="joined"))
    radius = min(right - left, bottom - top) * 0.27
    return [*shapes, Disc(*box.middle, radius, width=2.0)]


# ── pins in a row, and all that is left ───────────────────────────────────────────────────────────────────────────


def _in_a_row(name: str, seen: Seen, places: Sequence[Point], side: int) -> list[Shape]:
    box = box_of(places)
    if name.startswith(("SIP", "REED-RELAY", "RELAY", "SLIDE-SWITCH")):
        return _row_of_pins(seen, places, side)
    square = {"POT-3": 0.85, "TRIMMER-3": 0.95, "LED-RGB-5mm": 1.6, "RELAY-5": 0.9}.get(name, 0.62)
    middle = box.middle
    half_x = max((box.right - box.left) / 2 + PITCH * 0.62, PITCH * square)
    half_y = max((box.bottom - box.top) / 2 + PITCH * 0.62, PITCH * square)
    corners = ((middle[0] - half_x, middle[1] - half_y), (middle[0] + half_x, middle[1] - half_y),
               (middle[0] + half_x, middle[1] + half_y), (middle[0] - half_x, middle[1] + half_y))
    dash = "5 3" if seen.entry is None else ""
    shapes: list[Shape] = [Area(corners, width=2.0, dash=dash)]
    if name == "POT-3":
        shapes += [Disc(*middle, PITCH * 0.62), Stroke((middle, (middle[0] - PITCH * 0.43, middle[1] - PITCH * 0.43)), width=2.6)]
    elif name == "TRIMMER-3":
        shapes += [Disc(*middle, PITCH * 0.5),
                   Stroke(((middle[0] - 6, middle[1] - 6), (middle[0] + 6, middle[1] + 6)), width=3.0)]
    elif name == "LED-RGB-5mm":
        shapes = [Area(_oval(middle, half_x, half_y), width=2.0)]
    return shapes


def _row_of_pins(seen: Seen, places: Sequence[Point], side: int) -> list[Shape]:
    """A board or block with its pins along one edge and their names beside them."""
    box = box_of(places)
    room = 12.0 + max(len(pin) for pin, _ in seen.legs) * 8 * CHARACTER
    near, far = PITCH * 0.5, PITCH * 0.62
    if is_row_upright(places):
        left, right = (box.left - near, box.right + room) if side > 0 else (box.left - room, box.right + near)
        edge = Box(left, box.top - far, right, box.bottom + far)
    else:
        top, bottom = (box.top - near, box.bottom + room) if side > 0 else (box.top - room, box.bottom + near)
        edge = Box(box.left - far, top, box.right + far, bottom)
    corners = ((edge.left, edge.top), (edge.right, edge.top), (edge.right, edge.bottom), (edge.left, edge.bottom))
    shapes: list[Shape] = [Area(corners, width=2.0)]
    if seen.package is not None and seen.package.name == "SLIDE-SWITCH-3":
        shapes.append(Area(_square(places[0], places[1]), fill=PALE))
    if seen.package is not None and "dot" in seen.package.marks and not seen.mark_open:
        x, y = places[0]
        place = (x + 7 * side, y - 8) if is_row_upright(places) else (x - 8, y + 7 * side)
        shapes.append(Disc(*place, 2.3, fill=INK, name="dot"))
    return shapes


def is_row_upright(places: Sequence[Point]) -> bool:
    """True for legs that follow each other down the paper rather than across it."""
    box = box_of(places)
    return box.bottom - box.top >= box.right - box.left


def _oval(middle: Point, half_x: float, half_y: float) -> tuple[Point, ...]:
    return Frame(middle, (1.0, 0.0), (0.0, 1.0)).arc(0, 0, half_x / PITCH, half_y / PITCH, 0, 1, 36)[:-1]


def _square(one: Point, other: Point) -> tuple[Point, ...]:
    box = box_of((one, other)).grown(PITCH * 0.36)
    return (box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)
