"""What the commands that look up parts share: their arguments and formats, how a value is printed."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from checker.commands.shared import page, write

if TYPE_CHECKING:
    from checker.report.page import Page

FORMATS = ("terminal", "json")

_Value = TypeVar("_Value")


def lookup_arguments(parser: ArgumentParser) -> None:
    """The options that these commands have in common."""
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default) or json")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def show(value: _Value, wanted: str, in_words: Callable[[_Value, Page], str]) -> None:
    """Print a value in the format asked for; JSON is indented, its keys in the order of the struct."""
    if wanted == "json":
        import msgspec

        encoded = msgspec.json.format(msgspec.json.encode(value), indent=2)
        write(encoded.decode("utf-8") + "\n", for_machines=True)
    else:
        write(in_words(value, page()), for_machines=False)
