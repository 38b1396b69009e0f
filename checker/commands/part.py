"""``legwise part NAME``: how a part looks, which leg is which, what it can take, and where that is from."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from checker.commands.looking_up import FORMATS, lookup_arguments, show
from checker.commands.shared import CLEAR, Misuse, library_with, one_of

if TYPE_CHECKING:
    from parts_library import Library
    from parts_library.schema import AnyEntry

_MOST_CHOICES = 12


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("name", nargs="*", metavar="NAME", help="a part number or a kind, as it stands in a list")
    lookup_arguments(parser)


def run(arguments: Namespace) -> int:
    """Print the card of the part; the exit status."""
    from checker.cards import card_in_words, card_of

    if not arguments.name:
        raise Misuse("name a part: legwise part NAME. legwise parts lists the families")
    wanted = one_of(arguments.format, FORMATS)
    known = library_with(arguments.parts)
    show(card_of(_entry(" ".join(arguments.name), known), known), wanted, card_in_words)
    return CLEAR


def _entry(name: str, known: Library) -> AnyEntry:
    """The one part that is meant. Raises Misuse with the choices where there are several, near misses for none."""
    match = known.find(name)
    if match.entry is not None:
        return match.entry
    if match.entries:
        width = max(len(entry.name) for entry in match.entries) + 2
        lines = [f"  {entry.name:{width}}{entry.say}" for entry in match.entries[:_MOST_CHOICES]]
        raise Misuse("\n".join([f"'{name}' could be any of these {len(match.entries)}:", *lines]))
    near = f"Did you mean {' or '.join(match.near)}? " if match.near else ""
    raise Misuse(f"no part is called '{name}'. {near}To search: legwise parts WORDS")
