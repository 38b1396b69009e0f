"""``legwise draw``: the board as it looks from above, or the connections as a diagram.

Input: one list. Output: the drawing, in the terminal or as SVG; findings are marked in it. The status is that of
``check``.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.shared import MISUSED, Misuse, library_with, one_of, page, read, sayable, write, write_whole

_FORMATS = ("terminal", "svg")
_VIEWS = ("board", "connections")


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", metavar="FILE", help="a list, or - for standard input")
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default) or svg")
    parser.add_argument("--view", metavar="VIEW", default="board", help="board (the default) or connections, which is SVG")
    parser.add_argument("--into", metavar="FILE", type=Path, help="write the drawing there instead; .svg makes it SVG")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Print the drawing or write it; the exit status."""
    from checker.checking import examine
    from checker.commands.check import status

    form, view = _wanted(arguments)
    library_with(arguments.parts)
    text = read(arguments.file)
    if text is None:
        return MISUSED
    report, surveyed = examine(text, sayable(arguments.file), arguments.parts)
    _hand_out(_drawing(form, view, surveyed, report, arguments.into), arguments.into, for_machines=form == "svg")
    return status(report)


def _wanted(arguments: Namespace) -> tuple[str, str]:
    """Format and view, or a complaint. A diagram of connections is always SVG, and so is a file that ends in .svg."""
    form, view = one_of(arguments.format, _FORMATS), one_of(arguments.view, _VIEWS, "view")
    as_file = arguments.into is not None and arguments.into.suffix.lower() == ".svg"
    if view == "connections" and form == "terminal" and not as_file:
        raise Misuse("the connections are drawn as SVG only: add --format svg, or --into FILE.svg")
    return ("svg" if as_file else form), view


def _drawing(form: str, view: str, surveyed: object, report: object, into: Path | None) -> str:
    from checker import drawing
    from checker.report.model import Report
    from checker.survey import Survey

    assert isinstance(surveyed, Survey) and isinstance(report, Report)
    if view == "connections":
        return drawing.diagram_svg(surveyed) + "\n"
    if form == "svg":
        return drawing.board_svg(surveyed, report) + "\n"
    shown = page()
    return drawing.board_text(surveyed, report, width=shown.width, colour=shown.colour and into is None)


def _hand_out(text: str, into: Path | None, *, for_machines: bool) -> None:
    if into is None:
        write(text, for_machines=for_machines)
    else:
        write_whole(into, text)
