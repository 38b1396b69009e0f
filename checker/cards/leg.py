"""A leg in a drawing: its number, the name of its pin, and how the two are written together.

Input: the pins of an entry in numeric order. Output: legs. A number is left out where nobody counts: on a controller,
whose pins are printed, and where a pin's name is its number.
"""

from __future__ import annotations

from msgspec import Struct

from parts_library.schema import AnyEntry, Controller, Package


class Leg(Struct, frozen=True):
    """``number`` is "" where the pin has none or is called by it; ``name`` is the entry's own name of the pin."""

    number: str
    name: str

    @property
    def label(self) -> str:
        """Number and name on one line: "1 E"."""
        return f"{self.number} {self.name}".strip()


def legs_of(entry: AnyEntry, package: Package) -> tuple[Leg, ...]:
    """The legs of an entry in numeric order."""
    counted = not isinstance(entry, Controller)
    return tuple(Leg(str(number) if counted and name != str(number) else "", name)
                 for number, name in zip(package.numbers(len(entry.pins)), entry.pins))
