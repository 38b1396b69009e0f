"""The roster: who should have handed in a list, and by when.

Input: a CSV file with a column of identifiers, and perhaps names, deadlines and times of handing in. Output: the entry of
each submission, and the entries without one.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime
from io import StringIO

from msgspec import Struct

from checker.batch.entries import text_of
from checker.batch.model import SourceError, Submission
from checker.batch.tables import when_of

_COLUMNS = {"identifier": ("identifier", "id", "number", "login", "user", "username", "email"),
            "name": ("name", "student", "person", "who"),
            "deadline": ("deadline", "due"),
            "handed_in": ("handed in", "handed-in", "submitted")}


class Entry(Struct, frozen=True, kw_only=True):
    """One person. Times are local."""

    identifier: str
    name: str = ""
    deadline: datetime | None = None
    handed_in: datetime | None = None

    @property
    def shown(self) -> str:
        return self.name or self.identifier


class Roster(Struct, frozen=True):
    """Everyone, in the order of the file."""

    entries: tuple[Entry, ...]
    by_key: dict[str, int]

    def find(self, submission: Submission) -> int | None:
        """The number of a submission's entry: by its identifier, its name, or an identifier that is a word of its file's
        path."""
        words = (submission.identifier, submission.name, *re.split(r"[\s_/\\]+|\.(?=\w+$)", submission.file))
        return next((self.by_key[key] for word in words if (key := _key(word)) in self.by_key), None)


def _key(word: str) -> str:
    return " ".join(word.casefold().split())


def read_roster(data: bytes, file: str) -> Roster:
    """Raises SourceError, naming the file, the line and the field."""
    text = text_of(data.removeprefix(b"\xef\xbb\xbf")).decode("utf-8", errors="replace")
    heading_line = text.split("\n", 1)[0]
    rows = csv.reader(StringIO(text, newline=""), delimiter=max((",", ";", "\t"), key=heading_line.count))
    heading = [cell.strip().casefold() for cell in next(rows, [])]
    places = {field: next((heading.index(word) for word in words if word in heading), None)
              for field, words in _COLUMNS.items()}
    if places["identifier"] is None:
        raise SourceError(f"{file}: the first line has no column 'identifier'; "
                          "allowed beside it: name, deadline, handed in")
    entries = tuple(_entries(rows, places, file))
    keys: dict[str, int] = {}
    for number, entry in enumerate(entries):
        if _key(entry.identifier) in keys:
            raise SourceError(f"{file}: the identifier '{entry.identifier}' is there twice")
        keys[_key(entry.identifier)] = number
    shared = Counter(_key(entry.name) for entry in entries)
    for number, entry in enumerate(entries):
        if shared[_key(entry.name)] == 1:  # Two people of one name are told apart by their identifiers only.
            keys.setdefault(_key(entry.name), number)
    keys.pop("", None)
    return Roster(entries, keys)


def _entries(rows: Iterator[list[str]], places: dict[str, int | None], file: str) -> Iterator[Entry]:
    for number, cells in enumerate(rows, start=2):
        if not any(cell.strip() for cell in cells):
            continue
        identifier = _cell(cells, places["identifier"])
        if not identifier:
            raise SourceError(f"{file}, line {number}, field identifier: it is empty")
        times = {field: _time(_cell(cells, places[field]), f"{file}, line {number}, field {field.replace('_', ' ')}")
                 for field in ("deadline", "handed_in")}
        yield Entry(identifier=identifier, name=_cell(cells, places["name"]), **times)


def _cell(cells: Sequence[str], at: int | None) -> str:
    return cells[at].strip() if at is not None and at < len(cells) else ""


def _time(text: str, where: str) -> datetime | None:
    if not text:
        return None
    when = when_of(text)
    if when is None:
        raise SourceError(f"{where}: '{text}' is no time; allowed: 2026-03-02 18:00")
    return when
