"""Supplies of which only one terminal has been told: ``supply PACK 5V on L+``, and nothing of its minus.

Input is the tree and the parts; output a mishap for each. A terminal is told by ``on`` or by a wire. Where a line could not
be read nothing is said, as the other terminal may be in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from grammar.syntax_tree import Bare, Pin, Rail, Supply, Wire, WiringList
from parts_library import pin_named

POLES = {"+": "plus", "-": "minus"}


def half_placed(tree: WiringList, parts: Mapping[str, BenchPart]) -> Iterator[Mishap]:
    """A question for each supply with one place, whose other terminal is in no wire."""
    if tree.problems:
        return
    for key, part in parts.items():
        statement = part.statement
        if not isinstance(statement, Supply) or len(statement.terminals) != 1:
            continue
        pins = part.pins or ("+", "-")
        if len(pins) != 2 or _is_wired(tree, key, part, pins[1]):
            continue
        yield Mishap(rule="bad-value", severity="fault", span=statement.terminals[0].span, parts=(part.name,),
                     points=(statement.terminals[0].text,),
                     facts={"case": "half-placed", "here": POLES.get(pins[0], pins[0]), "lacks": POLES.get(pins[1], pins[1]),
                            "on": _both(statement)})


def _is_wired(tree: WiringList, key: str, part: BenchPart, pin: str) -> bool:
    """Whether a wire names this terminal, or the supply without saying which."""
    points = [point for wire in tree.statements if isinstance(wire, Wire) for point in wire.points]
    if any(isinstance(point, Bare) and point.text.lower() == key for point in points):
        return True
    named = [point.pin for point in points if isinstance(point, Pin) and point.part.lower() == key]
    return any((pin_named(part.entry, text) if part.entry is not None else text) == pin for text in named)


def _both(statement: Supply) -> str:
    """Both places as they are likely meant: the other rail of the same pair."""
    place = statement.terminals[0]
    if not isinstance(place, Rail):
        return f"on {place.text} and the place of its minus"
    board, row = f"{place.board}:" if place.board else "", place.row or ""
    return f"on {board}{place.side}{place.sign}{row} {board}{place.side}{'-' if place.sign == '+' else '+'}{row}"
