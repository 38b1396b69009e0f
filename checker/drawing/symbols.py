"""Symbols of a circuit diagram, drawn by ourselves after the ideas of IEC 60617: a box for a resistor, a triangle with a
bar for a diode, a circle for a motor or a lamp.

Input: a part. Output: ``Symbol``: its pins with their places, its size and its shapes round (0, 0), which is the middle
of its axis. The axis runs down the paper. What has no symbol of its own is a box with named pins (``signs``).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from checker.bench.model import BenchPart
from checker.drawing.shapes import INK, PAPER, Area, Disc, Frame, Point, Shape, Stroke, Words
from checker.drawing.signs import PinPlace, Symbol
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Diode,
    Fuse,
    Inductor,
    Led,
    Load,
    Mosfet,
    Potentiometer,
    Resistor,
    SensorResistor,
    SupplyKind,
    Switch,
    Zener,
)

HALF = 24.0
"""Half the height of a symbol with two pins, in units."""
_UP = Frame((0.0, 0.0), (0.05, 0.0), (0.0, 0.05))
"""A frame in which a hole is one unit: lengths as they are."""


def axis_of(part: BenchPart) -> tuple[str, str] | None:
    """The two pins between which a part conducts, or None for one that is drawn as a box with pins."""
    entry = part.entry
    for kind, axis in ((Bipolar, ("C", "E")), (Mosfet, ("D", "S")), (Potentiometer, ("1", "3"))):
        if isinstance(entry, kind):
            return axis
    if len(part.pins) == 2 and _drawer(entry) is not None:
        return part.pins[0], part.pins[1]
    return None


def symbol_of(part: BenchPart, top: str) -> Symbol:
    """The symbol of a part with an axis, ``top`` being the pin at its upper end."""
    axis = axis_of(part)
    assert axis is not None
    entry = part.entry
    bottom = axis[1] if top == axis[0] else axis[0]
    pins = {top: PinPlace(0, -HALF, True), bottom: PinPlace(0, HALF, False)}
    turned = -1.0 if top != axis[0] else 1.0
    if isinstance(entry, Bipolar | Mosfet):
        control = "B" if isinstance(entry, Bipolar) else "G"
        shapes: list[Shape] = _bipolar(entry, turned) if isinstance(entry, Bipolar) else _mosfet(entry, turned)
        if control in part.pins:
            pins[control] = PinPlace(-24, 0, None)
        return Symbol(pins, tuple(shapes), 30, 16, HALF)
    if isinstance(entry, Potentiometer):
        wiper: list[Shape] = [Stroke(((-24, 0), (-8, 0)), width=1.6),
                              Area(((-7, 0), (-13, -3.5), (-13, 3.5)), fill=INK, width=0.5)]
        return Symbol({**pins, "W": PinPlace(-24, 0, None)}, tuple(_box_resistor(entry, 1.0) + wiper), 30, 12, HALF)
    draw = _drawer(entry)
    assert draw is not None
    return Symbol(pins, tuple(draw(entry, turned)), 18, 18, HALF)


# ── two pins ──────────────────────────────────────────────────────────────────────────────────────────────────────

Draw = Callable[[AnyEntry | None, float], Sequence[Shape]]


def _drawer(entry: AnyEntry | None) -> Draw | None:
    for kind, draw in _DRAWERS:
        if isinstance(entry, kind):
            return draw
    if isinstance(entry, Load):
        return _LOADS[entry.type]
    return None


def _leads(half: float) -> list[Shape]:
    return [Stroke(((0, -HALF), (0, -half)), width=1.6), Stroke(((0, half), (0, HALF)), width=1.6)]


def _rectangle(x: float, y: float, fill: str = PAPER) -> Area:
    return Area(((-x, -y), (x, -y), (x, y), (-x, y)), fill=fill, width=1.8)


def _box_resistor(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_leads(16), _rectangle(6.5, 16)]


def _sensor(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_box_resistor(entry, turned), Stroke(((-13, 12), (13, -12)), width=1.2), Stroke(((-13, 12), (-17, 12)), width=1.2)]


def _fuse(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_leads(16), _rectangle(6.5, 16), Stroke(((0, -16), (0, 16)), width=1.2)]


def _capacitor(entry: AnyEntry | None, turned: float) -> list[Shape]:
    shapes = [*_leads(4), Stroke(((-12, -4), (12, -4)), width=2.6), Stroke(((-12, 4), (12, 4)), width=2.6)]
    if isinstance(entry, Capacitor) and entry.polarised:
        shapes.append(Words(-10, -11 * turned, "+", 11, bold=True, halo=False))
    return shapes


def _coil(entry: AnyEntry | None, turned: float) -> list[Shape]:
    bows: list[Point] = []
    for y in (-12.0, -4.0, 4.0, 12.0):
        bows += _UP.arc(0, y, 5.5, 4.0, -0.25, 0.25, 10)
    return [Stroke(((0, -HALF), (0, -16)), width=1.6), Stroke(tuple(bows), width=1.8), Stroke(((0, 16), (0, HALF)), width=1.6)]


def _triangle(turned: float) -> list[Shape]:
    """Anode at the top where ``turned`` is 1: the arrow points to the bar, which is the cathode."""
    return [*_leads(8), Area(((-9, -8 * turned), (9, -8 * turned), (0, 8 * turned)), width=1.8),
            Stroke(((-9, 8 * turned), (9, 8 * turned)), width=2.6, name="cathode")]


def _diode(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return _triangle(turned)


def _zener(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_triangle(turned), Stroke(((-9, 8 * turned), (-9, 3 * turned)), width=2.2)]


def _led(entry: AnyEntry | None, turned: float) -> list[Shape]:
    rays: list[Shape] = []
    for y in (-4.0, 3.0):
        rays += [Stroke(((-11, y), (-18, y - 6)), width=1.2),
                 Area(((-18.5, y - 6.5), (-14.2, y - 5.6), (-17, y - 2.4)), fill=INK, width=0.4)]
    return [*_triangle(turned), *rays]


def _switch(entry: AnyEntry | None, turned: float) -> list[Shape]:
    closed = isinstance(entry, Switch) and any(not c.when or entry.positions[0] in c.when for c in entry.contacts)
    lever = Stroke(((0, 9), (-1 if closed else -9, -9)), width=2.0)
    shapes: list[Shape] = [*_leads(9), Disc(0, -9, 2.0, fill=PAPER), Disc(0, 9, 2.0, fill=INK), lever]
    if isinstance(entry, Switch) and entry.momentary:
        shapes += [Stroke(((-5, 0), (-14, 0)), width=1.2, dash="3 2"), Stroke(((-14, -5), (-14, 5)), width=2.0)]
    return shapes


def _lettered(letter: str) -> Draw:
    def draw(entry: AnyEntry | None, turned: float) -> list[Shape]:
        return [*_leads(14), Disc(0, 0, 14, width=1.8), Words(0, 0, letter, 13, bold=True, halo=False)]
    return draw


def _lamp(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_leads(13), Disc(0, 0, 13, width=1.8), Stroke(((-9.2, -9.2), (9.2, 9.2)), width=1.4),
            Stroke(((-9.2, 9.2), (9.2, -9.2)), width=1.4)]


def _sounder(entry: AnyEntry | None, turned: float) -> list[Shape]:
    bow = _UP.arc(-1, 0, 15, 13, 0.25, 0.75, 18)
    shapes: list[Shape] = [Area(bow, width=1.8), Stroke(((0, -HALF), (0, -7), (-1, -7)), width=1.6),
                           Stroke(((0, HALF), (0, 7), (-1, 7)), width=1.6)]
    if isinstance(entry, Load) and entry.one_way:
        shapes.append(Words(7, -17 * turned, "+", 11, bold=True, halo=False))
    return shapes


def _heater(entry: AnyEntry | None, turned: float) -> list[Shape]:
    return [*_leads(16), _rectangle(6.5, 16), *(Stroke(((-6.5, y), (6.5, y)), width=1.2) for y in (-8, 0, 8))]


def _magnet(entry: AnyEntry | None, turned: float) -> list[Shape]:
    """A coil that pulls: a box with a slanted line."""
    return [*_leads(10), _rectangle(14, 10), Stroke(((-14, 10), (-4, -10)), width=1.2)]


def _cells(entry: AnyEntry | None, turned: float) -> list[Shape]:
    """A battery: the longer line is plus."""
    return [*_leads(9), *(Stroke(((-half, y * turned), (half, y * turned)), width=width)
                          for half, y, width in ((14, -9, 1.8), (7, -3, 3.4), (14, 3, 1.8), (7, 9, 3.4))),
            Words(-15, -14 * turned, "+", 12, bold=True, halo=False)]


_DRAWERS: tuple[tuple[type, Draw], ...] = (
    (Resistor, _box_resistor), (SensorResistor, _sensor), (Fuse, _fuse), (Capacitor, _capacitor), (Inductor, _coil),
    (Diode, _diode), (Zener, _zener), (Led, _led), (Switch, _switch), (SupplyKind, _cells))
_LOADS: dict[str, Draw] = {"motor": _lettered("M"), "solenoid": _magnet, "lamp": _lamp, "buzzer": _sounder,
                           "speaker": _sounder, "heater": _heater}

# ── transistors ───────────────────────────────────────────────────────────────────────────────────────────────────


def _bipolar(entry: Bipolar, turned: float) -> list[Shape]:
    """Base at the left; the arrow is at the emitter, outward for NPN. ``turned`` is 1 with the collector at the top."""
    bar = Stroke(((-8, -11), (-8, 11)), width=3.0)
    emitter = ((-8, 5 * turned), (0, 14 * turned), (0, HALF * turned))
    collector = ((-8, -5 * turned), (0, -14 * turned), (0, -HALF * turned))
    tip, tail = ((-1, 13 * turned), (-6, 7.2 * turned)) if entry.polarity == "npn" else ((-7, 6.2 * turned), (-2, 12 * turned))
    shapes: list[Shape] = [Disc(-3, 0, 16, width=1.2), Stroke(emitter, width=1.6), Stroke(collector, width=1.6), bar,
                           _arrow(tail, tip)]
    if entry.photo:
        return [*shapes, *(_arrow((-22, y - 8), (-14, y - 3)) for y in (-6.0, 1.0))]
    return [*shapes, Stroke(((-24, 0), (-8, 0)), width=1.6)]


def _mosfet(entry: Mosfet, turned: float) -> list[Shape]:
    """Gate at the left, three pieces of channel, the arrow at the middle one."""
    drain, source = -10 * turned, 10 * turned
    pieces = [Stroke(((-6, y - 4), (-6, y + 4)), width=2.4) for y in (-10, 0, 10)]
    arrow = ((2, 0), (-5, 0)) if entry.polarity == "n" else ((-5, 0), (2, 0))
    return [Disc(-3, 0, 18, width=1.2), *pieces, Stroke(((-11, -12), (-11, 12)), width=2.0),
            Stroke(((-24, 0), (-11, 0)), width=1.6),
            Stroke(((-6, drain), (0, drain), (0, -HALF * turned)), width=1.6),
            Stroke(((-6, source), (0, source), (0, HALF * turned)), width=1.6),
            Stroke(((-6, 0), (0, 0), (0, source)), width=1.2), _arrow(*arrow)]


def _arrow(tail: Point, tip: Point) -> Area:
    x, y = tip[0] - tail[0], tip[1] - tail[1]
    length = (x * x + y * y) ** 0.5
    x, y = x / length, y / length
    back = (tip[0] - 6 * x, tip[1] - 6 * y)
    return Area((tip, (back[0] - 3 * y, back[1] + 3 * x), (back[0] + 3 * y, back[1] - 3 * x)), fill=INK, width=0.4)
