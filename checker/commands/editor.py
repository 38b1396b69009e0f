"""``legwise editor``: the language server, for an editor to start.

Input and output: the Language Server Protocol over standard input and output.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from checker.commands.shared import CLEAR, Misuse

_MISSING = """\
the language server needs the extra 'editor'.
  pip install 'legwise[editor]'"""
_FOR_EDITORS = """\
this is for an editor to start; it speaks the Language Server Protocol over standard input and output.
  Tell your editor: the command 'legwise editor' for files that end in .legs"""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes: nothing."""


def run(arguments: Namespace) -> int:
    """Serve until the editor ends; the exit status."""
    if sys.stdin.isatty():
        raise Misuse(_FOR_EDITORS)
    try:
        from checker.editor.server import serve
    except ModuleNotFoundError as missing:
        if missing.name is None or missing.name.split(".")[0] not in ("pygls", "lsprotocol"):
            raise
        raise Misuse(_MISSING) from None
    serve()
    return CLEAR
