"""``legwise compare``: is a list the same circuit as a reference.

Input: two lists. Output: the verdict, and the smallest difference with what to do about it. The status is 0 for the same
circuit, 1 for another, 2 where a line or part of either list could not be read.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.shared import (
    CLEAR,
    FOUND,
    MISUSED,
    STANDARD_INPUT,
    Misuse,
    library_with,
    one_of,
    page,
    read,
    sayable,
    write,
)


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("reference", metavar="REFERENCE", help="the list that is right")
    parser.add_argument("file", metavar="FILE", help="the list to compare with it, or - for standard input")
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default) or json")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Print the comparison; the exit status."""
    from checker.comparing import FORMATS, Compared, compare, render
    from checker.survey import wire_up

    wanted = one_of(arguments.format, FORMATS)
    if arguments.reference == arguments.file == STANDARD_INPUT:
        raise Misuse("standard input (-) can be read only once")
    library = library_with(arguments.parts)
    texts = [read(arguments.reference), read(arguments.file)]
    if texts[0] is None or texts[1] is None:
        return MISUSED
    comparison = compare(wire_up(texts[0], library), wire_up(texts[1], library))
    compared = Compared(sayable(arguments.reference), sayable(arguments.file), comparison)
    write(render(wanted, compared, page()), for_machines=wanted == "json")
    return MISUSED if comparison.unread else CLEAR if comparison.same else FOUND
