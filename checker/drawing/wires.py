"""How wires of each colour are drawn: an ink dark enough for paper, and a dash of its own for a print without colour.

Input: the colour's word in a list. Output: ink, dash and width. A wire without a colour is a plain thin line.
"""

from __future__ import annotations

_PLAIN = ("#333333", "", 1.9)
_WIRES: dict[str, tuple[str, str, float]] = {
    "black": ("#000000", "", 3.2),
    "red": ("#c01818", "14 3", 2.8),
    "orange": ("#c85a00", "9 3 2 3", 2.8),
    "yellow": ("#a88400", "5 3", 2.8),
    "green": ("#1a7a2e", "2.5 2.5", 2.8),
    "blue": ("#1c4fb8", "9 2.5", 2.8),
    "violet": ("#7030a0", "12 3 2 3 2 3", 2.8),
    "brown": ("#6b3a12", "18 4", 2.8),
    "grey": ("#777777", "4 1.5", 2.8),
    "white": ("#808080", "1.5 3", 3.0),
    "pink": ("#c2508a", "6 2 2 2", 2.8),
    "turquoise": ("#008080", "3 4", 2.8),
}
_SAME = {"purple": "violet", "gray": "grey", "gold": "yellow", "silver": "grey"}


def _looks(colour: str) -> tuple[str, str, float]:
    word = colour.split()[-1] if colour else ""
    return _WIRES.get(_SAME.get(word, word), _PLAIN)


def colour_of(colour: str) -> str:
    return _looks(colour)[0]


def dash_of(colour: str) -> str:
    return _looks(colour)[1]


def width_of(colour: str) -> float:
    return _looks(colour)[2]
