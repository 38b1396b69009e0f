"""``legwise tidy``: a list laid out in the canonical way.

Input: one list. Output: the list with plain spellings and columns, its comments kept; lines that cannot be read stay as they are.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.shared import CLEAR, FOUND, MISUSED, STANDARD_INPUT, Misuse, complain, read, write, write_whole


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", metavar="FILE", help="a list, or - for standard input")
    parser.add_argument("--into", metavar="FILE", type=Path, help="write the list there instead of printing it")
    parser.add_argument("--ask", action="store_true", help="change and print nothing: status 1 where the list is not tidy")


def run(arguments: Namespace) -> int:
    """Print the list; the exit status."""
    from grammar.layout import laid_out
    from grammar.reader import decode

    if arguments.ask and arguments.into is not None:
        raise Misuse("--ask changes nothing: leave --into out")
    given = read(arguments.file)
    if given is None:
        return MISUSED
    text = decode(given)
    after = laid_out(text)
    if arguments.ask:
        is_tidy = after == text
        if not is_tidy:
            name = "the list" if arguments.file == STANDARD_INPUT else arguments.file
            complain(f"{name} is not laid out in the canonical way. legwise tidy prints it so")
        return CLEAR if is_tidy else FOUND
    if arguments.into is None:
        write(after, for_machines=True)
    else:
        write_whole(arguments.into, after)
    return CLEAR
