"""Where submissions come from: folders, files, archives, tables.

Input: what was named on the command line, or files in memory. Output: submissions, one after the other. What is no source at
all raises SourceError; what is wrong with one submission is told in its row.
"""

from __future__ import annotations

import glob
from collections.abc import Iterable, Iterator
from functools import partial
from pathlib import Path

from checker.batch.archives import from_zip
from checker.batch.folders import Content, from_files, from_folder, people_of, place_of
from checker.batch.model import SourceError, Submission
from checker.batch.spreadsheets import rows_of
from checker.batch.tables import from_csv, from_rows

__all__ = ["SourceError", "from_memory", "from_paths"]

_TABLES = (".csv", ".tsv")
_SPREADSHEETS = (".xlsx",)
_MAGIC = "*?["


def from_paths(names: Iterable[str], column: str | None = None) -> Iterator[Submission]:
    """The submissions of folders, archives, tables, files and patterns such as ``lists/*.legs``, in the order named."""
    loose: list[Path] = []
    for path in _expanded(names):
        if path.is_dir():
            yield from from_folder(path)
        elif path.suffix.lower() in (".zip", *_TABLES, *_SPREADSHEETS):
            yield from _container(path, path.name, column)
        else:
            loose.append(path)
    yield from from_files(loose)


def _expanded(names: Iterable[str]) -> Iterator[Path]:
    """The paths that were named; a pattern that the shell left alone is filled in."""
    for name in names:
        if Path(name).exists() or Path(name).is_symlink():
            yield Path(name)
        elif any(sign in name for sign in _MAGIC):
            found = sorted(glob.glob(name, recursive=True))
            if not found:
                raise SourceError(f"nothing is called {name}")
            yield from map(Path, found)
        else:
            raise SourceError(f"there is no folder or file {name}")


def _container(source: Path | bytes, name: str, column: str | None) -> Iterator[Submission]:
    ending = Path(name).suffix.lower()
    try:
        if ending == ".zip":
            yield from from_zip(source)
        elif ending in _TABLES:
            yield from from_csv(source, file=name, column=column)
        else:
            yield from from_rows(rows_of(source), file=name, column=column)
    except SourceError as problem:
        raise SourceError(f"{name}: {problem}") from None
    except OSError as error:
        raise SourceError(f"{name} cannot be opened: {error.strerror or error}") from None


def from_memory(files: Iterable[tuple[str, bytes]], column: str | None = None) -> Iterator[Submission]:
    """The submissions of uploaded files, each a name (only its ending and its words are used) and its bytes."""
    loose = []
    for name, data in files:
        if Path(name).suffix.lower() in (".zip", *_TABLES, *_SPREADSHEETS):
            yield from _container(data, name, column)
        else:
            loose.append(place_of(name.replace("\\", "/"), partial(Content, data)))
    yield from people_of(loose)
