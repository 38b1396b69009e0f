"""The first sheet of an ``.xlsx`` file as rows of text.

Input: the bytes or path of a workbook. Output: rows. The standard library reads it, since only texts are wanted: a workbook is
a zip of XML (ECMA-376 part 1, section 18.3 worksheets, 18.4 shared strings). A document with a DTD, which none has, is
refused, so that no entity can grow.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import IO
from xml.etree import ElementTree

from checker.batch.limits import MOST_ARCHIVE_BYTES, MOST_COLUMNS, MOST_RATIO
from checker.batch.model import SourceError

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_FIRST_SHEET, _SHARED = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


def rows_of(source: Path | bytes) -> Iterator[list[str]]:
    """The rows of the first sheet. Raises SourceError for what is no workbook."""
    try:
        with zipfile.ZipFile(source if isinstance(source, Path) else BytesIO(source)) as book:
            names = {entry.filename: entry for entry in book.infolist()}
            sheet = names.get(_FIRST_SHEET) or next(
                (entry for name, entry in sorted(names.items()) if name.startswith("xl/worksheets/")), None)
            if sheet is None:
                raise SourceError("it is no spreadsheet: it has no sheet")
            shared = _strings(book, names[_SHARED]) if _SHARED in names else []
            with _opened(book, sheet) as file:
                yield from _rows(file, shared)
    except (zipfile.BadZipFile, ElementTree.ParseError, OSError, NotImplementedError, RuntimeError, ValueError) as error:
        if isinstance(error, SourceError):
            raise
        raise SourceError(f"the spreadsheet cannot be read: {error}") from None


def _opened(book: zipfile.ZipFile, entry: zipfile.ZipInfo) -> IO[bytes]:
    if entry.file_size > MOST_ARCHIVE_BYTES or entry.file_size > MOST_RATIO * max(entry.compress_size, 1):
        raise SourceError("the spreadsheet unpacks to more than any class hands in")
    with book.open(entry) as file:
        if b"<!DOCTYPE" in file.read(1000).upper():
            raise SourceError("the spreadsheet defines entities, which none needs")
    return book.open(entry)


def _strings(book: zipfile.ZipFile, entry: zipfile.ZipInfo) -> list[str]:
    with _opened(book, entry) as file:
        found = []
        for _, element in ElementTree.iterparse(file):
            if element.tag == f"{_MAIN}si":
                found.append(_text(element))
                element.clear()
        return found


def _text(element: ElementTree.Element) -> str:
    """The text of a shared or inline string: its runs, without what is only said of its pronunciation."""
    spoken = {id(inner) for each in element.iter(f"{_MAIN}rPh") for inner in each.iter(f"{_MAIN}t")}
    runs = "".join(each.text or "" for each in element.iter(f"{_MAIN}t") if id(each) not in spoken)
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), runs)


def _rows(file: IO[bytes], shared: list[str]) -> Iterator[list[str]]:
    for _, element in ElementTree.iterparse(file):
        if element.tag == f"{_MAIN}row":
            cells: dict[int, str] = {}
            for number, cell in enumerate(element.iter(f"{_MAIN}c")):
                cells[_column(cell.get("r", ""), number)] = _value(cell, shared)
            yield [cells.get(at, "") for at in range(min(max(cells, default=-1) + 1, MOST_COLUMNS))]
            element.clear()


def _column(reference: str, otherwise: int) -> int:
    """The column of ``AB12``, from 0."""
    letters = "".join(letter for letter in reference if letter.isalpha()).upper()
    number = 0
    for letter in letters[:4]:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1 if letters else otherwise


def _value(cell: ElementTree.Element, shared: list[str]) -> str:
    kind = cell.get("t", "n")
    if kind == "inlineStr":
        return _text(cell)
    found = cell.find(f"{_MAIN}v")
    text = found.text or "" if found is not None else ""
    if kind == "s":
        return shared[int(text)] if text.isdigit() and int(text) < len(shared) else ""
    return _ESCAPED.sub(lambda code: chr(int(code[1], 16)), text) if kind == "str" else text
