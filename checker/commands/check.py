"""``legwise check``: a report on each list, or one list mended or followed.

Input: files, or standard input. Output: the reports in one format. Of several lists the highest status counts,
so that 0 is only given where every list was read and every one is clear, and 2 says that something could not be
judged.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from checker.commands.expecting import judge_all
from checker.commands.shared import (
    CLEAR,
    FOUND,
    MISUSED,
    STANDARD_INPUT,
    Misuse,
    complain,
    library_with,
    one_of,
    page,
    read,
    sayable,
    write,
    write_whole,
)

if TYPE_CHECKING:
    from checker.report.model import Report
    from checker.report.page import Enclosure, Section

_STATUSES = {"clear": CLEAR, "unreadable": MISUSED}
_NO_LIST = """\
no list was given.
  legwise check FILE.legs   check the list in a file
  legwise check -           check a list that you paste here
  legwise example           lists to start from"""
_OUR_FAULT = """\
the checker itself failed on {name} ({problem}).
  The list is not to blame. Please report it together with the list; python -X dev -m checker check shows more."""


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("files", nargs="*", metavar="FILE", help="a list, or - for standard input")
    parser.add_argument("--format", metavar="FORMAT", help="terminal (the default), html, json, sarif or junit")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")
    parser.add_argument("--expects", metavar="FILE", help="judge by the expectations of that file, and by nothing else")
    parser.add_argument("--mend", action="store_true", help="print the list with the checked fixes made, nothing else")
    parser.add_argument("--follow", action="store_true", help="check the file again on every save, until Ctrl-C")
    parser.add_argument("--schema", action="store_true", help="print what the JSON of a report looks like, as JSON Schema")
    parser.add_argument("--into", metavar="FILE", type=Path, help="with --mend: write the mended list there instead")


def run(arguments: Namespace) -> int:
    """Check every list and print the reports; the exit status."""
    from checker import report as formats

    if arguments.schema:
        return _schema(arguments)
    names = _names(arguments.files)
    wanted = one_of(arguments.format or "terminal", formats.FORMATS)
    library_with(arguments.parts)  # What is wrong with a kit is said once, before any list.
    if arguments.expects is not None:
        if arguments.follow or arguments.mend or arguments.into is not None:
            raise Misuse("--expects judges a list as it is: it goes with --format and --parts only")
        return judge_all(names, arguments.expects, wanted, arguments.parts)
    if arguments.follow:
        return _follow(names, wanted, arguments)
    if arguments.mend:
        return _mend(names, arguments)
    if arguments.into is not None:
        raise Misuse("--into goes with --mend: it names the file for the mended list")
    return _print([(name, read(name)) for name in names], wanted, arguments.parts)


def _print(texts: Sequence[tuple[str, bytes | None]], wanted: str, kit: Path | None) -> int:
    """Check each text and print the reports in the format ``wanted``; the highest status. No text is a list not opened."""
    from msgspec.structs import replace

    from checker import report as formats

    found = [_checked(name, text, kit, enclosed=wanted in formats.WITH_ENCLOSURES) for name, text in texts]
    reports = [each[0] for each in found if each is not None]
    printed = replace(
        page(several=len(texts) > 1),
        enclosures=tuple(each[1] for each in found if each is not None) if wanted in formats.WITH_ENCLOSURES else (),
        rules=_explanations() if wanted in formats.WITH_RULES else {},
        unopened=tuple(sayable(name) for (name, _), each in zip(texts, found) if each is None),
    )
    write(formats.render(wanted, reports, printed), for_machines=wanted in formats.FOR_MACHINES)
    return max(MISUSED if each is None else status(each[0]) for each in found)


def _explanations() -> dict[str, tuple[Section, ...]]:
    """What every rule means, in sections, by slug."""
    from checker import rules
    from checker.report.explanation import sections_of

    return {slug: sections_of(rules.explain(slug)) for slug in rules.slugs()}


def _schema(arguments: Namespace) -> int:
    if arguments.files or arguments.format or arguments.mend or arguments.follow:
        raise Misuse("--schema stands alone: it prints what the JSON of a report looks like")
    from checker.report.json_schema import shipped

    write(shipped(), for_machines=True)
    return CLEAR


def _follow(names: list[str], wanted: str, arguments: Namespace) -> int:
    """Check one file again on every save; the status of the last check."""
    if wanted != "terminal" or arguments.mend or arguments.into is not None:
        raise Misuse("--follow is for reading along: it goes with --format terminal only, and not with --mend")
    if len(names) != 1 or names[0] == STANDARD_INPUT:
        raise Misuse("--follow follows one list in a file: name that FILE")
    if read(names[0]) is None:
        return MISUSED
    from checker.commands.following import follow

    return follow(Path(names[0]), lambda content: _print([(names[0], content)], wanted, arguments.parts))


def status(report: Report) -> int:
    """The exit status of one report: 0 clear, 2 unreadable, 1 anything else."""
    return _STATUSES.get(report.verdict, FOUND)


def _names(files: list[str]) -> list[str]:
    """The files to read; standard input where none is named and something is piped in."""
    if files.count(STANDARD_INPUT) > 1:
        raise Misuse("standard input (-) can be read only once")
    if files:
        return files
    if sys.stdin is None or sys.stdin.closed or sys.stdin.isatty():
        raise Misuse(_NO_LIST)
    return [STANDARD_INPUT]


def _checked(name: str, text: bytes | None, kit: Path | None, *, enclosed: bool) -> tuple[Report, Enclosure] | None:
    """The report on one list and what is set beside it (nothing unless ``enclosed``); None, with the reason on standard
    error, where there can be none."""
    if text is None:
        return None
    try:
        return _with_enclosure(name, text, kit) if enclosed else _alone(name, text, kit)
    except Exception as problem:
        # One list that trips the checker must not cost the others their report.
        if sys.flags.dev_mode:
            raise
        complain(_OUR_FAULT.format(name=name, problem=f"{type(problem).__name__}: {problem}"))
        return None


def _alone(name: str, text: bytes, kit: Path | None) -> tuple[Report, Enclosure]:
    from checker.checking import check
    from checker.report.page import Enclosure

    return check(text, file=sayable(name), kit=kit), Enclosure()


def _with_enclosure(name: str, text: bytes, kit: Path | None) -> tuple[Report, Enclosure]:
    from checker.checking import examine
    from checker.commands.enclosing import enclosure_of

    report, surveyed = examine(text, file=sayable(name), kit=kit)
    return report, enclosure_of(surveyed, report, kit)


def _mend(names: list[str], arguments: Namespace) -> int:
    """Print the mended list; the status is that of the list as printed, its verdict goes to standard error."""
    if len(names) != 1 or arguments.format:
        raise Misuse("--mend prints one list: give it one FILE and no --format")
    text = read(names[0])
    if text is None:
        return MISUSED
    try:
        before = text.decode("utf-8")
    except UnicodeDecodeError:
        raise Misuse(f"{names[0]} is not UTF-8 text, so nothing can be mended in it") from None
    from checker.checking import check
    from checker.mend import mend
    from checker.report.words import VERDICT_WORDS

    after = mend(before, kit=arguments.parts)
    if arguments.into is None:
        write(after, for_machines=True)
    else:
        write_whole(arguments.into, after)
    report = check(after, file=sayable(names[0]), kit=arguments.parts)
    changed = "nothing was changed" if after == before else "mended"
    where = "printed" if arguments.into is None else f"written to {arguments.into}"
    print(f"{changed}; the list as {where}: {VERDICT_WORDS[report.verdict]}", file=sys.stderr)
    return status(report)
