"""``legwise slips``: where to look twice while building a list that is right.

Input: one list. Output: a build sheet: the single slips that would destroy something, worst first. A list that is not clear gets
a complaint and the status that ``check`` gives it.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.check import status
from checker.commands.shared import CLEAR, MISUSED, complain, library_with, one_of, page, read, sayable, write

_NOT_CLEAR = """\
slips are looked for in a list that is clear. {file}: {verdict}.
  {headline}
  legwise check {name}   says what to change first"""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", metavar="FILE", help="a list that is clear, or - for standard input")
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default) or json")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Print the build sheet; the exit status."""
    from checker.checking import check
    from checker.report.words import VERDICT_WORDS, file_name
    from checker.slips import FORMATS, render, slips_of

    wanted = one_of(arguments.format, FORMATS)
    library = library_with(arguments.parts)
    text = read(arguments.file)
    if text is None:
        return MISUSED
    report = check(text, file=sayable(arguments.file), kit=arguments.parts)
    if report.verdict != "clear":
        complain(_NOT_CLEAR.format(file=file_name(report.file), name=report.file, headline=report.headline,
                                   verdict=VERDICT_WORDS[report.verdict]))
        return status(report)
    write(render(wanted, slips_of(text, report, library), page()), for_machines=wanted == "json")
    return CLEAR
