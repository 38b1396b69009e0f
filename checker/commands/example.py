"""``legwise example``: the lists that ship with legwise, all by name and title, or one as it is."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from checker.commands.shared import CLEAR, Misuse, nearest, write
from checker.examples import names, text_of, title_of


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="which one to print; without a name all are listed")


def run(arguments: Namespace) -> int:
    """Print the example, or the names of all; the exit status."""
    known = names()
    if arguments.name is None:
        width = max(map(len, known), default=0) + 2
        for name in known:
            print(f"{name:{width}}{title_of(name)}")
        print("\nlegwise example NAME prints one; legwise example NAME | legwise check checks it")
        return CLEAR
    name = arguments.name.removesuffix(".legs")
    if name not in known:
        raise Misuse(f"no example '{name}'. {nearest(name, known)}")
    write(text_of(name), for_machines=True)
    return CLEAR
