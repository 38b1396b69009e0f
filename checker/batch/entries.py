"""One file of a submission, whatever it came in: is it a text list, or why not.

Input: a name and bytes, cut off above the limit. Output: text, or a sentence for the row.
"""

from __future__ import annotations

from pathlib import PurePosixPath

from checker.batch.limits import MOST_BYTES

LIST_ENDINGS = (".legs", ".txt", ".text", ".md", "")
"""Files that are taken for lists; others are only looked at where a person handed in nothing else."""

_IGNORED = ("__macosx", "thumbs.db", "desktop.ini")
TOO_LARGE = f"it is larger than {MOST_BYTES // 1_000_000} MB, which no list is"
_STARTS = (
    (b"%PDF", "it is a PDF, not a text list"),
    (b"\x89PNG", "it is a picture, not a text list"),
    (b"\xff\xd8\xff", "it is a picture, not a text list"),
    (b"GIF8", "it is a picture, not a text list"),
    (b"PK\x03\x04", "it is an archive or an office document, not a text list"),
    (b"\x1f\x8b", "it is an archive, not a text list"),
    (b"7z\xbc\xaf", "it is an archive, not a text list"),
    (b"Rar!", "it is an archive, not a text list"),
    (b"\xd0\xcf\x11\xe0", "it is an office document, not a text list"),
    (b"{\\rtf", "it is a formatted document; save it as plain text"),
)
_MOST_CONTROLS = 0.02


def is_ignored(name: str) -> bool:
    """True for what a computer leaves lying about and nobody handed in."""
    parts = [part.lower() for part in PurePosixPath(name).parts]
    return any((part.startswith(".") and part not in (".", "..")) or part in _IGNORED for part in parts)


def is_listlike(name: str) -> bool:
    """True for a file whose name says that it may be a list."""
    return PurePosixPath(name).suffix.lower() in LIST_ENDINGS


def problem_of(data: bytes) -> str:
    """Why these bytes are no text list; nothing where they may be one. UTF-16 counts as text (``text_of``)."""
    if len(data) > MOST_BYTES:
        return TOO_LARGE
    for start, said in _STARTS:
        if data.startswith(start):
            return said
    if not data.strip():
        return "it is empty"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return ""
    controls = sum(data.count(bytes([code])) for code in range(32) if code not in (9, 10, 12, 13))
    return "it is not text" if controls > _MOST_CONTROLS * len(data) or b"\0" in data else ""


def text_of(data: bytes) -> bytes:
    """The text as UTF-8: UTF-16 with a byte-order mark is decoded, and what is no UTF-8 is read as Windows-1252, which old
    editors write."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace").encode()
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace").encode()
    return data
