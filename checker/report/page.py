"""The page a report is written on: what a format may know of the outside."""

from __future__ import annotations

from msgspec import Struct


class Page(Struct, frozen=True, kw_only=True):
    """``width`` in cells of the terminal; ``colour`` whether colour and bold may be used; ``several`` whether more than
    one list was asked for, even where only one could be opened."""

    width: int = 80
    colour: bool = False
    several: bool = False
