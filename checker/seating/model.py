"""What seating hands on: for each part the ways it may sit, and for the whole list its readings.

A *seat* is one way to understand one part: which pin is in which hole. A *reading* picks one seat for each part, and
one plan for each board.
"""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct

from checker.bench.mishap import Mishap
from checker.bench.model import Bench
from checker.seating.boards import BoardPlan
from grammar.syntax_tree import Hole, Point, Rail

Spot: TypeAlias = Hole | Rail


class Seat(Struct, frozen=True):
    """``legs`` maps pin to hole. ``because`` names what keeps this seat in question beside the others (empty for the
    seat that the list itself says): claim-contradicts-marking, marking-unsaid or pin-order-varies; ``words`` says in a
    few words what would be seen on the board in this case; ``answer`` the words to add to the list."""

    legs: dict[str, Spot]
    because: str = ""
    words: str = ""
    answer: str = ""

    def pins_in_hole_order(self, places: tuple[Point, ...]) -> str:
        """The pins in the order of the holes of ``in``: "E B C"."""
        by_text = {spot.text.lower(): pin for pin, spot in self.legs.items()}
        return " ".join(by_text.get(p.text.lower(), "?") for p in places)


class Reading(Struct, frozen=True):
    """One way to understand the list: ``seats`` by lower-case part name, ``plans`` by board name, and the part (or
    board) whose seat differs from the first reading, with the reason."""

    seats: dict[str, Seat]
    plans: dict[str, BoardPlan]
    because: str = ""
    differs: tuple[str, ...] = ()


class Seated(Struct, frozen=True):
    """The bench with every leg in its hole. ``readings`` has at least one member; ``bounded`` is true where there were
    more than were made."""

    bench: Bench
    readings: tuple[Reading, ...]
    mishaps: tuple[Mishap, ...]
    bounded: bool = False
