"""The shipped library, decoded ahead: ``library.table`` is what the TOML files say, ready to be read in milliseconds.

``python -m parts_library`` writes it anew. Its head holds a checksum of the files, so that a table that is not in step
with them is never used: the files are then read themselves, only slower.
"""

from __future__ import annotations

import gc
import hashlib
from pathlib import Path
from typing import Any

import msgspec

from parts_library.schema import AnyEntry, Package, UnitFloat

TABLE = Path(__file__).parent / "library.table"


class Shipped(msgspec.Struct, frozen=True):
    """All entries and packages of the shipped files, in the order of the files."""

    checksum: str
    entries: tuple[AnyEntry, ...]
    packages: tuple[Package, ...]


def checksum_of(files: list[Path]) -> str:
    """A checksum of the files' names and bytes."""
    digest = hashlib.sha256()
    for path in files:
        digest.update(path.name.encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()


def read_table(files: list[Path], table: Path = TABLE) -> Shipped | None:
    """The table, or None where it is missing, cannot be read, or is not in step with ``files``."""
    collecting = gc.isenabled()
    gc.disable()  # thousands of objects that stay: looking for rubbish among them would take as long as making them
    try:
        shipped = msgspec.msgpack.decode(table.read_bytes(), type=Shipped, dec_hook=_from_number)
    except (OSError, msgspec.DecodeError):
        return None
    finally:
        if collecting:
            gc.enable()
    return shipped if shipped.checksum == checksum_of(files) else None


def write_table(shipped: Shipped, table: Path = TABLE) -> None:
    """Writes the table; the same bytes for the same files."""
    table.write_bytes(msgspec.msgpack.encode(shipped, enc_hook=float))


def _from_number(expected: type, value: Any) -> Any:
    if issubclass(expected, UnitFloat) and isinstance(value, int | float):
        return expected(value)
    raise NotImplementedError(expected)
