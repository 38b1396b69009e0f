"""What a symbol of a diagram is, and the one for everything without a symbol of its own: a box with named pins.

Input: names of pins. Output: ``Symbol``, its shapes round (0, 0), which is the middle of its axis.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from checker.drawing.shapes import CHARACTER, Area, Shape, Words

_PIN_STEP, _PIN_SIZE = 20.0, 9.0


class PinPlace(Struct, frozen=True):
    """Where a pin leaves a symbol: ``up`` is True at its top, False at its bottom, None at its side (either will do)."""

    x: float
    y: float
    up: bool | None


class Symbol(Struct, frozen=True):
    """``left`` and ``right`` are how far it reaches from its axis, ``half`` half its height; the label goes right of it."""

    pins: dict[str, PinPlace]
    shapes: tuple[Shape, ...]
    left: float
    right: float
    half: float
    boxed: bool = False


def box_of_pins(name: str, kind: str, up: Sequence[str], down: Sequence[str], *, known: bool = True) -> Symbol:
    """A box with pins at its top and bottom, their names within, its own name in the middle."""
    count = max(len(up), len(down), 1)
    longest = [max((len(pin) for pin in side), default=0) * _PIN_SIZE * CHARACTER + 6 for side in (up, down)]
    wide = max(count * _PIN_STEP, len(name) * 10.0 * CHARACTER + 16, len(kind) * 8.0 * CHARACTER + 16)
    half = (longest[0] + longest[1] + 30) / 2
    x, top, bottom = wide / 2, -half, half
    shapes: list[Shape] = [Area(((-x, top), (x, top), (x, bottom), (-x, bottom)), width=2.0, dash="" if known else "5 3")]
    middle = top + longest[0] + 14
    shapes += [Words(0, middle - 5, name, 10, bold=True, halo=False), Words(0, middle + 6, kind, 8, halo=False)]
    pins: dict[str, PinPlace] = {}
    for side, edge, is_up in ((up, top, True), (down, bottom, False)):
        for index, pin in enumerate(side):
            place = (index - (len(side) - 1) / 2) * _PIN_STEP
            pins[pin] = PinPlace(place, edge, is_up)
            reach = len(pin) * _PIN_SIZE * CHARACTER / 2 + 3
            shapes.append(Words(place, edge + (reach if is_up else -reach), "−" if pin == "-" else pin, _PIN_SIZE, turned=True,
                                halo=False))
    return Symbol(pins, tuple(shapes), x, x, half, boxed=True)
