"""What a law of the parts library is: a function that yields each way in which an entry breaks it.

Input: an entry and the known packages. Output: ``Broken`` records. The laws are in ``laws`` and ``family_laws``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from msgspec import Struct

from parts_library.schema import AnyEntry, Entry, Package


class Broken(Struct, frozen=True):
    """One law that does not hold: ``field`` as a path in the entry, ``message`` a clause that follows it."""

    field: str
    message: str
    found: str = ""
    allowed: str = ""


Law = Callable[[AnyEntry, Mapping[str, Package]], Iterator[Broken]]


def only_pins(field: str, names: tuple[str, ...], entry: Entry) -> Iterator[Broken]:
    """A broken law for each of ``names`` that is no pin of the entry."""
    for name in names:
        if name not in entry.pins:
            yield no_pin(field, name, entry)


def no_pin(field: str, name: str, entry: Entry) -> Broken:
    """The broken law of a name that is no pin."""
    return Broken(field, f"'{name}' is no pin of it; its pins are {' '.join(entry.pins)}", name, " ".join(entry.pins))


def doubled_in(names: tuple[str, ...] | list[str]) -> str | None:
    """The first name that occurs twice, if any."""
    seen: set[str] = set()
    for name in names:
        if name in seen:
            return name
        seen.add(name)
    return None
