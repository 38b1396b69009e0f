"""``legwise meter``: what a multimeter should read on the board that was built, before power and after.

Input: one list. Output: a meter sheet. A list that would do damage gets a complaint and the status that ``check`` gives it; one
that is not clear gets its sheet with a warning.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.check import status
from checker.commands.shared import MISUSED, complain, library_with, one_of, page, read, sayable, write

_MEND_FIRST = """\
{file}: {verdict}. What a meter should read is worked out for a list that is mended.
  {headline}
  legwise check {name}   says what to change first"""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", metavar="FILE", help="a list, or - for standard input")
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default), json or html")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Print the meter sheet; the exit status is that of ``check``."""
    from checker.checking import examine
    from checker.metering import FORMATS, meter_sheet, render
    from checker.report.words import VERDICT_WORDS, file_name

    wanted = one_of(arguments.format, FORMATS)
    library = library_with(arguments.parts)
    text = read(arguments.file)
    if text is None:
        return MISUSED
    report, surveyed = examine(text, sayable(arguments.file), arguments.parts)
    if report.verdict == "do-not-power":
        complain(_MEND_FIRST.format(file=file_name(report.file), name=report.file, headline=report.headline,
                                    verdict=VERDICT_WORDS[report.verdict]))
        return status(report)
    write(render(wanted, meter_sheet(surveyed, report, library), page()), for_machines=wanted != "terminal")
    return status(report)
