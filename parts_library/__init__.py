"""Facts about parts, packages and supplies, and the way from what people write to what is meant.

``load_library`` gives the Library; ``identify`` and ``identify_supply`` turn the words of a line into an entry with its
values; ``pin_named`` and ``near_pins`` read pin names; ``markings`` reads colour bands and capacitor codes. The data are
TOML files below ``data/`` in the form of ``schema``.
"""

from __future__ import annotations

from parts_library.identify import identify, identify_supply
from parts_library.loader import Library, LibraryError, kit_template, load_library
from parts_library.lookup import Match
from parts_library.synonyms import near_pins, pin_named
from parts_library.words import Identified, WordProblem

__all__ = [
    "Identified",
    "Library",
    "LibraryError",
    "Match",
    "WordProblem",
    "identify",
    "identify_supply",
    "kit_template",
    "load_library",
    "near_pins",
    "pin_named",
]
