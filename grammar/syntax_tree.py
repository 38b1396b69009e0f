"""The syntax tree of a wiring list: what the reader understood, each node with its span in the text.

Input of the rest of the project, output of ``grammar.reader.read``. The nodes are frozen and know nothing of parts,
boards or electricity: whether ``PN2222A`` exists, or ``a75`` lies on the board, is not asked here.
"""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct


class Span(Struct, frozen=True, order=True):
    """A stretch of the text. Lines and columns count from 1; the end is exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int


class Word(Struct, frozen=True):
    """A word of the list that is read later: a kind (``PN2222A``, ``led``), a value (``4k7``), a name or a pin."""

    text: str
    span: Span


# ── points: where something goes ──────────────────────────────────────────────────────────────────────────────────


class Hole(Struct, frozen=True):
    """One hole of a board, ``a12``. ``column`` is a letter a-j in lower case; ``board`` is None for the only board."""

    column: str
    row: int
    text: str
    span: Span
    board: str | None = None


class Rail(Struct, frozen=True):
    """A rail, ``L+`` or ``L+12``. ``side`` is "L" or "R", ``sign`` "+" or "-"; ``row`` is None where none was said."""

    side: str
    sign: str
    row: int | None
    text: str
    span: Span
    board: str | None = None


class Pin(Struct, frozen=True):
    """A point on a part, ``U1.D9`` or ``LED1 +``."""

    part: str
    pin: str
    text: str
    span: Span


class Node(Struct, frozen=True):
    """A named node, ``@gate``; ``name`` is without the sign and in lower case."""

    name: str
    text: str
    span: Span


class Bare(Struct, frozen=True):
    """A lone word where a point is due (``GND``, or the name of a declared part): understood or asked back later."""

    text: str
    span: Span


Point: TypeAlias = Hole | Rail | Pin | Node | Bare

# ── clauses of a part ─────────────────────────────────────────────────────────────────────────────────────────────


class PlacedIn(Struct, frozen=True):
    """``in c10 c11 c12``: the points where the legs are, in the order written. ``turned`` is a button with four legs,
    turned by a quarter."""

    points: tuple[Point, ...]
    span: Span
    turned: bool = False


class PlacedAcross(Struct, frozen=True):
    """``across 10-13 c-h``: straddling the channel. Rows are low to high, columns left then right."""

    first_row: int
    last_row: int
    span: Span
    left_column: str = "e"
    right_column: str = "f"
    turned: bool = False
    board: str | None = None


class MarkAt(Struct, frozen=True):
    """A mark at a leg: ``band d18``. ``mark`` is one of band, stripe, long, short, plus, minus, anode, cathode, dot,
    flat (the flat of an LED's rim); ``point`` is where that leg is."""

    mark: str
    point: Point
    span: Span


class MarkFaces(Struct, frozen=True):
    """``flat faces a``, ``tab faces row 30``, ``faces left``. ``mark`` is flat, tab or front. One of ``column`` (letter),
    ``row`` and ``towards`` is set; ``towards`` is a side of the board, "top" (row 1), "bottom" (the last row), "left"
    (beyond column a) or "right" (beyond column j). A rail is its side: ``faces L+`` is "left"."""

    mark: str
    span: Span
    column: str | None = None
    row: int | None = None
    towards: str | None = None


class Notch(Struct, frozen=True):
    """``notch row 10``; ``towards`` keeps "top" or "bottom" where no row was said."""

    span: Span
    row: int | None = None
    towards: str | None = None


class Claim(Struct, frozen=True):
    """``as E B C [measured]``: the pin that the author believes is in each hole, in the order of ``in``."""

    pins: tuple[Word, ...]
    measured: bool
    span: Span


# ── statements ────────────────────────────────────────────────────────────────────────────────────────────────────


class Title(Struct, frozen=True):
    """``title "Seed-tray mister"``."""

    text: str
    span: Span


class Author(Struct, frozen=True):
    """``by "Ana B."``."""

    text: str
    span: Span


class Board(Struct, frozen=True):
    """``board [NAME] mini|half|full [rails split|joined]``; ``rails`` is None where nothing is said."""

    size: str
    span: Span
    name: str | None = None
    rails: str | None = None


class Supply(Struct, frozen=True):
    """``supply PACK 9V limit 2A on L+ L-``; ``words`` holds kind and values, the limit not among them."""

    name: Word
    words: tuple[Word, ...]
    span: Span
    limit: Word | None = None
    terminals: tuple[Point, ...] = ()


class Part(Struct, frozen=True):
    """``part NAME KIND [VALUE…] [PLACE] [MARK] [CLAIM]``; ``words`` holds kind and values in the order written."""

    name: Word
    words: tuple[Word, ...]
    span: Span
    place: PlacedIn | PlacedAcross | None = None
    marks: tuple[MarkAt | MarkFaces | Notch, ...] = ()
    claim: Claim | None = None
    bands: tuple[Word, ...] = ()
    code: Word | None = None


class Wire(Struct, frozen=True):
    """``wire red a5 to b7 to c9``: at least two points, all joined."""

    points: tuple[Point, ...]
    span: Span
    colour: str | None = None


class Power(Struct, frozen=True):
    """``power U1 vin``: how a controller is fed; ``ways`` holds usb, vin, 5v, off."""

    name: Word
    ways: tuple[str, ...]
    span: Span


class PinRole(Struct, frozen=True):
    """``pin U1.D9 pwm 20kHz``: what the program does with it; roles are output, pwm, input, pullup, analog, bus, high, low,
    unused. ``frequency`` is that of the pulses of pwm, a value in Hz."""

    pins: tuple[Point, ...]
    roles: tuple[str, ...]
    span: Span
    frequency: Word | None = None


class Keep(Struct, frozen=True):
    """``keep A apart from B``: the two sides share no conductor."""

    one: Word
    other: Word
    span: Span


class Condition(Struct, frozen=True):
    """``U1.D9 high``, ``S1 pressed``, ``POT1 at 50%``. ``subject`` is a Pin, Bare, Hole… as written, ``state`` in lower
    case; ``amount`` is set for ``at``."""

    subject: Point
    state: str
    span: Span
    amount: Word | None = None


class Bound(Struct, frozen=True):
    """A range in SI units. ``low`` or ``high`` is None where open; ``text`` is as written."""

    low: float | None
    high: float | None
    unit: str
    text: str
    span: Span


class Expect(Struct, frozen=True):
    """``expect PUMP carries 80mA to 120mA when U1.D9 high``.

    ``subject`` is a point (a part's name comes as Bare); ``verb`` is one of carries, at, drops, dissipates (which have a
    bound) or lit, dark, on, off, runs, stopped, high, low (which have none)."""

    subject: Point
    verb: str
    span: Span
    bound: Bound | None = None
    conditions: tuple[Condition, ...] = ()


Statement: TypeAlias = Title | Author | Board | Supply | Part | Wire | Power | PinRole | Keep | Expect


class Problem(Struct, frozen=True):
    """A place that could not be read. ``label`` is a key of the table in ``grammar.problems``; ``message`` is one plain
    sentence without a period; ``expected`` and ``suggestion`` say what would have been read."""

    label: str
    span: Span
    message: str
    expected: tuple[str, ...] = ()
    suggestion: str | None = None


class WiringList(Struct, frozen=True):
    """The whole list: every statement that could be read, in order, and every problem with its place.

    ``lines`` is the text, line by line, without line ends, as it was given; ``unread_pins`` are the pins that a line
    names which could not be read and which seems to say what the program does with them; ``unread_parts`` the names of parts and
    supplies whose own line could not be read."""

    statements: tuple[Statement, ...]
    problems: tuple[Problem, ...]
    lines: tuple[str, ...]
    unread_pins: tuple[Pin | Bare, ...] = ()
    unread_parts: tuple[Word, ...] = ()
