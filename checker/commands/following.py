"""Following one file: the list is checked again on every save, until Ctrl-C.

Input: the file and what to do with its bytes. Output: the status of the last check. The file is looked at a few times a
second with the standard library alone: a list is small, this works on every file system, and no watcher has to agree with
an editor on what a save is. Many editors write a new file and put it in place of the old one, so that for a moment there is
none; that is waited out, and so is a file that is still being written.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from time import sleep
from typing import NamedTuple

_PAUSE = 0.3
"""Seconds between two looks: short for a person who saves and looks up, and next to nothing for the machine."""
_SETTLING = 0.05
_MOST_SETTLING = 40
_PATIENCE = 10
"""Looks without a file until that is said."""
_CLEAR_SCREEN = "\x1b[H\x1b[2J\x1b[3J"
_RULE = "-" * 60


class _Look(NamedTuple):
    """What was there: when it was saved, and its bytes."""

    saved: int
    content: bytes


def follow(path: Path, check: Callable[[bytes], int]) -> int:
    """Call ``check`` with the file's bytes now and after every save; its last status once the keyboard interrupts.

    The file has to be there at the start. An interrupt before the first check has ended goes on upwards.
    """
    status: int | None = None
    last: _Look | None = None
    try:
        while True:
            last = _next(path, last)
            if status is not None:
                _part()
            status = check(last.content)
            sys.stdout.flush()
            print(f"Following {path}, checked at {datetime.now():%H:%M:%S}. Ctrl-C ends this.", file=sys.stderr, flush=True)
    except KeyboardInterrupt:
        if status is None:
            raise
        return status


def _next(path: Path, last: _Look | None) -> _Look:
    """Wait until the file is there, is not as it was, and stays as it is."""
    missed = 0
    while True:
        found = _look(path)
        if found is not None and found != last:
            return _settled(path, found)
        missed = missed + 1 if found is None else 0
        if missed == _PATIENCE:
            print(f"{path} is gone; waiting for it.", file=sys.stderr, flush=True)
        sleep(_PAUSE)


def _settled(path: Path, found: _Look) -> _Look:
    """The file once two looks in a row are the same; the last look at one that never comes to rest."""
    for _ in range(_MOST_SETTLING):
        sleep(_SETTLING)
        again = _look(path)
        if again == found:
            break
        found = again or found
    return found


def _look(path: Path) -> _Look | None:
    try:
        return _Look(path.stat().st_mtime_ns, path.read_bytes())
    except OSError:
        return None


def _part() -> None:
    """A clean screen, or where there is none to clean, a rule."""
    from rich.console import Console

    console = Console(file=sys.stdout)
    cleared = console.is_terminal and not console.is_dumb_terminal and not console.legacy_windows
    print(_CLEAR_SCREEN if cleared else f"\n{_RULE}\n", end="" if cleared else "\n")
