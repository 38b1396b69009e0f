"""What a working process can do: one function a job, from the bytes of a request to the bytes of its answer.

Input: a list as UTF-8 text, and perhaps the file of a kit. Output: JSON, HTML or SVG. A list is never taken for the name
of a file, and nothing is written.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import msgspec
from msgspec.structs import replace

from checker import rules
from checker.checking import check, examine
from checker.drawing import board_svg, diagram_svg
from checker.markup import xml
from checker.metering import meter_element, meter_sheet
from checker.metering import render as render_meter
from checker.report import Page, render
from checker.report.explanation import sections_of
from checker.report.model import Report
from checker.report.page import Enclosure
from checker.report.words import VERDICT_WORDS
from checker.slips import render as render_slips
from checker.slips import slips_of
from checker.survey import Survey
from checker.web.answer import answer
from checker.web.class_table import NotReadable, Upload, class_answer
from checker.web.limits import LIMITS
from checker.web.proposing import parts_of, sights_of, spellings_of
from grammar import read
from grammar.syntax_tree import Part, Supply
from parts_library import load_library

FILE = "list.legs"
"""How a pasted list is called in a report, and when it is saved."""

_PAGE = Page(width=80)
_NOT_CLEAR = "Slips are looked for in a list that is clear. This one: {verdict}. {headline}."


class NotTaken(Exception):
    """A list that a job does not take; the message says why."""


def within_limits(text: bytes) -> None:
    """Raises NotTaken for a list with too many lines or parts."""
    lines = text.count(b"\n") + 1
    if lines > LIMITS.list_lines:
        raise NotTaken(f"A list may have {LIMITS.list_lines} lines; this one has {lines}.")
    if lines <= LIMITS.list_parts:
        return
    parts = sum(isinstance(statement, Part | Supply) for statement in read(text).statements)
    if parts > LIMITS.list_parts:
        raise NotTaken(f"A list may have {LIMITS.list_parts} parts; this one has {parts}.")


def _check(text: bytes, kit: Path | None) -> bytes:
    """The report as ``legwise check --format json`` writes it."""
    return render("json", [check(text, FILE, kit)], _PAGE).encode()


def _page(text: bytes, kit: Path | None) -> bytes:
    """The report with its words and all that is drawn, from one survey."""
    report, surveyed = examine(text, FILE, kit)
    drawn = _drawn(report, surveyed)
    return msgspec.json.encode(answer(report, parts_of(surveyed), spellings=spellings_of(surveyed), sights=sights_of(surveyed),
                                      drawing=drawn.drawing, diagram=drawn.diagram))


def _drawn(report: Report, surveyed: Survey) -> Enclosure:
    """All that is drawn; nothing where there is no reading of the list to draw."""
    if not surveyed.operatings:
        return Enclosure()
    return Enclosure(drawing=board_svg(surveyed, report), diagram=diagram_svg(surveyed))


def _report(text: bytes, kit: Path | None) -> bytes:
    """The report as one HTML file to keep, with the drawings in it."""
    report, surveyed = examine(text, FILE, kit)
    explained = {slug: sections_of(rules.explain(slug)) for slug in rules.slugs()}
    beside = replace(_drawn(report, surveyed), meter=_piece(report, surveyed, kit))
    page = replace(_PAGE, enclosures=(beside,), rules=explained)
    return render("html", [report], page).encode()


def _draw(text: bytes, kit: Path | None) -> bytes:
    """The board as SVG."""
    return _must_be_there(_drawn(*examine(text, FILE, kit)).drawing)


def _diagram(text: bytes, kit: Path | None) -> bytes:
    """The connections without the board, as SVG."""
    return _must_be_there(_drawn(*examine(text, FILE, kit)).diagram)


def _must_be_there(drawing: str) -> bytes:
    if not drawing:
        raise NotTaken("There is nothing in this list that could be drawn.")
    return drawing.encode()


def _meter(text: bytes, kit: Path | None) -> bytes:
    """The meter sheet as ``legwise meter --format json`` writes it."""
    report, surveyed = examine(text, FILE, kit)
    return render_meter("json", meter_sheet(surveyed, report, load_library(kit)), _PAGE).encode()


def _meter_sheet(text: bytes, kit: Path | None) -> bytes:
    """The meter sheet as a piece of XHTML."""
    report, surveyed = examine(text, FILE, kit)
    return _piece(report, surveyed, kit).encode()


def _piece(report: Report, surveyed: Survey, kit: Path | None) -> str:
    return xml(meter_element(meter_sheet(surveyed, report, load_library(kit)), 3))


def _slips(text: bytes, kit: Path | None) -> bytes:
    """The build sheet of a list that is clear, as ``legwise slips --format json`` writes it."""
    report = check(text, FILE, kit)
    if report.verdict != "clear":
        raise NotTaken(_NOT_CLEAR.format(verdict=VERDICT_WORDS[report.verdict], headline=report.headline))
    return render_slips("json", slips_of(text, report, load_library(kit)), _PAGE).encode()


def _class(upload: bytes, kit: Path | None) -> bytes:
    """The table of a class and its files."""
    try:
        return msgspec.json.encode(class_answer(msgspec.msgpack.decode(upload, type=Upload), kit, LIMITS.upload_lists))
    except NotReadable as problem:
        raise NotTaken(str(problem)) from None


def _of_a_list(job: Callable[[bytes, Path | None], bytes]) -> Callable[[bytes, Path | None], bytes]:
    """The job, for lists within the limits only."""
    def within(text: bytes, kit: Path | None) -> bytes:
        within_limits(text)
        return job(text, kit)
    return within


JOBS: dict[str, Callable[[bytes, Path | None], bytes]] = {
    **{name: _of_a_list(job) for name, job in (
        ("check", _check), ("page", _page), ("report", _report), ("draw", _draw), ("diagram", _diagram), ("meter", _meter),
        ("meter-sheet", _meter_sheet), ("slips", _slips))},
    "class": _class,
}
"""Each job by its name."""
