"""The card of one part: everything the library says of it that a person at a bench can use.

Input: an entry and the library it is in. Output: a ``Card``, a plain value that every format writes out.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from checker.cards.drawing import Drawing, draw
from checker.cards.marks import Mark, marks_of
from checker.cards.rating import Rating
from checker.cards.ratings import ratings_of
from checker.cards.words import KIND_WORDS, PIN_WORDS, kind_of
from parts_library import Library
from parts_library.schema import AnyEntry, LedGroup, Package, Relay, Source, Switch


class Pin(Struct, frozen=True):
    """A pin: its number in the package, its name, the other names that a list may use for it."""

    number: int
    name: str
    also: tuple[str, ...] = ()


class OtherOrder(Struct, frozen=True):
    """Another order it is sold in: the pins in numeric order, how it is marked, how to tell it with a meter."""

    pins: tuple[str, ...]
    marked: str = ""
    tell: str = ""


class Origin(Struct, frozen=True):
    """A document and the facts that are from it."""

    document: str
    facts: tuple[str, ...]


class Card(Struct, frozen=True, kw_only=True):
    """One part. ``kind`` is the family as in the data, ``family`` the same in words; ``seen`` says from which side
    ``drawing`` is; ``joins`` are pins that are one conductor inside, and when; ``from_memory`` names the facts that no
    document is known for."""

    name: str
    kind: str
    family: str
    says: str
    also_called: tuple[str, ...]
    package: str
    package_says: str
    seen: str
    drawing: tuple[str, ...]
    marks: tuple[Mark, ...]
    pins: tuple[Pin, ...]
    joins: tuple[str, ...]
    ratings: tuple[Rating, ...]
    other_orders: tuple[OtherOrder, ...]
    cautions: tuple[str, ...]
    sources: tuple[Origin, ...]
    from_memory: tuple[str, ...]


def card_of(entry: AnyEntry, library: Library) -> Card:
    """The card of an entry of ``library``."""
    package = library.packages[entry.package]
    drawing: Drawing = draw(entry, package)
    kind = kind_of(type(entry))
    return Card(
        name=entry.name, kind=kind, family=KIND_WORDS[kind], says=entry.say, also_called=entry.aliases,
        package=package.name, package_says=package.say, seen=drawing.seen, drawing=drawing.lines,
        marks=marks_of(entry, package), pins=_pins(entry, kind, package), joins=tuple(_joins(entry)),
        ratings=_ratings(entry, library),
        other_orders=tuple(OtherOrder(order.pins, order.marked, order.tell) for order in entry.other_orders),
        cautions=entry.cautions, sources=tuple(map(_origin, entry.sources)), from_memory=entry.from_memory,
    )


def _pins(entry: AnyEntry, kind: str, package: Package) -> tuple[Pin, ...]:
    spoken = PIN_WORDS.get(kind, {})
    found = []
    for number, name in zip(package.numbers(len(entry.pins)), entry.pins):
        also = ((spoken[name],) if name in spoken else ()) + entry.pin_aliases.get(name, ())
        # One spelling of each, the first: lists do not tell capitals apart.
        found.append(Pin(number, name, tuple({each.lower(): each for each in reversed(also)}.values())[::-1]))
    return tuple(found)


def _joins(entry: AnyEntry) -> Iterator[str]:
    if isinstance(entry, LedGroup):
        yield from (f"{one} and {other}: always" for one, other in entry.joined)
    elif isinstance(entry, Switch | Relay):
        for contact in entry.contacts:
            one, other = contact.pins
            yield f"{one} and {other}: {'when ' + ' or '.join(contact.when) if contact.when else 'always'}"


def _ratings(entry: AnyEntry, library: Library) -> tuple[Rating, ...]:
    """The ratings of an entry, limits first; of several LEDs in one case also those of each sort of LED in it."""
    rows = list(ratings_of(entry))
    if isinstance(entry, LedGroup):
        for like in dict.fromkeys(member.like for member in entry.members):
            rows += [replace(row, what=f"{row.what} ({like})") for row in ratings_of(library.entries[like])]
    return tuple(sorted(rows, key=lambda row: not row.limit))


def _origin(source: Source) -> Origin:
    return Origin(", ".join(word for word in (source.title, source.maker, source.revision) if word), source.facts)
