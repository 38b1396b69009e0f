"""The bench: what the list names, each with its entry of the parts library, before anything is seated.

Input is the syntax tree, output ``Bench``. A part that the library does not know stays on the bench with no entry, so
that what hangs on it is known to hang on something unknown.
"""

from __future__ import annotations

from msgspec import Struct

from grammar.syntax_tree import Board, Expect, Keep, Part, Pin, PinRole, Power, Span, Supply, Wire, WiringList
from parts_library import Library
from parts_library.schema import AnyEntry, Controller, SupplyKind


class BenchPart(Struct, frozen=True):
    """One part or supply: its name as written, its statement, and the library's entry with the list's values filled in
    (None where it is unknown). ``limit`` is the electronic current limit of a supply in amps."""

    name: str
    statement: Part | Supply
    entry: AnyEntry | None
    limit: float | None = None

    @property
    def span(self) -> Span:
        return self.statement.span

    @property
    def is_supply(self) -> bool:
        return isinstance(self.entry, SupplyKind)

    @property
    def is_controller(self) -> bool:
        return isinstance(self.entry, Controller)

    @property
    def placed(self) -> bool:
        return isinstance(self.statement, Part) and self.statement.place is not None

    @property
    def pins(self) -> tuple[str, ...]:
        return self.entry.pins if self.entry is not None else ()

    @property
    def load_pins(self) -> tuple[str, ...]:
        """The pins through which it takes its current: a relay's coil, otherwise all."""
        return ("A1", "A2") if "A1" in self.pins else self.pins


class Bench(Struct, frozen=True):
    """Everything the list says, by kind of statement; ``parts`` by lower-case name in the order of the list;
    ``roles`` by (part, pin), and ``hertz`` the frequency of those whose pulses have a stated one.

    ``unread`` is true where a line could not be read or a part is unknown: what seems to be missing may be there."""

    tree: WiringList
    library: Library
    parts: dict[str, BenchPart]
    boards: dict[str, Board]
    wires: tuple[Wire, ...]
    powers: dict[str, Power]
    roles: dict[tuple[str, str], tuple[tuple[str, ...], Span]]
    keeps: tuple[Keep, ...]
    expects: tuple[Expect, ...]
    title: str | None
    by: str | None
    assumed: tuple[str, ...]
    unread: bool
    hertz: dict[tuple[str, str], float] = {}

    def part(self, name: str) -> BenchPart | None:
        """The part of that name, whatever its case."""
        return self.parts.get(name.lower())

    def controllers(self) -> list[BenchPart]:
        return [part for part in self.parts.values() if part.is_controller]

    def role_of(self, part: str, pin: str) -> tuple[str, ...]:
        """The stated roles of a controller pin, or none."""
        found = self.roles.get((part.lower(), pin))
        return found[0] if found else ()


__all__ = ["Bench", "BenchPart", "Pin", "PinRole"]
