"""What there is to draw, before any coordinate: parts in their holes and which way they face, wires from where to where.

``checker.drawing.seeing`` makes it of a survey; everything else that draws starts from it.
"""

from __future__ import annotations

from msgspec import Struct

from checker.bench.model import BenchPart
from checker.seating.boards import BoardPlan, name_of
from checker.seating.model import Spot
from grammar import show_quantity
from grammar.syntax_tree import Hole, Rail, Span
from parts_library.schema import AnyEntry, Capacitor, Inductor, Led, LedGroup, Package, Potentiometer, Resistor, Zener

NOWHERE = Span(0, 0, 0, 0)


class Seen(Struct, frozen=True):
    """A part on a board: pins at spots in numeric order, those that are open, the side a face looks to as (x, y), and
    whether its mark is open. ``entry`` and ``package`` are None for a part that is unknown, whose pins are "?"."""

    name: str
    kind: str
    legs: tuple[tuple[str, Spot], ...]
    entry: AnyEntry | None = None
    package: Package | None = None
    facing: tuple[int, int] | None = None
    mark_open: bool = False
    open_pins: frozenset[str] = frozenset()


class Beside(Struct, frozen=True):
    """Something off the board: a part, or a named node."""

    name: str
    kind: str
    pins: tuple[str, ...]
    part: bool = True


class LeadPin(Struct, frozen=True, order=True):
    """The end of a wire at a thing off the board."""

    name: str
    pin: str


End = Hole | Rail | LeadPin


class Stretch(Struct, frozen=True):
    """One piece of wire between two ends; ``line`` is that of its statement."""

    line: int
    ends: tuple[End, End]
    colour: str = ""


class Bench(Struct, frozen=True):
    """Everything to draw. ``plans`` by board name; ``left_out`` says what cannot be drawn, each in a few words."""

    plans: dict[str, BoardPlan]
    parts: tuple[Seen, ...]
    beside: tuple[Beside, ...]
    stretches: tuple[Stretch, ...]
    left_out: tuple[str, ...]


def end_name(end: End) -> str:
    """An end as it is written: ``a12``, ``L+3``, ``U1.D9``, ``@middle``."""
    if isinstance(end, LeadPin):
        return f"{end.name}.{end.pin}" if end.pin else end.name
    return name_of(end)


def kind_of(part: BenchPart) -> str:
    """The value of a part or its kind, in as few characters as will do."""
    entry = part.entry
    words = " ".join(word.text for word in part.statement.words)
    if isinstance(entry, Resistor | Potentiometer) and entry.ohms is not None:
        return show_quantity(float(entry.ohms), "ohm")
    if isinstance(entry, Capacitor) and entry.farads is not None:
        return show_quantity(float(entry.farads), "F")
    if isinstance(entry, Inductor) and entry.henries is not None:
        return show_quantity(float(entry.henries), "H")
    if isinstance(entry, Zener) and entry.name.startswith("zener") and entry.voltage is not None:
        return f"{show_quantity(float(entry.voltage), 'V')} zener"
    if isinstance(entry, LedGroup):
        return entry.name
    if isinstance(entry, Led):
        return entry.colour
    return words
