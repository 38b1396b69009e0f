"""Submissions in a zip: one folder a person, or one file a person. Nothing is unpacked to disk.

Input: the bytes or the path of an archive. Output: submissions. An entry that is hostile or broken becomes a row that says so;
an archive whose table of contents alone is too large is refused before it is read (``struct`` finds its size in the end
record, PKWARE APPNOTE 6.3.10, section 4.3.16).
"""

from __future__ import annotations

import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from io import BytesIO
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import BinaryIO

from checker.batch.entries import TOO_LARGE, is_ignored
from checker.batch.folders import Content, Place, people_of, place_of
from checker.batch.limits import (
    MOST_ARCHIVE_BYTES,
    MOST_BYTES,
    MOST_DIRECTORY_BYTES,
    MOST_ENTRIES,
    MOST_RATIO,
    MOST_UNPACKED_BYTES,
)
from checker.batch.model import SourceError, Submission

_END_RECORD = b"PK\x05\x06"
_END_LENGTH, _LONGEST_COMMENT = 22, 65_535
_ENCRYPTED = 0x1
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError, struct.error)


def from_zip(source: Path | bytes) -> Iterator[Submission]:
    """Every list in an archive, in its own order. Raises SourceError for what is no usable archive."""
    size = source.stat().st_size if isinstance(source, Path) else len(source)
    if size > MOST_ARCHIVE_BYTES:
        raise SourceError(f"the archive is larger than {MOST_ARCHIVE_BYTES // 1_000_000} MB")
    with (source.open("rb") if isinstance(source, Path) else BytesIO(source)) as file:
        _sizes_can_be_used(file, size)
        try:
            with zipfile.ZipFile(file) as archive:
                yield from people_of(_places(archive))
        except zipfile.BadZipFile as error:
            raise SourceError(f"the archive is broken: {error}") from None


def _sizes_can_be_used(file: BinaryIO, size: int) -> None:
    file.seek(max(0, size - _END_LENGTH - _LONGEST_COMMENT))
    tail = file.read()
    at = tail.rfind(_END_RECORD)
    if at < 0 or len(tail) - at < _END_LENGTH:
        raise SourceError("it is no zip archive, or it is cut off")
    entries, directory = struct.unpack_from("<HL", tail, at + 10)
    if directory > MOST_DIRECTORY_BYTES or entries > MOST_ENTRIES:
        raise SourceError(f"the archive has more than {MOST_ENTRIES} entries; hand them over as a folder")
    file.seek(0)


def _places(archive: zipfile.ZipFile) -> list[Place]:
    entries = [entry for entry in archive.infolist() if not entry.is_dir() and not is_ignored(entry.filename)]
    cut = _common_folder([entry.filename for entry in entries])
    unpacked = Unpacked()
    return [place_of(entry.filename[cut:], partial(_load, archive, entry, unpacked)) for entry in entries]


class Unpacked:
    """How many bytes of an archive were unpacked so far."""

    def __init__(self) -> None:
        self.bytes = 0


def _load(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, unpacked: Unpacked) -> Content:
    data, problem = b"", _problem(entry, MOST_UNPACKED_BYTES - unpacked.bytes)
    if not problem:
        data, problem = _content(archive, entry)
        unpacked.bytes += len(data)
    return Content(data, problem, _time(entry), "the archive")


def _common_folder(names: list[str]) -> int:
    """How many characters of a folder around everything: it names no person."""
    first = {name.split("/", 1)[0] for name in names}
    inside = all(name.count("/") >= 2 for name in names)
    return len(first.pop()) + 1 if names and len(first) == 1 and inside else 0


def _problem(entry: zipfile.ZipInfo, left: int) -> str:
    """Why an entry is left alone, from what the archive says about it."""
    name = entry.filename
    if name.startswith(("/", "\\")) or PureWindowsPath(name).drive or PureWindowsPath(name).is_absolute():
        return "its name in the archive is an absolute path"
    if ".." in PurePosixPath(name).parts or ".." in PureWindowsPath(name).parts:
        return "its name in the archive leads out of the archive"
    if stat.S_ISLNK(entry.external_attr >> 16):
        return "it is a link, and links are not followed"
    if entry.flag_bits & _ENCRYPTED:
        return "it is encrypted"
    if entry.file_size > MOST_BYTES:
        return TOO_LARGE
    if entry.file_size > MOST_RATIO * max(entry.compress_size, 1):
        return f"it is packed more than {MOST_RATIO} times smaller than it is, which no list is"
    return "the archive holds too much before it" if entry.file_size > left else ""


def _content(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> tuple[bytes, str]:
    """The bytes of an entry, at most one more than is allowed, whatever size the archive claims."""
    try:
        with archive.open(entry) as file:
            return file.read(MOST_BYTES + 1), ""
    except _BROKEN as error:
        return b"", f"it cannot be unpacked: {error}"


def _time(entry: zipfile.ZipInfo) -> datetime | None:
    """When the file was last changed; nothing for a time that no calendar has, or for the archive's own zero."""
    try:
        when = datetime(*entry.date_time)
    except ValueError:
        return None
    return when if when.year > 1980 else None
