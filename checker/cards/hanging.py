"""Bodies seen from the front with their legs hanging down, pin 1 at the left.

Input: legs and what the body shows. Output: lines of text. The number of a leg stands below it and the name below that;
a longer leg is drawn longer.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.cards.leg import Leg

ROUND, SQUARE = "╭╮╰╯", "┌┐└┘"
_LONGER = 2  # Lines by which a longer leg is drawn longer: number and name of the others fit beside it.
_LEAST_CELL = 5


def hanging(legs: Sequence[Leg], shows: Sequence[str], *, top: str = SQUARE, head: Sequence[str] = (),
            longer: str = "") -> list[str]:
    """A body with ``legs`` in one row. ``shows`` are the lines on it, ``head`` those of a tab above them, ``top`` its
    corners, ``longer`` the name of the pin whose leg is longer."""
    cell = max([_LEAST_CELL, *(len(leg.name) + 2 for leg in legs)]) | 1  # Odd: a leg has a middle.
    inner = max([cell * len(legs), *(len(text) + 2 for text in (*shows, *head))])
    left = (inner - cell * len(legs)) // 2
    centres = [1 + left + cell * place + cell // 2 for place in range(len(legs))]
    lines = [top[0] + "─" * inner + top[1]]
    if head:
        lines += ["│" + text.center(inner) + "│" for text in head] + ["├" + "─" * inner + "┤"]
    lines += ["│" + text.center(inner) + "│" for text in shows]
    foot = list("└" + "─" * inner + "┘")
    for centre in centres:
        foot[centre] = "┬"
    return [*lines, "".join(foot), *_below(legs, centres, longer)]


def _below(legs: Sequence[Leg], centres: Sequence[int], longer: str) -> list[str]:
    """The legs themselves with numbers and names at their ends."""
    words: dict[int, dict[int, str]] = {}
    for leg, centre in zip(legs, centres, strict=True):
        end = 1 + _LONGER * (leg.name == longer)
        for line in range(end):
            words.setdefault(line, {})[centre] = "│"
        words.setdefault(end, {})[centre] = leg.number or leg.name
        if leg.number:
            words.setdefault(end + 1, {})[centre] = leg.name
    return [_written(words[line]) for line in sorted(words)]


def _written(at: dict[int, str]) -> str:
    """Words, each with its middle at a column."""
    line = ""
    for centre, word in sorted(at.items()):
        line = line.ljust(centre - (len(word) - 1) // 2) + word
    return line


# Two legs of which one is longer; the legs are in columns 2 and 8, the longer one at the left.
_LEFT, _RIGHT = 2, 8
LAMP = (" ╭───────╮",
        " │       │",
        "╭┴───────┤  the rim is flat on this side",
        "╰─┬─────┬┘")
CAN = ("┌─────┬───┐",
       "│     │ - │  the stripe",
       "│     │ - │",
       "└─┬───┴─┬─┘")
DROP = ("╭─────────╮",
        "│ +       │  the bar or + is on this side",
        "│         │",
        "╰─┬─────┬─╯")
BARE = ("╭─────────╮",
        "│         │",
        "╰─┬─────┬─╯")


def unequal(body: Sequence[str], long: Leg, short: Leg) -> list[str]:
    """A body on a longer leg at the left and a shorter one at the right."""
    return [*body,
            " " * _LEFT + "│" + " " * (_RIGHT - _LEFT - 1) + "│",
            " " * _LEFT + "│" + " " * (_RIGHT - _LEFT - 1) + f"{short.label}  shorter leg",
            " " * _LEFT + "│",
            " " * _LEFT + f"{long.label}  longer leg"]
