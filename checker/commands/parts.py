"""``legwise parts``: the families of parts; ``legwise parts WORDS``: the parts that the words fit."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from checker.commands.looking_up import FORMATS, lookup_arguments, show
from checker.commands.shared import CLEAR, Misuse, library_with, one_of, write


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("words", nargs="*", metavar="WORD", help="of a name, a kind or a description; without, the families")
    parser.add_argument("--template", action="store_true", help="print a kit to start from: parts of your own drawer")
    lookup_arguments(parser)


def run(arguments: Namespace) -> int:
    """Print the parts or the families; the exit status."""
    if arguments.template:
        from parts_library import kit_template

        write(kit_template(), for_machines=True)
        return CLEAR
    from checker.cards import families, families_in_words, listing_in_words, search

    wanted = one_of(arguments.format, FORMATS)
    known = library_with(arguments.parts)
    if not arguments.words:
        show(families(known), wanted, families_in_words)
        return CLEAR
    listing = search(known, " ".join(arguments.words))
    if not listing.count:
        raise Misuse(f"no part fits '{listing.words}'. legwise parts lists the families")
    show(listing, wanted, listing_in_words)
    return CLEAR
