"""The page a report is written on: what a format may know of the outside."""

from __future__ import annotations

from msgspec import Struct


class Enclosure(Struct, frozen=True, kw_only=True):
    """What can be set beside one report: ``drawing`` and ``diagram`` as SVG, ``meter`` as a piece of XHTML (one element).
    Empty where there is none. All are written by ``checker.markup``."""

    drawing: str = ""
    diagram: str = ""
    meter: str = ""


class Section(Struct, frozen=True):
    """One heading of a rule's explanation with its text; ``quoted`` where the text is a list, kept line by line."""

    heading: str
    text: str
    quoted: bool = False


class Page(Struct, frozen=True, kw_only=True):
    """``width`` in cells of the terminal; ``colour`` whether colour and bold may be used; ``several`` whether more than
    one list was asked for, even where only one could be opened; ``enclosures`` one for each report, or none at all;
    ``rules`` the explanation of each rule by its slug, what it means first; ``unopened`` the files there is no report on."""

    width: int = 80
    colour: bool = False
    several: bool = False
    enclosures: tuple[Enclosure, ...] = ()
    rules: dict[str, tuple[Section, ...]] = {}
    unopened: tuple[str, ...] = ()
