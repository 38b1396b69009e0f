"""What all commands share: statuses, how misuse is said, how text is read and written, the nearest spelling, the parts.

Imports nothing outside the standard library at the top, so that help and complaints wait for nothing.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from checker.report.page import Page
    from parts_library import Library

CLEAR, FOUND, MISUSED = 0, 1, 2
STANDARD_INPUT = "-"
PIPED_WIDTH = 80

_LINE = 78
_FEW = 16  # As many names as can be taken in at a glance.
_PASTE = "Paste the list, then press Ctrl-D (on Windows Ctrl-Z and Enter) on an empty line."


class Misuse(Exception):
    """The command was misused; the message says how, and how it is meant."""


def complain(message: str) -> None:
    """One complaint on standard error."""
    print(f"legwise: {message}", file=sys.stderr)


def read(name: str) -> bytes | None:
    """The bytes of a file, or of standard input for ``-``; None, and a complaint, where it cannot be opened."""
    try:
        if name == STANDARD_INPUT:
            if sys.stdin.isatty():
                print(_PASTE, file=sys.stderr)
            return sys.stdin.buffer.read()
        return Path(name).read_bytes()
    except (OSError, ValueError) as problem:
        complain(f"cannot read {name}: {_reason(name, problem)}")
        return None


def _reason(name: str, problem: Exception) -> str:
    if Path(name).is_dir():
        return "it is a folder; name the files in it"
    said = getattr(problem, "strerror", None) or str(problem)
    return said[:1].lower() + said[1:]


def sayable(name: str) -> str:
    """A file's name without the bytes that are no text, which some file systems allow."""
    return name.encode("utf-8", errors="replace").decode("utf-8")


def write(text: str, *, for_machines: bool) -> None:
    """Print; what another program will read is UTF-8 with the line ends it has, whatever the terminal speaks."""
    sys.stdout.flush()
    buffer = getattr(sys.stdout, "buffer", None)
    if for_machines and buffer is not None:
        buffer.write(text.encode("utf-8", errors="replace"))
        buffer.flush()
    else:
        sys.stdout.write(text)


def write_whole(path: Path, text: str) -> None:
    """The file as a whole or not at all: written beside it first. What is no file, such as a device, is written to."""
    beside = path.with_name(path.name + ".part") if path.is_file() or not path.exists() else path
    try:
        beside.write_text(text, encoding="utf-8", newline="")
        if beside != path:
            beside.replace(path)
    except OSError as error:
        raise Misuse(f"{path} cannot be written: {error.strerror or error}") from None


def one_of(word: str, choices: Iterable[str], what: str = "format") -> str:
    """The choice that is meant, whatever its case. Raises Misuse with the nearest one for what is none."""
    known, meant = list(choices), word.lower()
    if meant not in known:
        raise Misuse(f"no {what} '{meant}'. {nearest(meant, known)}")
    return meant


def library_with(kit: Path | None) -> Library:
    """The parts library, with a kit on top of it where one is given. Raises Misuse for a kit that cannot be used."""
    from parts_library import LibraryError, load_library

    try:
        return load_library(kit)
    except LibraryError as problem:
        raise Misuse(f"the parts of {kit} cannot be used: {problem}") from None


def page(*, several: bool = False) -> Page:
    """Width and colour of standard output: 80 columns and no colour where piped, no colour where NO_COLOR is set."""
    from checker.report.page import Page

    if not sys.stdout.isatty():
        return Page(width=PIPED_WIDTH, several=several)
    from rich.console import Console

    console = Console(file=sys.stdout)
    colour = console.color_system is not None and not console.no_color and not console.legacy_windows
    return Page(width=console.width, colour=colour, several=several)


def nearest(word: str, known: Iterable[str]) -> str:
    """The nearest spelling there is, else all of them where they are few."""
    from difflib import get_close_matches
    from textwrap import fill

    choices = list(known)
    near = get_close_matches(word.lower(), choices, n=1, cutoff=0.6)
    if near:
        return f"The nearest is {near[0]}"
    if len(choices) > _FEW:
        return "Give no name to see all"
    # The first line has the complaint before it.
    listed = fill(", ".join(choices), _LINE, initial_indent=" " * (_LINE // 2), subsequent_indent="  ", break_on_hyphens=False)
    return f"There are: {listed.lstrip() or 'none'}"
