"""Lines in colour, as a terminal wants them. Input: lines and the page's width. Output: text with the codes of the styles."""

from __future__ import annotations

from collections.abc import Iterable
from io import StringIO

from rich.console import Console
from rich.text import Text

from checker.report.line import Line


def coloured(lines: Iterable[Line], width: int) -> str:
    """The lines below each other; they are not wrapped again."""
    console = Console(file=StringIO(), width=width, force_terminal=True, color_system="standard", legacy_windows=False,
                      _environ={})
    with console.capture() as captured:
        for line in lines:
            console.print(_text(line), soft_wrap=True)
    return captured.get()


def _text(line: Line) -> Text:
    return Text(*line.pieces[0]) if len(line.pieces) == 1 else Text.assemble(*line.pieces)
