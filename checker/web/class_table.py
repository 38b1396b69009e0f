"""A class as a table and files to keep, for the page of a class.

Input: uploaded files, each under the name of its field. Output: a ``ClassAnswer``. ``checker.batch`` does the work; a file is
only ever its bytes, its name is shown and never opened.
"""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path

from msgspec import Struct

from checker.batch import (
    Batch,
    Options,
    Row,
    SchemeError,
    SourceError,
    from_memory,
    read_roster,
    read_scheme,
    run_batch,
    zipped,
)
from checker.batch.words import counted, points, remarks_of, said_of, stamp, stamp_class
from checker.batch.workers import cores
from checker.report.words import visible
from parts_library import LibraryError


class Upload(Struct, frozen=True):
    """Everything that came with one request: files as (name, bytes), None where a field was left empty."""

    lists: tuple[tuple[str, bytes], ...]
    reference: tuple[str, bytes] | None = None
    marks: tuple[str, bytes] | None = None
    roster: tuple[str, bytes] | None = None


class Download(Struct, frozen=True):
    """A file to keep; ``content`` in base64, as JSON has no bytes."""

    name: str
    type: str
    content: str


class TableRow(Struct, frozen=True):
    """One person: the verdict as a word of the report (or "missing", "not-checked"), and cells in the order of the columns."""

    verdict: str
    cells: tuple[str, ...]


class ClassAnswer(Struct, frozen=True, kw_only=True):
    """The table of a class. ``verdict_column`` counts from 0."""

    summary: str
    columns: tuple[str, ...]
    verdict_column: int
    rows: tuple[TableRow, ...]
    downloads: tuple[Download, ...]


class NotReadable(Exception):
    """An upload that is no class; the message says why, for the reader."""


_KINDS = {"summary.csv": "text/csv", "class.html": "text/html", "lists.html": "text/html"}
_ALL = "everything.zip"
_TOO_MANY = "These are {count} lists; the page takes {most}. The command takes more: legwise batch."


def class_answer(upload: Upload, kit: Path | None, most: int) -> ClassAnswer:
    """The answer for at most ``most`` lists. Raises NotReadable."""
    try:
        submissions = tuple(from_memory(upload.lists))
        if len(submissions) > most:
            raise NotReadable(_TOO_MANY.format(count=len(submissions), most=most))
        if not submissions:
            raise NotReadable("There is no list in what was handed in.")
        options = Options(
            workers=max(1, cores() // 2),  # The other half is left to those who check one list.
            kit=kit.read_bytes() if kit else None, reference=upload.reference[1] if upload.reference else None,
            scheme=read_scheme(upload.marks[1], upload.marks[0]) if upload.marks else None,
            roster=read_roster(upload.roster[1], upload.roster[0]) if upload.roster else None, feedback="html")
        return _told(run_batch(submissions, options), upload)
    except (SourceError, SchemeError, LibraryError) as problem:
        raise NotReadable(str(problem)) from None


def _told(batch: Batch, upload: Upload) -> ClassAnswer:
    marked, compared = upload.marks is not None, upload.reference is not None
    remarked = any(remarks_of(row) for row in batch.rows)
    columns = ("Name", "Verdict", *(("Mark",) if marked else ()), *(("Like the reference",) if compared else ()),
               "What was found", "What to do first", *(("For whoever marks",) if remarked else ()))
    rows = tuple(TableRow(stamp_class(row), tuple(map(visible, _cells(row, marked, compared)[:len(columns)])))
                 for row in batch.rows)
    clear = sum(row.verdict == "clear" for row in rows)
    downloads = [Download(name, kind, b64encode(batch.files[name]).decode()) for name, kind in _KINDS.items()]
    return ClassAnswer(summary=f"{counted(len(rows), 'list')}, {clear} clear.", columns=columns, verdict_column=1, rows=rows,
                       downloads=(*downloads, Download(_ALL, "application/zip", b64encode(zipped(batch)).decode())))


def _cells(row: Row, marked: bool, compared: bool) -> tuple[str, ...]:
    likeness = "" if row.likeness is None else "the same circuit" if row.same else f"{row.likeness:.0%} alike"
    return (row.name, stamp(row), *((points(row.mark) if row.mark else "",) if marked else ()),
            *((likeness,) if compared else ()), said_of(row), row.first, "; ".join(remarks_of(row)))
