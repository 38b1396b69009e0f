"""What to ask somebody who does not know the language, so that their answers make one statement of a list.

Input: the parts library and the name of a part. Output: a ``Form``: questions in order, each with how its answer is
written. The questions follow from the package of the part (what can be seen on it) and from what the entry leaves open.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checker.cards.marks import marks_of
from parts_library import Library
from parts_library.schema import AnyEntry, Package, SupplyKind


class Choice(Struct, frozen=True):
    """One answer to choose: what it says, and what is written for it."""

    says: str
    writes: str


class Question(Struct, frozen=True, kw_only=True):
    """``answer`` is its form: "name", "value", "holes" (``count`` of them), "point" (a hole, a rail or a pin), "rows" (first
    and last), "choice", "hole-of" (one of the holes that were given) or "end-of" (one of the rows). In ``writes``, {} is
    the answer; nothing is written for an empty one, which only an ``optional`` question takes."""

    ask: str
    answer: str
    writes: str
    hint: str = ""
    count: int = 1
    optional: bool = False
    choices: tuple[Choice, ...] = ()
    offer: str = ""


class Form(Struct, frozen=True, kw_only=True):
    """One statement to be made: ``about`` says what it is, ``questions`` make it, in the order in which it is written."""

    about: str
    questions: tuple[Question, ...]


_DIRECTIONS = (
    Choice("toward the edge with column a", "a"),
    Choice("toward the edge with column j", "j"),
    Choice("toward row 1", "row 1"),
    Choice("toward the last row", "bottom"),
    Choice("I cannot tell", ""),
)
_FACES = {"flat": "Which way does the flat side face?", "tab": "Which way does the metal tab face?",
          "front": "Which way does the printed side face?"}
_LEG_MARKS = {
    "band": "Which hole is the leg beside the band in?",
    "long": "Which hole is the longer leg in?",
    "stripe": "Which hole is the leg beside the stripe in?",
    "plus": "Which hole is the leg marked + in?",
    "dot": "Which hole is the leg beside the dot in?",
}
_VALUES = {
    "ohms": ("What is its resistance?", "220, 4k7 or 10k"),
    "farads": ("What is its capacitance?", "100n or 10uF"),
    "henries": ("What is its inductance?", "1mH"),
    "voltage": ("How many volts is it made for?", "9V"),
    "current": ("How many amps does it take?", "100mA"),
}
_VALUE_FIELDS = {
    "resistor": ("ohms",), "capacitor": ("farads",), "inductor": ("henries",), "potentiometer": ("ohms",), "zener": ("voltage",),
    "fuse": ("current",), "load": ("voltage", "current"), "relay": ("voltage",), "supply": ("voltage",),
}
_LETTERS = {
    "bipolar": "Q", "mosfet": "Q", "jfet": "Q", "thyristor": "Q", "diode": "D", "zener": "D", "led": "LED", "led-group": "LED",
    "resistor": "R", "capacitor": "C", "inductor": "L", "potentiometer": "RV", "sensor-resistor": "R", "switch": "S", "fuse": "F",
    "load": "M", "relay": "K", "stepper": "M", "regulator": "U", "chip": "U", "controller": "U",
}
"""With which letters a name begins where the entry itself says none (IEEE 315 and common practice)."""

_COLOURS = ("red", "black", "blue", "green", "yellow", "orange", "white", "brown", "grey", "violet")
_POINT_HINT = "a hole such as a5, a rail such as L+ or R-, or a pin such as U1.D9"


def form_of(entry: AnyEntry, library: Library) -> Form:
    """The questions that make the statement of a part or supply."""
    package = library.packages[entry.package]
    supply = isinstance(entry, SupplyKind)
    word = "supply" if supply else "part"
    letters = (*entry.letters, _LETTERS.get(str(entry.__struct_config__.tag), "X"))[0]
    name = Question(ask="What shall it be called?", answer="name", writes=f"{word} {{}} {entry.name}", offer=letters,
                    hint="a short name that you will find again, with no blank in it")
    where = _of_a_supply() if supply else _where(entry, package)
    return Form(about=f"{entry.name}: {entry.say}", questions=(name, *_values(entry), *where))


def _values(entry: AnyEntry) -> Iterator[Question]:
    """What the library leaves open."""
    for field in _VALUE_FIELDS.get(str(entry.__struct_config__.tag), ()):
        if getattr(entry, field) is None:
            ask, hint = _VALUES[field]
            yield Question(ask=ask, answer="value", writes="{}", hint=hint)


def _of_a_supply() -> Iterator[Question]:
    yield Question(ask="What is its current limit?", answer="value", writes="limit {}", optional=True,
                   hint="500mA; leave it empty if it has none")
    yield Question(ask="Where does its plus go?", answer="point", writes="on {}", hint=_POINT_HINT, offer="L+")
    yield Question(ask="Where does its minus go?", answer="point", writes="{}", hint=_POINT_HINT, offer="L-")


def _where(entry: AnyEntry, package: Package) -> Iterator[Question]:
    """Where the legs are and what can be seen; nothing for a part off the board, which is wired by its leads."""
    if package.form == "off-board" or not package.breadboard:
        return
    if package.form == "button":
        yield Question(ask="Which rows are its legs in?", answer="rows", writes="across {}",
                       hint="its first and its last row: 20-22")
    elif package.form == "dip":
        yield from _chip(entry, package)
    else:
        yield from _in_holes(entry, package)


def _chip(entry: AnyEntry, package: Package) -> Iterator[Question]:
    rows = max(package.numbers(len(entry.pins))) // 2
    columns = "" if (package.width or 3) <= 3 else " c-h"
    yield Question(ask="Which rows does it cover?", answer="rows", writes=f"across {{}}{columns}", count=rows,
                   hint=f"it sits across the channel and covers {rows} rows: 10-{9 + rows}")
    if "notch" in package.marks:
        yield Question(ask="At which end is the notch?", answer="end-of", writes="notch row {}", optional=True,
                       hint="the small half round at one end of the chip")
    elif "dot" in package.marks:
        yield Question(ask="Which hole is pin 1 in?", answer="point", writes="dot {}", optional=True,
                       hint="the corner with the dot")


def _in_holes(entry: AnyEntry, package: Package) -> Iterator[Question]:
    count = len(entry.pins)
    order = f"pin 1 first: {', '.join(entry.pins)}" if count > 3 else "in any order"
    example = " ".join(f"c{10 + number}" for number in range(count))
    yield Question(ask="Which holes are its legs in?", answer="holes", writes="in {}", count=count,
                   hint=f"one hole for each leg, {order}. Such as {example}")
    if package.form in ("to92", "to220"):
        mark = package.marks[0]
        yield Question(ask=_FACES[mark], answer="choice", writes=f"{mark} faces {{}}", choices=_DIRECTIONS, optional=True)
        return
    for seen in marks_of(entry, package):
        if seen.mark in _LEG_MARKS:
            yield Question(ask=_LEG_MARKS[seen.mark], answer="hole-of", writes=f"{seen.mark} {{}}", optional=True)
            return


def wire_form() -> Form:
    """The questions that make a wire."""
    colours = (Choice("I do not mind", "wire"), *(Choice(colour, f"{colour} wire") for colour in _COLOURS))
    return Form(about="A wire joins two points.", questions=(
        Question(ask="Which colour is it?", answer="choice", writes="{}", choices=colours),
        Question(ask="Where does it begin?", answer="point", writes="{}", hint=_POINT_HINT),
        Question(ask="Where does it end?", answer="point", writes="to {}", hint=_POINT_HINT)))


def pin_form() -> Form:
    """The questions that say what the program does with a pin of a controller."""
    roles = (Choice("it switches on and off", "output"), Choice("it pulses, for brightness or speed", "pwm"),
             Choice("it reads on or off", "input"), Choice("it reads on or off, with the pull-up inside", "pullup"),
             Choice("it measures a voltage", "analog"))
    return Form(about="What your program does with a pin decides which current flows.", questions=(
        Question(ask="Which pin?", answer="point", writes="pin {}", hint="the controller and its pin: U1.D9"),
        Question(ask="What does the program do with it?", answer="choice", writes="{}", choices=roles)))


STATEMENTS = {"wire": wire_form, "pin": pin_form}
"""Statements that need no part of the library."""
