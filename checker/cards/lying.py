"""Bodies seen from above with their legs to the sides: two rows, a row of printed pins, a button, a part on its axis.

Input: legs and what the body shows. Output: lines of text. Pins are counted down the left side and up the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from checker.cards.leg import Leg

_NARROW, _WIDE = 7, 13  # Inside of the body, for rows 0.3 in and 0.6 in apart.
_WIDE_FROM = 5.0  # Holes between the rows.
_DIGIT = ("  ─── ", " │   │", "  ─── ", " │   │", "  ─── •")


def two_rows(legs: Sequence[Leg], width: float, *, notch: bool, dot: bool, corner: bool = False) -> list[str]:
    """Two rows of legs, pin 1 at the top left. ``corner`` is a chamfered one at pin 1; ``width`` is in holes."""
    half = (len(legs) + 1) // 2
    left, right = legs[:half], tuple(reversed(legs[half:]))
    inner = _WIDE if width >= _WIDE_FROM else _NARROW
    margin = max(len(f"{leg.name} {leg.number}".rstrip()) for leg in left)
    digits = max((len(leg.number) for leg in right), default=0)
    lines = [" " * (margin + 1) + line for line in _upper_end(inner, notch, corner)]
    for place, (one, other) in enumerate(zip_longest(left, right)):
        inside = ("•" if dot and place == 0 else " ").ljust(inner)
        near = f"{one.name} {one.number}".rstrip().rjust(margin)
        number = f"{other.number.rjust(digits)} " if other and digits else ""
        far = f"├ {number}{other.name}" if other else "│"
        lines.append(f"{near} ┤{inside}{far}")
    return [*lines, " " * (margin + 1) + "└" + "─" * inner + "┘"]


def _upper_end(inner: int, notch: bool, corner: bool) -> list[str]:
    if not notch:
        return [("╱" if corner else "┌") + "─" * inner + "┐"]
    side = (inner - 3) // 2
    return ["┌" + "─" * side + "╮ ╭" + "─" * side + "┐", "│" + "╰─╯".center(inner) + "│"]


def digit(legs: Sequence[Leg]) -> list[str]:
    """A seven-segment digit: pins 1 to 5 below it from the left, 6 to 10 above it from the right."""
    half = len(legs) // 2
    below, above = legs[:half], tuple(reversed(legs[half:]))
    cell = (max(len(leg.name) for leg in legs) + 2) | 1
    inner = cell * half
    centres = [1 + cell * place + cell // 2 for place in range(half)]
    edge = "".join("┬" if place + 1 in centres else "─" for place in range(inner))
    shown = ["│" + text.ljust(7).center(inner) + "│" for text in _DIGIT]
    return [*_rows(above, centres), "┌" + edge.replace("┬", "┴") + "┐", *shown, "└" + edge + "┘", *_rows(below, centres)]


def _rows(legs: Sequence[Leg], centres: Sequence[int]) -> list[str]:
    """Numbers in one line and names in the next."""
    lines = ["", ""]
    for leg, centre in zip(legs, centres, strict=True):
        for line, word in enumerate((leg.number, leg.name)):
            lines[line] = lines[line].ljust(centre - (len(word) - 1) // 2) + word
    return lines


def on_axis(left: Leg, right: Leg, *, band: bool) -> list[str]:
    """A body between two wires; with ``band``, the band is near the right one."""
    inside = "      ███ " if band else " " * 10
    margin = " " * (len(left.label) + 3)
    return [f"{margin}╭──────────╮",
            f"{left.label} ──┤{inside}├── {right.label}",
            f"{margin}╰──────────╯",
            *([f"{margin}       band"] if band else [])]


def push_button(legs: Sequence[Leg], joined: frozenset[frozenset[str]]) -> list[str]:
    """A button over the channel: two legs at each side; a line through the body joins what is always joined."""
    lines = ["   ┌───────┐"]
    for place in range(0, len(legs) - 1, 2):
        one, other = legs[place], legs[place + 1]
        through = "───────" if frozenset((one.name, other.name)) in joined else "       "
        ends = "┼" if through.strip() else "┤"
        lines.append(f"{one.name} ─{ends}{through}{'┼' if through.strip() else '├'}─ {other.name}")
        if place + 2 < len(legs) - 1:
            lines.append("   │  (_)  │")
    return [*lines, "   └───────┘"]


def printed_row(legs: Sequence[Leg]) -> list[str]:
    """A board with its pins in one row along the left edge, pin 1 at the top."""
    digits = max(len(leg.number) for leg in legs)
    names = max(len(leg.name) for leg in legs)
    margin = " " * (digits + 2)
    rows = [f"{leg.number.rjust(digits)} ─┤ {leg.name.ljust(names)}    │" for leg in legs]
    edge = "─" * (names + 5)
    return [f"{margin}┌{edge}┐", *rows, f"{margin}└{edge}┘"]


def leads(legs: Sequence[Leg], columns: int) -> list[str]:
    """Leads as a list, in as many columns as are said, down each column."""
    labels = [f"∙─ {leg.label}" for leg in legs]
    rows = -(-len(labels) // columns)
    width = max(map(len, labels)) + 4
    return ["".join(label.ljust(width) for label in labels[row::rows]).rstrip() for row in range(rows)]
