"""A package as a person looks at it, in plain characters: from which side, and the lines.

Input: an entry and its package. Output: a ``Drawing``. Every pin of the entry stands in it once. The sides are those
of DESIGN and of the makers' outline drawings: three legs from the flat or printed side with the legs down, two rows
from above with the notch at the top.
"""

from __future__ import annotations

from msgspec import Struct

from checker.cards import hanging, lying
from checker.cards.leg import Leg, legs_of
from checker.cards.marks import SEVEN_SEGMENTS, pin_at
from parts_library.schema import AnyEntry, Chip, Package, Switch

_BAR, _DOME = "BAR-20", "IR-RECEIVER-3"
_NO_GRID = frozenset({"RELAY-5"})
"""Packages that do not look like others of their form."""

_TWO = 2
_MOST_IN_A_ROW = 5
_LONG_LIST, _COLUMNS = 8, 3


class Drawing(Struct, frozen=True):
    """``seen`` says from which side, in words; ``lines`` are the drawing, without colour."""

    seen: str
    lines: tuple[str, ...]


def draw(entry: AnyEntry, package: Package) -> Drawing:
    """The drawing of an entry in its package."""
    drawers = {"to92": _to92, "to220": _to220, "dip": _dip, "axial": _axial, "radial": _radial, "button": _button,
               "inline": _inline, "off-board": _off_board}
    seen, lines = drawers[package.form](entry, package, legs_of(entry, package))
    return Drawing(seen, tuple(line.rstrip() for line in lines))


_Drawn = tuple[str, list[str]]


def _to92(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    return "seen at the flat side, legs down", hanging.hanging(legs, ["flat", "side"], top=hanging.ROUND)


def _to220(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    if "tab" in package.marks:
        return ("seen at the printed side, the tab behind, legs down",
                hanging.hanging(legs, ["printed", "side"], head=["O", "tab"]))
    if package.name == _DOME:
        return "seen at the dome, legs down", hanging.hanging(legs, ["( dome )", ""])
    return "seen at the printed side, legs down", hanging.hanging(legs, ["O", "printed", "side"])


def _dip(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    if package.name == SEVEN_SEGMENTS:
        return "seen from the front, the digit upright", lying.digit(legs)
    corner = package.name == _BAR
    notch = "notch" in package.marks and not corner
    end = "the chamfered corner at the top left" if corner else "the notch at the top" if notch else "pin 1 at the top left"
    dot = "dot" in package.marks
    return f"seen from above, {end}", lying.two_rows(legs, package.width or 3.0, notch=notch, dot=dot, corner=corner)


def _axial(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    if len(legs) != _TWO:
        return _inline(entry, package, legs)
    band = pin_at("band", entry) if "band" in package.marks else None
    left, right = legs if band in (None, legs[1].name) else tuple(reversed(legs))
    seen = "seen lying, the band at the right" if band else "seen lying; which way round does not matter"
    return seen, lying.on_axis(left, right, band=band is not None)


def _radial(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    longer = pin_at("long", entry) if "long" in package.marks else None
    if longer is None or len(legs) != _TWO:
        same = entry.pins == ("1", "2") and not package.marks
        return ("seen from the side, legs down" + ("; which way round does not matter" if same else ""),
                hanging.hanging(legs, [""], top=hanging.ROUND, longer=longer or ""))
    long, short = legs if legs[0].name == longer else tuple(reversed(legs))
    body = next((shape for mark, shape in _BODIES if mark in package.marks), hanging.BARE)
    return "seen from the side, legs down, the longer leg at the left", hanging.unequal(body, long, short)


_BODIES = (("flat", hanging.LAMP), ("stripe", hanging.CAN), ("plus", hanging.DROP))


def _button(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    contacts = entry.contacts if isinstance(entry, Switch) else ()
    joined = frozenset(frozenset(contact.pins) for contact in contacts if not contact.when)
    return "seen from above, over the channel of the breadboard", lying.push_button(legs, joined)


def _inline(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    if package.name in _NO_GRID:
        return "its legs as a list: their places differ from maker to maker", lying.leads(legs, 1)
    if package.width is not None:
        dot = "dot" in package.marks
        return "seen from above, pin 1 at the top left", lying.two_rows(legs, package.width, notch=False, dot=dot)
    if len(legs) > _MOST_IN_A_ROW:
        return "seen at the printed side, pin 1 at the top", lying.printed_row(legs)
    longer = pin_at("long", entry) if "long" in package.marks else None
    printed = isinstance(entry, Chip)
    seen = "seen at the printed side, legs down" if printed else "seen from the front, legs down, pin 1 at the left"
    shows = [("•" if "dot" in package.marks else "").ljust(5 * len(legs) - 2)]
    return seen, hanging.hanging(legs, shows, longer=longer or "", top=hanging.ROUND if longer else hanging.SQUARE)


def _off_board(entry: AnyEntry, package: Package, legs: tuple[Leg, ...]) -> _Drawn:
    return "its leads as a list, a wire to each", lying.leads(legs, _COLUMNS if len(legs) > _LONG_LIST else 1)
