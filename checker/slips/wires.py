"""How a wire is called on a build sheet."""

from __future__ import annotations

from checker.seating.boards import name_of
from grammar.syntax_tree import Hole, Rail, Wire


def wire_in_words(wire: Wire) -> str:
    """``the red wire from e18 to L+18``."""
    colour = f"{wire.colour} " if wire.colour else ""
    points = " to ".join(name_of(point) if isinstance(point, Hole | Rail) else point.text for point in wire.points)
    return f"the {colour}wire from {points}"
