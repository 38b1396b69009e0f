"""The shelf: where the files of a batch go, whole or not at all.

``Folder`` puts each file beside its place first and then into it; ``Memory`` keeps them as bytes. What a person is called
never becomes a path as it is: ``path_name`` cleans it, and ``Names`` keeps two from meeting.
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from hashlib import blake2b
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Protocol, TextIO

_UNSAFE = re.compile(r"[^a-z0-9]+")
_MOST_LETTERS = 60
_RESERVED = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)")
"""Names that Windows keeps for devices, whatever their ending (Microsoft Learn, "Naming Files, Paths, and Namespaces")."""


def path_name(name: str) -> str:
    """A name that every file system takes: small letters, digits and dashes; at most 60 of them, and never empty."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", errors="ignore").decode("ascii").lower()
    word = _UNSAFE.sub("-", plain).strip("-")[:_MOST_LETTERS].strip("-")
    if not word:
        word = "list-" + blake2b(name.encode("utf-8", errors="replace"), digest_size=4).hexdigest()
    return f"list-{word}" if _RESERVED.fullmatch(word) else word


class Names:
    """Hands out each name once: the second ana-b is ana-b-2."""

    def __init__(self) -> None:
        self._taken: set[bytes] = set()

    def take(self, name: str) -> str:
        """A clean name that was not given out before."""
        word = path_name(name)
        number, wanted = 1, word
        while (mark := blake2b(wanted.encode(), digest_size=8).digest()) in self._taken:
            number += 1
            wanted = f"{word}-{number}"
        self._taken.add(mark)
        return wanted


class Shelf(Protocol):
    """Takes files by their name below the output folder."""

    def writing(self, name: str) -> AbstractContextManager[TextIO]: ...


class Memory:
    """Files as bytes by name."""

    def __init__(self) -> None:
        self.files: dict[str, bytes] = {}

    @contextmanager
    def writing(self, name: str) -> Iterator[TextIO]:
        """A text to write to; kept once it is whole."""
        buffer = BytesIO()
        text = TextIOWrapper(buffer, encoding="utf-8", errors="replace", newline="")
        yield text
        text.flush()
        self.files[name] = buffer.getvalue()


class Folder:
    """Files below a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @contextmanager
    def writing(self, name: str) -> Iterator[TextIO]:
        """A text to write to; it takes its place once it is whole, and what was there before stays until then."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        beside = path.with_name(path.name + ".part")
        try:
            with beside.open("w", encoding="utf-8", errors="replace", newline="") as text:
                yield text
            os.replace(beside, path)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
