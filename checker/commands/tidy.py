"""``legwise tidy``: a list with plain spellings, laid out in columns.

Input: one list, or with ``--ask`` several. Output: the list with plain spellings and columns, its comments kept; lines that
cannot be read stay as they are.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.shared import CLEAR, FOUND, MISUSED, STANDARD_INPUT, Misuse, complain, read, write, write_whole


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="a list, or - for standard input; with --ask, any number")
    parser.add_argument("--into", metavar="FILE", type=Path, help="write the list there instead of printing it")
    parser.add_argument("--ask", action="store_true", help="change and print nothing: status 1 where a list is not tidy")


def run(arguments: Namespace) -> int:
    """Print the list; the exit status."""
    if arguments.ask:
        if arguments.into is not None:
            raise Misuse("--ask changes nothing: leave --into out")
        return max(_asked(name) for name in arguments.files)
    if len(arguments.files) > 1:
        raise Misuse("tidy prints one list: give it one FILE, or --ask")
    text = _text(arguments.files[0])
    if text is None:
        return MISUSED
    from grammar.layout import laid_out

    if arguments.into is None:
        write(laid_out(text), for_machines=True)
    else:
        write_whole(arguments.into, laid_out(text))
    return CLEAR


def _text(name: str) -> str | None:
    from grammar.reader import decode

    given = read(name)
    return None if given is None else decode(given)


def _asked(name: str) -> int:
    """The status for one list: whether it is laid out already."""
    from grammar.layout import laid_out

    text = _text(name)
    if text is None:
        return MISUSED
    if laid_out(text) == text:
        return CLEAR
    what, again = ("the list", "-") if name == STANDARD_INPUT else (name, name)
    complain(f"{what} is not tidy. legwise tidy {again} prints it tidied")
    return FOUND
