"""A whole batch, as one function: submissions in, rows and files out. Nothing is printed.

``run_batch`` is what the command and the page call. Three steps: the intake reads every submission once; the drive checks each
different text once and keeps its outcome in the journal; the write-up goes through the rows and writes every file
whole. Only the journal grows with the number of lists, and it is on disk.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterable
from io import BytesIO
from pathlib import Path

from msgspec import Struct

from checker.batch.class_page import class_page
from checker.batch.desk_page import desk_page
from checker.batch.driving import PATIENCE, outcomes_of
from checker.batch.feedback import FORMATS
from checker.batch.intake import Intake
from checker.batch.journal import Journal
from checker.batch.judging import prepared
from checker.batch.limits import MOST_COMPARED
from checker.batch.machine import write_csv, write_json, write_junit
from checker.batch.marking import Judged
from checker.batch.model import Job, Progress, Rows, Submission
from checker.batch.roster import Roster
from checker.batch.rows import Desk, Marked
from checker.batch.scheme import Scheme
from checker.batch.shelf import Folder, Memory, Shelf
from checker.batch.sketch import alike_groups
from checker.batch.tally import ClassTally, Tallying
from checker.batch.workers import Executor, Here, Lanes, cores

JOURNAL = "journal.bin"


class Options(Struct, frozen=True, kw_only=True):
    """How a batch is run. ``kit`` and ``reference`` are the bytes of a parts file and of a list; ``feedback`` a key of
    ``feedback.FORMATS`` or empty for none; ``workers`` processes, 0 for none beside this one (then nothing that hangs can be
    stopped), None for one a core; ``patience`` seconds for each list; ``title`` what the lists are of."""

    kit: bytes | None = None
    reference: bytes | None = None
    scheme: Scheme | None = None
    roster: Roster | None = None
    feedback: str = ""
    workers: int | None = None
    patience: float = PATIENCE
    title: str = ""


class Batch(Struct, frozen=True):
    """What came of it. ``rows`` can be gone through any number of times; with an output folder they are read from it anew,
    and ``files`` is empty, else it holds every file by name. ``again`` counts the texts that an earlier run checked."""

    rows: Rows
    tally: ClassTally
    files: dict[str, bytes]
    again: int = 0


def run_batch(submissions: Iterable[Submission], options: Options | None = None, *, out: Path | None = None,
              executor: Executor | None = None, progress: Callable[[Progress], None] | None = None) -> Batch:
    """Check every submission and write it up, into the folder ``out`` or else in memory.

    ``progress`` is called after each text. ``executor`` says where to work and is left open. Raises SourceError for a source
    that is none, LibraryError for a kit and OSError for a folder that cannot be used; whatever is wrong with one list is
    told in its row."""
    options = options or Options()
    job = Job(kit=options.kit, reference=options.reference)
    judged = _judged(job)
    if out is not None:
        out.mkdir(parents=True, exist_ok=True)
    intake = Intake(submissions, job)
    journal = Journal(out / JOURNAL if out is not None else None)
    again = _check(intake, journal, job, options, executor, progress)
    marked = Marked(options.scheme, judged) if options.scheme is not None else None
    desk = Desk(intake, journal, options.roster, marked, FORMATS[options.feedback][0] if options.feedback else "")
    shelf: Folder | Memory = Folder(out) if out is not None else Memory()
    tally = _write_up(desk, options, shelf)
    if isinstance(shelf, Memory):
        return Batch(tuple(desk), tally, shelf.files, again)
    return Batch(desk, tally, {}, again)


def _judged(job: Job) -> Judged:
    """What can be judged; the kit and the reference are read here first, so that what is wrong with them is said at once."""
    reference = prepared(job).reference
    return Judged(reference is not None, reference is not None and bool(reference.bench.expects))


# ── checking ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _check(intake: Intake, journal: Journal, job: Job, options: Options, executor: Executor | None,
           progress: Callable[[Progress], None] | None) -> int:
    """Every text that the journal does not know; how many it knew."""
    known = sum(key in journal for key in intake.keys())
    total = len(list(intake.keys()))
    done = known
    if progress is not None:
        progress(Progress(done, total, known))
    if known < total:
        working = executor or (Here() if options.workers == 0 else Lanes(min(options.workers or cores(), total - known)))
        try:
            works = intake.works(key for key in intake.keys() if key not in journal)
            for outcome in outcomes_of(works, job, working, options.patience):
                journal.add(outcome)
                done += 1
                if progress is not None:
                    progress(Progress(done, total, known))
        finally:
            if executor is None:
                working.close()
    return known


# ── writing up ────────────────────────────────────────────────────────────────────────────────────────────────────


def _write_up(desk: Desk, options: Options, shelf: Shelf) -> ClassTally:
    """Every file of the batch; the pages for the class come last, so that where they are, everything is."""
    alike, bounded = _alike(desk)
    desk.alike = {number: place for place, group in enumerate(alike, start=1) for number in group}
    tallying = Tallying()
    render = FORMATS[options.feedback][1] if options.feedback else None
    for row, outcome in desk.with_outcomes():
        tallying.add(row, outcome)
        if render is not None:
            with shelf.writing(row.feedback) as stream:
                stream.write(render(row, outcome))
    tally = tallying.tally(len(list(desk.intake.keys())), alike, bounded)
    with shelf.writing("summary.csv") as stream:
        write_csv(desk, stream)
    with shelf.writing("summary.json") as stream:
        write_json(desk, tally, stream)
    with shelf.writing("junit.xml") as stream:
        write_junit(desk, tally, stream)
    with shelf.writing("lists.html") as stream:
        stream.write(desk_page(desk, tally, options.title))
    with shelf.writing("class.html") as stream:
        stream.write(class_page(tally, options.title))
    return tally


def _alike(desk: Desk) -> tuple[tuple[tuple[int, ...], ...], bool]:
    """Groups of row numbers whose lists are alike; none, and True, where there are too many to look."""
    if len(desk.intake) > MOST_COMPARED:
        return (), True
    outcomes = ((number, desk.outcome_of(submission)) for number, submission in enumerate(desk.intake, start=1))
    sketches = ((number, outcome.sketch) for number, outcome in outcomes if outcome is not None and outcome.sketch)
    return tuple(map(tuple, alike_groups(sketches))), False


def zipped(batch: Batch) -> bytes:
    """The files of a batch in memory as one archive to download."""
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted(batch.files.items()):
            archive.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED)
    return buffer.getvalue()
