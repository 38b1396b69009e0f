"""Submissions in a table: a CSV file with one row a person and the pasted list in one of its cells.

Input: the bytes or the path of a table, and the column's name where it is not to be guessed. Output: submissions, row by row.
The column with the lists is the one whose cells read most like lists; names, identifiers and times go by their headings.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from io import BytesIO, TextIOWrapper
from itertools import chain, islice
from pathlib import Path

from msgspec import Struct

from checker.batch.entries import problem_of, text_of
from checker.batch.limits import MOST_CELL, MOST_COLUMNS, SAMPLE_ROWS
from checker.batch.model import SourceError, Submission
from grammar import nearest

Cells = Sequence[str]

_STATEMENT = re.compile(r"(?im)^\s*(?:title|by|board|supply|part|wire|power|pin|keep|expect)\b")
_HEADINGS = {
    "name": ("name", "who", "student", "person", "author", "participant"),
    "first": ("first name", "firstname", "given name"),
    "last": ("last name", "lastname", "surname", "family name"),
    "identifier": ("identifier", "id", "number", "login", "user", "username", "email", "mail", "email address"),
    "time": ("handed in", "submitted", "time", "timestamp", "date", "completed"),
}
"""Headings by what they hold, the surest first; letters only, any case: common practice, no source."""

_DAY_ZERO = datetime(1899, 12, 30)
"""Day zero of a spreadsheet's dates, from 1900-03-01 on (ECMA-376 part 1, section 18.17.4.1)."""

_FIRST_DAY, _LAST_DAY = 36_526.0, 73_050.0
"""Day numbers that are taken for times: those of the years 2000 to 2099."""


class Columns(Struct, frozen=True):
    """Where in a row what stands: numbers from 0, None where nothing does. ``name`` may be two columns."""

    text: int
    name: tuple[int, ...] = ()
    identifier: int | None = None
    time: int | None = None


def from_csv(source: Path | bytes, *, file: str, column: str | None = None) -> Iterator[Submission]:
    """Every row of a CSV file. Raises SourceError where no column holds lists."""
    with (source.open("rb") if isinstance(source, Path) else BytesIO(source)) as raw:
        start = raw.read(65_536)
        raw.seek(0)
        with TextIOWrapper(raw, encoding=_encoding(start), errors="replace", newline="") as text:
            csv.field_size_limit(MOST_CELL)
            yield from from_rows(_rows(csv.reader(text, delimiter=_delimiter(start))), file=file, column=column)


def _encoding(start: bytes) -> str:
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "utf-16"
    try:
        start[:-3].decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8-sig"


def _delimiter(start: bytes) -> str:
    """The separator of the heading: a comma, a semicolon or a tab, whichever it has most of."""
    heading = start.replace(b"\0", b"").split(b"\n", 1)[0].decode("utf-8", errors="replace")
    return max((",", ";", "\t"), key=heading.count)


def _rows(reader: Iterator[list[str]]) -> Iterator[Cells]:
    """The rows; one that cannot be read (a cell of more than a megabyte) is a row without cells."""
    while True:
        try:
            yield next(reader)
        except StopIteration:
            return
        except csv.Error:
            yield ()


def from_rows(rows: Iterable[Cells], *, file: str, column: str | None = None) -> Iterator[Submission]:
    """Every row after the heading."""
    reading = iter(rows)
    heading = [cell.strip() for cell in next(reading, ())][:MOST_COLUMNS]
    sample = list(islice(reading, SAMPLE_ROWS))
    columns = _columns(heading, sample, column)
    for number, cells in enumerate(chain(sample, reading), start=2):
        if any(cell.strip() for cell in cells) or not cells:
            yield _submission(cells, columns, f"{file}, row {number}")


def _columns(heading: Sequence[str], sample: Sequence[Cells], wanted: str | None) -> Columns:
    taken = _wanted(heading, wanted) if wanted is not None else _most_listlike(heading, sample)
    found = {what: _headed(heading, words, taken) for what, words in _HEADINGS.items()}
    both = tuple(at for at in (found["first"], found["last"]) if at is not None)
    single = (found["name"],) if found["name"] is not None else ()
    return Columns(taken, both if len(both) == 2 else single or both, found["identifier"], found["time"])


def _wanted(heading: Sequence[str], wanted: str) -> int:
    plain = [name.casefold() for name in heading]
    if wanted.strip().casefold() in plain:
        return plain.index(wanted.strip().casefold())
    near = nearest(wanted, heading)
    said = f"The nearest is '{near[0]}'" if near else f"There are: {', '.join(name for name in heading if name)}"
    raise SourceError(f"there is no column '{wanted}'. {said}")


def _most_listlike(heading: Sequence[str], sample: Sequence[Cells]) -> int:
    """The column with the most lines that begin like a statement."""
    counts = [sum(len(_STATEMENT.findall(cells[at])) for cells in sample if at < len(cells)) for at in range(len(heading))]
    if not counts or max(counts) == 0:
        raise SourceError("no column holds lists; name it with --column")
    return counts.index(max(counts))


def _headed(heading: Sequence[str], words: Sequence[str], taken: int) -> int | None:
    """The column under one of these words, as the whole heading first, then as part of it."""
    plain = [" ".join(re.findall(r"[a-z]+", name.lower())) for name in heading]
    free = [at for at in range(len(plain)) if at != taken]
    whole = (at for word in words for at in free if plain[at] == word)
    part = (at for word in words for at in free if re.search(rf"\b{word}\b", plain[at]))
    return next(chain(whole, part), None)


def _submission(cells: Cells, columns: Columns, where: str) -> Submission:
    def cell(at: int | None) -> str:
        return cells[at].strip() if at is not None and at < len(cells) else ""

    name = " ".join(filter(None, (cell(at) for at in columns.name)))
    identifier = cell(columns.identifier)
    data = (cells[columns.text] if columns.text < len(cells) else "").encode("utf-8", errors="replace")
    problem = problem_of(data) if cells else "the row cannot be read: a cell is too large or broken"
    when = when_of(cell(columns.time))
    return Submission(name=name or identifier or where, identifier=identifier, file=where, problem=problem,
                      text=b"" if problem else text_of(data), handed_in=when, time_from="the table" if when else "")


def when_of(text: str) -> datetime | None:
    """A time as ISO 8601 writes it (``2026-03-02 18:05``), local, or as a spreadsheet's day number; else nothing."""
    try:
        when = datetime.fromisoformat(text.strip())
    except ValueError:
        return _of_day_number(text)
    return when.astimezone().replace(tzinfo=None) if when.tzinfo else when


def _of_day_number(text: str) -> datetime | None:
    try:
        days = float(text)
    except ValueError:
        return None
    return _DAY_ZERO + timedelta(seconds=round(days * 86_400)) if _FIRST_DAY < days < _LAST_DAY else None
