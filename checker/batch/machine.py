"""The table of a batch for other programs: CSV, JSON and JUnit XML, each written row by row.

Input: rows, the tally. Output: text on a stream. No cell of the CSV begins with a sign that a spreadsheet takes for a formula.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from typing import Any, TextIO

import msgspec

from checker.batch.model import MISSING, NOT_CHECKED, Row
from checker.batch.tally import ClassTally
from checker.batch.words import is_beside_the_point, remarks_of, said_of, stamp
from checker.markup import Element, tag, xml
from checker.report.model import SEVERITIES
from checker.report.words import visible
from checker.version import VERSION

_COLUMNS = ("number", "name", "identifier", "file", "verdict", "mark", "of", "likeness", "same", "expectations_met",
            "expectations", *SEVERITIES, "rules", "said", "first", "alike", "remarks", "feedback")
ANOTHER_CIRCUIT = "another-circuit"
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""First signs that spreadsheets take for a formula (OWASP, "CSV Injection")."""


def write_csv(rows: Iterable[Row], stream: TextIO) -> None:
    """One line a list after the heading; UTF-8 with a byte-order mark, so that spreadsheets read it as such."""
    stream.write("\ufeff")
    writer = csv.writer(stream)
    writer.writerow(_COLUMNS)
    for row in rows:
        writer.writerow([_cell(value) for value in _values(row)])


def _values(row: Row) -> tuple[Any, ...]:
    mark = row.mark
    return (row.number, row.name, row.identifier, row.file, _verdict(row), mark.points if mark else None,
            mark.most if mark else None, None if row.likeness is None else round(row.likeness, 3),
            None if row.same is None else ("yes" if row.same else "no"), row.met, row.expected,
            *(getattr(row.summary, severity) for severity in SEVERITIES), " ".join(row.rules), said_of(row), row.first,
            row.alike or None, "; ".join(remarks_of(row)), row.feedback)


def _verdict(row: Row) -> str:
    """The verdict; that a list is clear by itself is not said where it is another circuit than the one asked for."""
    return ANOTHER_CIRCUIT if is_beside_the_point(row) else row.verdict


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if not isinstance(value, str):
        return f"{value:g}" if isinstance(value, float) else str(value)
    text = visible(value)
    return f"'{text}" if text.startswith(_FORMULA) else text


def write_json(rows: Iterable[Row], tally: ClassTally, stream: TextIO) -> None:
    """One object: the version, the class, then the lists in order."""
    stream.write(f'{{\n"legwise": "{VERSION}",\n"class": {_json(tally)},\n"lists": [')
    for number, row in enumerate(rows):
        stream.write(("," if number else "") + "\n" + _json(row))
    stream.write("\n]\n}\n")


def _json(value: object) -> str:
    return msgspec.json.encode(value).decode("utf-8")


def write_junit(rows: Iterable[Row], tally: ClassTally, stream: TextIO) -> None:
    """One suite with one case a list (``junit-10.xsd`` of the Jenkins xUnit plugin): it fails where the list is not clear, or
    is another circuit than the reference, and is an error where it was not read as a whole, or not handed in."""
    errors = sum(tally.verdicts.get(verdict, 0) for verdict in ("unreadable", NOT_CHECKED)) + tally.missing
    count, clear = tally.lists + tally.missing, tally.verdicts.get("clear", 0) - tally.another
    sums = f'tests="{count}" failures="{count - errors - clear}" errors="{errors}"'
    stream.write(f'<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="legwise" {sums}>\n'
                 f'<testsuite name="legwise batch" {sums} skipped="0">\n')
    for row in rows:
        stream.write(xml(_case(row)) + "\n")
    stream.write("</testsuite>\n</testsuites>\n")


def _case(row: Row) -> Element:
    kinds = {"clear": "", "unreadable": "error", NOT_CHECKED: "error", MISSING: "error"}
    kind = "failure" if is_beside_the_point(row) else kinds.get(row.verdict, "failure")
    said = visible(f"{stamp(row)}: {said_of(row)}" + (f"\nFirst: {row.first}" if row.first else ""))
    told = tag(kind, said, type=row.verdict, message=visible(said_of(row))) if kind else tag("system-out", said)
    return tag("testcase", told, name_=visible(row.name), classname=visible(row.file or row.identifier or row.name))
