"""The journal: outcomes as they come, on disk or in memory, so that a run that was interrupted goes on where it stopped.

One record an outcome: its length and its CRC-32, four bytes each, then msgpack. Outcomes are found by their key, which holds the
text, the version and everything they were checked with; a record that was cut off ends the journal, and what follows
it is checked again.
"""

from __future__ import annotations

import os
import struct
import tempfile
import weakref
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

import msgspec

from checker.batch.model import Outcome

_HEAD = struct.Struct("<LL")
_MOST_RECORD = 200_000_000


class Journal:
    """Outcomes by key. In memory only their places are held, some hundred bytes each."""

    def __init__(self, path: Path | None = None) -> None:
        """A journal in a file that is kept; without a path in a temporary one. Raises OSError where it cannot be written."""
        self._file: BinaryIO = tempfile.TemporaryFile() if path is None else _opened(path)
        weakref.finalize(self, self._file.close)
        self._places: dict[bytes, int] = {}
        self._end = 0
        for at, outcome in self._records():
            self._places[outcome.key] = at
        self._file.truncate(self._end)

    def _records(self) -> Iterator[tuple[int, Outcome]]:
        self._file.seek(0)
        while True:
            at = self._file.tell()
            outcome = self._next()
            if outcome is None:
                return
            self._end = self._file.tell()
            yield at, outcome

    def _next(self) -> Outcome | None:
        head = self._file.read(_HEAD.size)
        if len(head) < _HEAD.size:
            return None
        length, check = _HEAD.unpack(head)
        data = self._file.read(length) if length <= _MOST_RECORD else b""
        if len(data) < length or zlib.crc32(data) != check:
            return None
        try:
            return msgspec.msgpack.decode(data, type=Outcome)
        except msgspec.MsgspecError:
            return None

    def __contains__(self, key: bytes) -> bool:
        return key in self._places

    def __len__(self) -> int:
        return len(self._places)

    def add(self, outcome: Outcome) -> None:
        """Written at once: what is in the journal survives the process."""
        data = msgspec.msgpack.encode(outcome)
        self._file.seek(self._end)
        self._file.write(_HEAD.pack(len(data), zlib.crc32(data)) + data)
        self._file.flush()
        self._places[outcome.key] = self._end
        self._end += _HEAD.size + len(data)

    def get(self, key: bytes) -> Outcome:
        """KeyError where there is none."""
        self._file.seek(self._places[key])
        outcome = self._next()
        assert outcome is not None, "a record that was written cannot be read"
        return outcome

def _opened(path: Path) -> BinaryIO:
    return os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o644), "r+b")
