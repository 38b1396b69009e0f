"""``legwise batch``: a class has handed in its lists.

Input: a folder, an archive, a table, files. Output: a table, and with ``--out`` a folder with one feedback file a person, the
summary as CSV, JSON and JUnit XML, a page for the class and one for the desk.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from checker.commands.shared import CLEAR, FOUND, MISUSED, Misuse, complain, one_of, page, sayable, write

if TYPE_CHECKING:
    from collections.abc import Callable

    from checker.batch import Batch, Options, Progress
    from checker.batch.scheme import Scheme
    from checker.batch.workers import Executor

_FORMATS = ("terminal", "json", "csv")
_NO_SOURCE = """\
no lists were given.
  legwise batch FOLDER                  one file or one folder a person
  legwise batch lists.zip               as a course system gives it
  legwise batch answers.csv             one row a person, the list in one of its cells
  legwise batch --show-marks            the scheme of marks to start from"""
_STOPPED = """\
stopped. {kept}"""
_KEPT = "What was checked is kept in {out}: the same command goes on where this one stopped."
_NOT_KEPT = "With --out FOLDER the next run goes on where this one stopped."


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    add = parser.add_argument
    add("sources", nargs="*", metavar="SOURCE",
        help="a folder, a .zip, a .csv or .xlsx, files, or a pattern such as 'lists/*.legs'")
    add("--column", metavar="NAME", help="the column of a table that holds the lists, where it is not found by itself")
    add("--against", metavar="REFERENCE", type=Path, help="a list that is right: each is compared with it")
    add("--marks", metavar="SCHEME.toml", help="mark every list; 'default' is the scheme that --show-marks prints")
    add("--show-marks", action="store_true", help="print the default scheme of marks, to copy and change")
    add("--roster", metavar="FILE.csv", type=Path, help="who should hand in: identifier, name, deadline, handed in")
    add("--out", metavar="FOLDER", type=Path, help="write feedback, summaries and pages there; go on there if it was stopped")
    add("--feedback", metavar="FORMAT", default="html", help="markdown or html (the default), one file a person")
    add("--format", metavar="FORMAT", default="terminal", help="what is printed: terminal (the default), json or csv")
    add("--workers", metavar="N", type=int, help="processes (default: one a core)")
    add("--cluster", metavar="ADDRESS", help="check on the workers of a dask scheduler, such as tcp://host:8786")
    add("--patience", metavar="SECONDS", type=float, help="how long one list may take (default: 60)")
    add("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Check the class and print its table; the exit status."""
    from checker.batch import default_text

    if arguments.show_marks:
        write(default_text(), for_machines=True)
        return CLEAR
    if not arguments.sources:
        raise Misuse(_NO_SOURCE)
    wanted = one_of(arguments.format, _FORMATS)
    try:
        batch = _batch(arguments)
    except KeyboardInterrupt:
        complain(_STOPPED.format(kept=_KEPT.format(out=arguments.out) if arguments.out else _NOT_KEPT))
        raise
    _print(batch, wanted, arguments.out)
    return _status(batch)


def _status(batch: Batch) -> int:
    """0 where every list is clear (and none another circuit than the reference), 2 where none could be checked, else 1."""
    if not batch.tally.checked:
        return MISUSED
    good = batch.tally.verdicts["clear"] - batch.tally.another
    return CLEAR if good == batch.tally.lists and not batch.tally.missing else FOUND


# ── running ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _batch(arguments: Namespace) -> Batch:
    from checker.batch import SchemeError, SourceError, from_paths, run_batch
    from parts_library import LibraryError

    try:
        options = _options(arguments)
        executor = _executor(arguments.cluster)
        try:
            with _progress() as told:
                return run_batch(from_paths(arguments.sources, arguments.column), options, out=arguments.out,
                                 executor=executor, progress=told)
        finally:
            if executor is not None:
                executor.close()
    except (SourceError, SchemeError) as problem:
        raise Misuse(str(problem)) from None
    except LibraryError as problem:
        raise Misuse(f"the parts of {arguments.parts} cannot be used: {problem}") from None
    except OSError as problem:
        raise Misuse(f"{problem.filename or arguments.out} cannot be used: {problem.strerror or problem}") from None


def _options(arguments: Namespace) -> Options:
    from checker.batch import Options, read_roster
    from checker.batch.driving import PATIENCE
    from checker.batch.feedback import FORMATS

    feedback = one_of(arguments.feedback, FORMATS, "feedback")
    if arguments.workers is not None and arguments.workers < 1:
        raise Misuse("--workers takes a number from 1 on")
    if arguments.patience is not None and not arguments.patience > 0:
        raise Misuse("--patience takes seconds, more than 0")
    reference, roster = _bytes(arguments.against), _bytes(arguments.roster)
    return Options(
        kit=_bytes(arguments.parts), reference=reference, scheme=_scheme(arguments.marks),
        roster=read_roster(roster, arguments.roster.name) if roster is not None else None,
        feedback=feedback if arguments.out else "", workers=arguments.workers,
        patience=arguments.patience if arguments.patience is not None else PATIENCE,
        title=", ".join(sayable(Path(name).name) for name in arguments.sources[:3]))


def _scheme(name: str | None) -> Scheme | None:
    from checker.batch import default_scheme, read_scheme

    if name is None:
        return None
    if name == "default" and not Path(name).exists():
        return default_scheme()
    return read_scheme(_bytes(Path(name)) or b"", Path(name).name)


def _bytes(path: Path | None) -> bytes | None:
    if path is None:
        return None
    if path.is_dir():
        raise Misuse(f"{path} is a folder; name a file")
    return path.read_bytes()


def _executor(address: str | None) -> Executor | None:
    if address is None:
        return None
    try:
        from checker.batch.cluster import Cluster
    except ImportError:
        raise Misuse("--cluster needs an extra: pip install 'legwise[cluster]'") from None
    return Cluster(address)


@contextmanager
def _progress() -> Iterator[Callable[[Progress], None] | None]:
    """A bar with the time left on standard error, where that is a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeRemainingColumn
    from rich.progress import Progress as Bar

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TextColumn("left"), TimeRemainingColumn())
    with Bar(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("checking", total=None)
        yield lambda now: bar.update(task, total=now.total, completed=now.done)


# ── printing ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _print(batch: Batch, wanted: str, out: Path | None) -> None:
    from checker.batch.machine import write_csv, write_json
    from checker.batch.table import written

    if wanted == "terminal":
        write(written(batch, page(), out), for_machines=False)
        return
    from io import StringIO

    stream = StringIO()
    if wanted == "json":
        write_json(batch.rows, batch.tally, stream)
    else:
        write_csv(batch.rows, stream)
    write(stream.getvalue(), for_machines=True)
