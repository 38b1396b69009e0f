"""Submissions in a folder: one file a person, or one folder a person.

Input: a folder or files. Output: submissions. Links are not followed, and only plain files are opened, so that nothing
endless is read.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path, PurePosixPath

from msgspec import Struct

from checker.batch.entries import is_ignored, is_listlike, problem_of, text_of
from checker.batch.limits import MOST_BYTES
from checker.batch.model import Submission
from checker.batch.people import identifier_in, shown_names


class Content(Struct, frozen=True):
    """What was read at a place: the bytes, or why there are none; when it was changed, and who says so."""

    data: bytes
    problem: str = ""
    handed_in: datetime | None = None
    time_from: str = ""


class Place(Struct, frozen=True):
    """Something handed in, not read yet: ``named`` is the folder or file that names its person, ``file`` its path in the
    source."""

    named: str
    file: str
    load: Callable[[], Content]


def place_of(file: str, load: Callable[[], Content]) -> Place:
    """The place of a path inside its source: its first folder, else the file itself, names the person."""
    path = PurePosixPath(file)
    return Place(path.parts[0] if len(path.parts) > 1 else path.stem, file, load)


def from_folder(folder: Path) -> Iterator[Submission]:
    """Every list below a folder, in the order of the names."""
    found = ((path, path.relative_to(folder).as_posix()) for path in _files_below(folder))
    yield from people_of([place_of(name, partial(_read, path)) for path, name in found if not is_ignored(name)])


def from_files(paths: Iterable[Path]) -> Iterator[Submission]:
    """One list a file."""
    yield from people_of([place_of(path.name, partial(_read, path)) for path in paths])


def _files_below(folder: Path) -> Iterator[Path]:
    for where, folders, files in os.walk(folder, followlinks=False):
        folders.sort()
        yield from (Path(where, name) for name in sorted(files))


def _read(path: Path) -> Content:
    try:
        found = path.lstat()
        if stat.S_ISLNK(found.st_mode):
            return Content(b"", "it is a link, and links are not followed")
        if not stat.S_ISREG(found.st_mode):
            return Content(b"", "it is no plain file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        return Content(b"", f"it cannot be opened: {error.strerror or error}")
    return Content(data, "", datetime.fromtimestamp(found.st_mtime).replace(microsecond=0), "the file")


def people_of(places: Sequence[Place]) -> Iterator[Submission]:
    """The places read one by one, with the names of their people. What is no list is told only of a person who handed in no
    list at all."""
    names = shown_names(list(dict.fromkeys(each.named for each in places)))
    with_list = {each.named for each in places if is_listlike(each.file)}
    for each in places:
        if is_listlike(each.file) or each.named not in with_list:
            yield _submission(each, names[each.named])


def _submission(place: Place, name: str) -> Submission:
    content = place.load()
    problem = content.problem or problem_of(content.data)
    if not problem and not is_listlike(place.file):
        problem = "its name is not that of a text list"
    return Submission(name=name, identifier=identifier_in(place.named), file=place.file, problem=problem,
                      text=b"" if problem else text_of(content.data), handed_in=content.handed_in,
                      time_from=content.time_from if content.handed_in else "")
