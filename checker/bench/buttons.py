"""Buttons of which two legs are told: with two legs, unless more of them are named.

Input is the tree, the parts and the library; output the parts in which a button in two holes, of unlike rows, has two legs, and
so has one that is not placed and of which the list names no leg beyond 1 and 2. Whoever writes S1.1 and S1.2 means its two ends;
the four legs of a button, of which 1 and 2 are joined, are known to whoever writes S1.3.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import structs

from checker.bench.model import BenchPart
from grammar.syntax_tree import Hole, Pin, PlacedIn, Wire, WiringList
from parts_library import Library

FOUR_LEGS, TWO_LEGS = "button", "button-2"
_SAYS_FOUR = ("4", "four", "tact", "tactile")


def with_two_leads(tree: WiringList, parts: Mapping[str, BenchPart], library: Library) -> tuple[dict[str, BenchPart], list[str]]:
    """The parts, and for each button that was taken so a sentence of what was assumed."""
    found, assumed = dict(parts), []
    for key, part in parts.items():
        if part.entry is None or part.entry.name != FOUR_LEGS or _says_four(part):
            continue
        if part.placed:
            if _in_two_rows(part):
                found[key] = structs.replace(part, entry=library.entries[TWO_LEGS])
                assumed.append(f"{part.name} has two legs, as the list gives holes for two")
            continue
        named = {point.pin for wire in tree.statements if isinstance(wire, Wire) for point in wire.points
                 if isinstance(point, Pin) and point.part.lower() == key}
        if named == {"1", "2"}:
            found[key] = structs.replace(part, entry=library.entries[TWO_LEGS])
            assumed.append(f"{part.name} is open between 1 and 2 until it is pressed (of four legs take two at opposite corners)")
    return found, assumed


def _in_two_rows(part: BenchPart) -> bool:
    """True for a button in two holes of unlike rows. Two of one row may be two legs of four, which are always joined."""
    place = getattr(part.statement, "place", None)
    holes = [point for point in place.points if isinstance(point, Hole)] if isinstance(place, PlacedIn) else []
    return len(holes) == 2 == len(getattr(place, "points", ())) and holes[0].row != holes[1].row


def _says_four(part: BenchPart) -> bool:
    words = getattr(part.statement, "words", ())
    return any(said in word.text.lower() for word in words for said in _SAYS_FOUR)
