"""Bodies of parts with two legs, seen from above, lying between their holes or leaning beside them.

Input: the package, where the legs are, and at which leg the mark is. Output: the outline and what is seen on it. A
body has a few places where it may lie: ``checker.drawing.placing`` picks the one that hides least.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct

from checker.drawing.shapes import INK, PALE, PAPER, Area, Disc, Frame, Point, Shape, Stroke, Words, distance, frame_between

_CLEAR = 0.3
"""Holes that a body keeps from the holes of its own legs."""
_MOST_LEAN = 8.0
"""Holes between two legs up to which a body may lean to the side of both, where what is between them is taken."""
_BESIDE = 0.5
_NEAR = 0.33
"""A wire leg that has far to go runs between two rows of holes, half a hole to the side; or nearer, where two do."""


class Lie(Struct, frozen=True):
    """One place for a body: its frame (along from the first leg to the second), the legs as drawn, and how awkward it is."""

    frame: Frame
    leads: tuple[tuple[Point, ...], ...]
    awkward: float
    upright: bool = False


class Form(Struct, frozen=True):
    """A kind of body: half its length and half its width in holes, and what draws it. ``marked`` is +1 where the mark is
    toward the second leg, -1 toward the first, 0 where there is none or it is open. ``round`` bodies stand over their
    legs; a body that ``stands`` is set upright over one leg where the holes are too near for it to lie."""

    half_length: float
    half_width: float
    draw: Callable[[Frame, float, float, int], list[Shape]]
    round: bool = False
    stands: bool = False


def lies(form: Form, one: Point, other: Point) -> Iterator[Lie]:
    """The places where a body can lie, the plainest first."""
    apart = distance(one, other)
    if apart >= 2 * form.half_length + 0.3 or form.round:
        shares = (0.5,) if apart < 2 * form.half_length + 1.5 else (0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85)
        for offset in (0.0, -_BESIDE, _BESIDE, -_NEAR, _NEAR):
            if offset and apart < 2 * form.half_length + (1.2 if abs(offset) == _BESIDE else 3.0):
                continue
            for share in shares:
                if share != 0.5 and min(share, 1 - share) * apart < form.half_length + _CLEAR:
                    continue
                yield _straight(form, one, other, share, offset)
    if form.stands and apart < 2 * form.half_length + 0.3:
        for foot, other_leg in ((one, other), (other, one)):
            between = frame_between(foot, other_leg, 0.0)
            yield Lie(between, ((foot, foot), (other_leg, between.at(form.half_width, 0))), 1.0, upright=True)
    elif apart < _MOST_LEAN:
        for offset in (-1.0, 1.0, -1.6, 1.6, -2.2, 2.2):
            yield _leaning(form, one, other, offset + (0.5 if form.round else 0.0) * (1 if offset > 0 else -1))


def upright(form: Form, frame: Frame) -> list[Shape]:
    """A body set upright over one leg, the other leg coming down beside it."""
    radius = form.half_width * 20.0
    return [Disc(*frame.origin, radius), Disc(*frame.origin, radius * 0.62, fill="none", width=0.9)]


def _straight(form: Form, one: Point, other: Point, share: float, offset: float) -> Lie:
    between = frame_between(one, other, share)
    frame = Frame(between.at(0, offset), between.along, between.across)
    near, far = frame.at(-form.half_length, 0), frame.at(form.half_length, 0)
    if not offset:
        leads: tuple[tuple[Point, ...], ...] = ((one, near), (other, far))
    else:
        start, end = frame_between(one, other, 0.0), frame_between(one, other, 1.0)
        leads = ((one, start.at(0.5, offset), near), (other, end.at(-0.5, offset), far))
    return Lie(frame, leads, abs(share - 0.5) * 4 + abs(offset) * 2)


def _leaning(form: Form, one: Point, other: Point, offset: float) -> Lie:
    between = frame_between(one, other)
    frame = Frame(between.at(0, offset), between.along, between.across)
    reach = form.half_length if not form.round else form.half_length * 0.5
    return Lie(frame, ((one, frame.at(-reach, 0)), (other, frame.at(reach, 0))), 3.0 + abs(offset))


# ── along an axis ─────────────────────────────────────────────────────────────────────────────────────────────────


def _block(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [Area(frame.rectangle(-half_length, -half_width, half_length, half_width))]


def _resistor(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    waist, end = half_width * 0.78, half_length * 0.62
    outline = frame.path((-half_length, -half_width), (-end, -half_width), (-end * 0.85, -waist), (end * 0.85, -waist),
                         (end, -half_width), (half_length, -half_width), (half_length, half_width), (end, half_width),
                         (end * 0.85, waist), (-end * 0.85, waist), (-end, half_width), (-half_length, half_width))
    return [Area(outline)]


def _diode(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    shapes = _block(frame, half_length, half_width, marked)
    if marked:
        near, far = marked * half_length * 0.42, marked * half_length * 0.80
        shapes.append(Area(frame.rectangle(near, -half_width, far, half_width), fill=INK, width=1.0, name="band"))
    return shapes


def _tube(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    cap = half_length * 0.7
    return [*_block(frame, half_length, half_width, marked),
            Area(frame.rectangle(-half_length, -half_width, -cap, half_width), fill=PALE),
            Area(frame.rectangle(cap, -half_width, half_length, half_width), fill=PALE),
            Stroke(frame.path((-cap, 0), (-cap / 2, -0.12), (0, 0.12), (cap / 2, -0.12), (cap, 0)), width=1.0)]


def _blades(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [Area(frame.rectangle(-half_length, -half_width, half_length, half_width)),
            Stroke(frame.path((-half_length, 0.12), (0.35, 0.12))), Stroke(frame.path((half_length, -0.12), (-0.35, -0.12)))]


def _choke(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    turns = [Stroke(frame.path((a, -half_width), (a + 0.18, half_width)), width=1.0)
             for a in (half_length * share for share in (-0.6, -0.3, 0.0, 0.3, 0.6))]
    return [*_block(frame, half_length, half_width, marked), *turns]


# ── upright, seen from above ──────────────────────────────────────────────────────────────────────────────────────


def _circle(frame: Frame, radius: float) -> Disc:
    return Disc(*frame.origin, radius * 20.0)


def _led(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    """Round with a flat on the rim at the second leg, and the smaller lens within."""
    if not marked:
        return [_circle(frame, half_length), Disc(*frame.origin, half_length * 16.5, fill="none", width=0.8)]
    cut = 0.1
    rim = frame.arc(0, 0, half_length, half_length, cut, 1 - cut, 30)
    if marked < 0:
        rim = frame.arc(0, 0, half_length, half_length, 0.5 + cut, 1.5 - cut, 30)
    return [Area(rim), Stroke((rim[-1], rim[0]), width=4.0, name="flat"),
            Disc(*frame.origin, half_length * 15.5, fill="none", width=0.7)]


def _can(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    """A can from above; its stripe as a dark edge with a minus at the negative leg."""
    shapes: list[Shape] = [_circle(frame, half_length)]
    if marked:
        middle = 0.0 if marked > 0 else 0.5
        edge = frame.arc(0, 0, half_length, half_length, middle - 0.14, middle + 0.14, 14)
        sign = marked * half_length * 0.82
        shapes += [Area(edge, fill=INK, name="stripe"),
                   Stroke(frame.path((sign, -0.16), (sign, 0.16)), width=2.0, ink=PAPER)]
    return shapes


def _drop(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    """A tantalum drop from above, a bar and a plus at the positive leg."""
    shapes: list[Shape] = [Area(frame.arc(0, 0, half_length, half_width, 0, 1, 30)[:-1])]
    if marked:
        bar, sign = marked * half_length * 0.82, marked * half_length * 0.40
        shapes += [Stroke(frame.path((bar, -half_width * 0.5), (bar, half_width * 0.5)), width=3.0, name="plus"),
                   Words(*frame.at(sign, 0), "+", 10, bold=True, halo=False)]
    return shapes


def _disc(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [Area(frame.arc(0, 0, half_length, half_width, 0, 1, 30)[:-1])]


def _polymer(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [*_disc(frame, half_length, half_width, marked),
            Stroke(frame.path((-half_length * 0.6, half_width * 0.5), (half_length * 0.6, -half_width * 0.5)), width=1.0)]


def _light_resistor(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    track = [(-0.55 + 0.22 * step, 0.42 * (-1) ** step) for step in range(6)]
    return [_circle(frame, half_length), Stroke(frame.path(*track), width=1.2)]


def _bead(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [_circle(frame, half_length), Words(*frame.origin, "t°", 8, halo=False)]


def _buzzer(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    shapes: list[Shape] = [_circle(frame, half_length), Disc(*frame.origin, 4.0, fill=INK)]
    if marked:
        shapes.append(Words(*frame.at(marked * half_length * 0.60, 0), "+", 13, bold=True, halo=False, name="plus"))
    return shapes


def _piezo(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [_circle(frame, half_length), Disc(*frame.origin, half_length * 13.0, fill="none", width=0.9)]


def _coil(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [_circle(frame, half_length), *(Disc(*frame.origin, half_length * r, fill="none", width=0.9) for r in (7.0, 13.0))]


def _press(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [*_block(frame, half_length, half_width, marked), Disc(*frame.origin, half_width * 11.0)]


def _lever(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    return [*_block(frame, half_length, half_width, marked),
            Stroke(frame.path((-half_length * 0.6, 0), (half_length * 0.5, -half_width * 0.7)), width=2.4)]


def _crystal(frame: Frame, half_length: float, half_width: float, marked: int) -> list[Shape]:
    bow = [*frame.arc(half_length - half_width, 0, half_width, half_width, -0.25, 0.25, 10),
           *frame.arc(-half_length + half_width, 0, half_width, half_width, 0.25, 0.75, 10)]
    return [Area(tuple(bow))]


FORMS: dict[str, Form] = {
    "DO-35": Form(0.85, 0.36, _diode),
    "DO-41": Form(1.05, 0.48, _diode),
    "DO-201AD": Form(1.75, 0.75, _diode),
    "AXIAL-quarter-watt": Form(1.2, 0.46, _resistor, stands=True),
    "AXIAL-half-watt": Form(1.7, 0.6, _resistor, stands=True),
    "AXIAL-five-watt": Form(4.2, 0.9, _block),
    "AXIAL-inductor": Form(1.4, 0.6, _choke, stands=True),
    "FUSE": Form(1.8, 0.55, _tube, stands=True),
    "REED-2": Form(2.4, 0.42, _blades),
    "LED-3mm": Form(0.75, 0.75, _led, round=True),
    "LED-5mm": Form(0.95, 0.95, _led, round=True),
    "PHOTO-5mm": Form(0.95, 0.95, _led, round=True),
    "CERAMIC-DISC": Form(0.9, 0.4, _disc, round=True),
    "FILM-BOX": Form(1.4, 0.5, _block, round=True),
    "RADIAL-ELECTROLYTIC": Form(1.15, 1.15, _can, round=True),
    "TANTALUM-DROP": Form(0.95, 0.6, _drop, round=True),
    "RADIAL-inductor": Form(1.2, 1.2, _coil, round=True),
    "LDR-5mm": Form(0.95, 0.95, _light_resistor, round=True),
    "THERMISTOR-DISC": Form(0.8, 0.8, _bead, round=True),
    "BUZZER-2": Form(2.2, 2.2, _buzzer, round=True),
    "PIEZO-2": Form(2.0, 2.0, _piezo, round=True),
    "POLYFUSE": Form(1.2, 0.5, _polymer, round=True),
    "TILT-2": Form(1.0, 1.0, _piezo, round=True),
    "CRYSTAL-2": Form(1.9, 0.7, _crystal, round=True),
    "BUTTON-2": Form(1.25, 1.25, _press, round=True),
    "SWITCH-2": Form(1.4, 0.7, _lever, round=True),
}
"""Half length and half width in holes of 2.54 mm, from the usual outline of each package; from memory."""

PLAIN = Form(1.2, 0.5, _block, round=True)
