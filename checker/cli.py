"""The command line: ``legwise COMMAND …``. Finds the command, reads its arguments, hands on its exit status.

Input: the arguments. Output: a status: 0 clear, 2 unreadable or the command was misused, 1 anything else. What
was asked for goes to standard output, complaints to standard error.

A new command is a file in ``checker.commands`` and one line in its table. The file is imported when its
command is used, and the libraries it needs with it: ``legwise --help`` waits for none.
"""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import NoReturn

from checker.commands.shared import CLEAR, FOUND, MISUSED, STANDARD_INPUT, Misuse, complain, nearest
from checker.commands.table import COMMANDS

_INTERRUPTED = 130  # What shells give a command that was stopped from the keyboard.
_HELP = """\
legwise reads a list of how a breadboard is wired and says, before power is
applied, what is wrong with it and what to change.

  legwise COMMAND …

{commands}

  legwise COMMAND --help    what a command takes
  legwise --version         which version this is

Exit status: 0 clear, 1 something was found, 2 not readable or not understood.
A list to start from: legwise example"""


class _Parser(ArgumentParser):
    """Says what is wrong in our own voice, once, without the usage block before it."""

    def error(self, message: str) -> NoReturn:
        said = message.removeprefix("argument ").replace(": expected one argument", " needs a word after it")
        raise Misuse(f"{said}\n  {self.prog} --help says what it takes")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the status. ``arguments`` come without the program's name, from the process where None."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    _show_what_can_be_shown()
    try:
        status = _dispatch(given)
        sys.stdout.flush()
        return status
    except Misuse as problem:
        complain(str(problem))
        return MISUSED
    except KeyboardInterrupt:
        return _INTERRUPTED
    except BrokenPipeError:
        # The reader of our output has gone; let the interpreter flush into nothing when it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FOUND


def _show_what_can_be_shown() -> None:
    """A terminal that has no Ω shows a question mark, rather than nothing at all."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _dispatch(given: list[str]) -> int:
    if not given or given[0] in ("-h", "--help", "help"):
        print(_HELP.format(commands="\n".join(f"  {name:11} {summary}" for name, summary in COMMANDS.items())))
        return CLEAR if given else MISUSED
    if given[0] in ("-V", "--version"):
        print(f"legwise {_version()}")
        return CLEAR
    if given[0] not in COMMANDS:
        raise Misuse(_unknown_command(given[0]))
    return _run(given[0], given[1:])


def _run(name: str, rest: list[str]) -> int:
    command = import_module(f"checker.commands.{name}")
    parser = _Parser(prog=f"legwise {name}", description=COMMANDS[name], allow_abbrev=False)
    command.arguments(parser)
    try:
        understood, left = parser.parse_known_intermixed_args(rest)
    except SystemExit:  # The help was asked for and has been printed.
        return CLEAR
    if left:
        raise Misuse(_unknown_argument(left[0], parser))
    return int(command.run(understood))


def _unknown_command(name: str) -> str:
    if name.endswith(".legs") or name == STANDARD_INPUT or Path(name).is_file():
        return f"to check a list: legwise check {name}"
    return f"no command '{name}'. {nearest(name, COMMANDS)}"


def _unknown_argument(word: str, parser: ArgumentParser) -> str:
    if not word.startswith("-"):
        return f"'{word}' is one word too many\n  {parser.prog} --help says what it takes"
    options = [text for action in parser._actions for text in action.option_strings if text.startswith("--")]
    return f"no option '{word}' for {parser.prog}. {nearest(word, options)}"


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("legwise")
    except PackageNotFoundError:
        return "(not installed, run from its source)"
