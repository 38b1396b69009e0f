"""Archives and workbooks for tests, byte by byte where a library would not write what a hostile hand does."""

from __future__ import annotations

import stat
import struct
import zipfile
from collections.abc import Mapping, Sequence
from io import BytesIO
from xml.sax.saxutils import escape

_SHEET = '<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{}</sheetData></worksheet>'
_SHARED = '<?xml version="1.0"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">{}</sst>'


def archive(entries: Mapping[str, bytes]) -> bytes:
    """A plain archive."""
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as written:
        for name, data in entries.items():
            written.writestr(name, data)
    return buffer.getvalue()


def with_link(name: str, target: str, others: Mapping[str, bytes]) -> bytes:
    """An archive with a symbolic link in it."""
    buffer = BytesIO(archive(others))
    with zipfile.ZipFile(buffer, "a") as written:
        entry = zipfile.ZipInfo(name)
        entry.external_attr = (stat.S_IFLNK | 0o777) << 16
        written.writestr(entry, target)
    return buffer.getvalue()


def encrypted(data: bytes, name: str) -> bytes:
    """The archive with the bit set that says an entry is encrypted, in its header and in the table of contents (PKWARE
    APPNOTE 6.3.10, sections 4.3.7 and 4.3.12)."""
    changed = bytearray(data)
    word = name.encode()
    for signature, flags, at_name in ((b"PK\x03\x04", 6, 30), (b"PK\x01\x02", 8, 46)):
        start = changed.find(signature)
        while start >= 0:
            if changed[start + at_name:start + at_name + len(word)] == word:
                changed[start + flags] |= 1
            start = changed.find(signature, start + 4)
    return bytes(changed)


def claiming_entries(count: int) -> bytes:
    """An archive whose end record claims so many entries."""
    data = archive({"a.legs": b"board half\n"})
    at = data.rfind(b"PK\x05\x06")
    return data[:at + 8] + struct.pack("<HH", count, count) + data[at + 12:]


def workbook(rows: Sequence[Sequence[str | float]], *, shared: bool = True) -> bytes:
    """A workbook with one sheet (ECMA-376 part 1, 18.3 and 18.4); its texts shared, or written in the cells."""
    texts: list[str] = []
    lines = []
    for number, row in enumerate(rows, start=1):
        cells = []
        for column, value in enumerate(row):
            place = f"{chr(ord('A') + column)}{number}"
            if not isinstance(value, str):
                cells.append(f'<c r="{place}"><v>{value}</v></c>')
            elif shared:
                cells.append(f'<c r="{place}" t="s"><v>{len(texts)}</v></c>')
                texts.append(value)
            elif value:
                cells.append(f'<c r="{place}" t="inlineStr"><is><t>{escape(value)}</t></is></c>')
        lines.append(f'<row r="{number}">{"".join(cells)}</row>')
    strings = _SHARED.format("".join(f'<si><t xml:space="preserve">{escape(text)}</t></si>' for text in texts))
    return archive({"xl/worksheets/sheet1.xml": _SHEET.format("".join(lines)).encode(), "xl/sharedStrings.xml": strings.encode()})
