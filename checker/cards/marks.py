"""The marks that can be seen on a part, and which pin each is at.

Input: an entry and its package. Output: marks in the order in which the package names them. The rule is that of
``checker.seating``: the longer leg is the anode or plus, band, stripe and a flat rim are at the other pin; a
phototransistor in an LED's case is the other way round.
"""

from __future__ import annotations

from msgspec import Struct

from parts_library.schema import AnyEntry, Bipolar, Package


class Mark(Struct, frozen=True):
    """``mark`` as it is written in a list; ``pin`` is "" where a mark shows a side and no leg; ``says`` is a clause."""

    mark: str
    pin: str
    says: str


SEVEN_SEGMENTS = "7SEG-10"
"""The package whose front is a digit with a point of its own."""

_SIDES = {
    "flat": "the flat side is toward you",
    "tab": "the tab is behind",
    "front": "the printed side is toward you",
}
_AT = {
    "band": "the band is at",
    "stripe": "the stripe is at",
    "plus": "the bar or + is at",
    "long": "the longer leg is",
    "short": "the shorter leg is",
    "flat": "the flat of the rim is at",
    "dot": "a dot is at",
    "notch": "the notch is at the end of",
}
_FIRST = frozenset({"long", "plus"})
_PLUS = frozenset({"A", "+"})


def marks_of(entry: AnyEntry, package: Package) -> tuple[Mark, ...]:
    """What can be seen on the part. A mark of which nobody knows the pin (both legs only numbered) is left out."""
    return tuple(found for mark in package.marks if (found := _mark(mark, entry, package)) is not None)


def pin_at(mark: str, entry: AnyEntry) -> str | None:
    """The pin of a two-legged or common-pin part that a mark is at, or None where that is not settled."""
    if len(entry.pins) != 2:
        return "COM" if mark == "long" and "COM" in entry.pins else None
    if entry.pins == ("1", "2"):
        return None
    one, other = entry.pins
    if other in _PLUS or (isinstance(entry, Bipolar) and entry.photo and other == "E"):
        one, other = other, one
    return one if mark in _FIRST else other


def _mark(mark: str, entry: AnyEntry, package: Package) -> Mark | None:
    if package.form in ("to92", "to220"):
        return Mark(mark, "", _SIDES[mark]) if mark in _SIDES else None
    if mark == "dot" and package.name == SEVEN_SEGMENTS:
        return Mark(mark, entry.pins[0], "a dot on the case, where it has one, is at pin 1; the point of the digit is none")
    if mark in ("dot", "notch"):
        return Mark(mark, entry.pins[0], f"{_AT[mark]} pin 1")
    pin = pin_at(mark, entry)
    return Mark(mark, pin, f"{_AT[mark]} {pin}") if pin is not None else None
