"""The meter sheet as a piece of XHTML for a page of others, and as a whole page to print.

Input: a MeterSheet. Output: an element, or HTML. The piece has class names and no style; the page brings its own, in black on
white for A4.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from checker.markup import Element, html, tag
from checker.metering.model import LampProbe, MeterSheet, Reading, Stage
from checker.metering.phrases import (
    AFTER,
    BEFORE,
    LAMP,
    POWER,
    VOLTS,
    black_words,
    counted_words,
    dial_words,
    hole_words,
    instead_words,
    sentences,
    state_words,
)
from checker.metering.style import STYLE
from checker.report.page import Page
from checker.report.words import SAFETY, about, visible

_HEADS = ("", "Measure", "Dial", "Red probe", "Black probe", "Should show")


def meter_element(sheet: MeterSheet, level: int = 2) -> Element:
    """The sheet as one ``section``; ``level`` is that of its headings."""
    parts: list[Element | None] = [_warning(sheet)]
    if sheet.before or sheet.power:
        parts += [tag(f"h{level}", BEFORE), _ticks(f"{step}." for step in sheet.ready),
                  _table(_rows(number, one) for number, one in enumerate(sheet.before, 1)),
                  tag(f"h{level}", POWER), *(_stage(stage) for stage in sheet.power),
                  *(tag("p", whole(words)) for words in sheet.watch)]
    if sheet.after:
        parts += [tag(f"h{level}", AFTER), _table(_by_state(sheet))]
    lamps = [probe for probe in sheet.lamp if probe.holes]
    if lamps:
        parts += [tag(f"h{level}", LAMP), *(_lamp(probe) for probe in lamps)]
    closing = [counted_words(sheet), *(f"{caution}." for caution in sheet.cautions)]
    return tag("section", parts, *(tag("p", words, class_="meter-closing") for words in closing), class_="meter")


def page(sheet: MeterSheet, unused: Page) -> str:
    """A whole page to print."""
    title = f"Meter sheet: {about(sheet.report)}"
    head = tag("head", tag("meta", charset="utf-8"), tag("meta", name_="viewport", content="width=device-width, initial-scale=1"),
               tag("title", visible(title)), tag("style", STYLE))
    body = tag("body", tag("h1", visible(title)), meter_element(sheet), tag("p", SAFETY, class_="meter-closing"))
    return html(tag("html", head, body, lang="en"))


def _warning(sheet: MeterSheet) -> Element | None:
    return tag("p", visible(sheet.warning), class_="meter-warning") if sheet.warning else None


def _ticks(words: Iterator[str] | list[str]) -> Element:
    return tag("ul", [tag("li", whole(one)) for one in words], class_="meter-ticks")


def _table(rows: Iterable[Element]) -> Element:
    head = tag("thead", tag("tr", [tag("th", word, scope="col") for word in _HEADS]))
    return tag("table", head, list(rows), class_="meter-readings")


def _by_state(sheet: MeterSheet) -> Iterator[Element]:
    """The readings with power on, each state under its words, all in one table so that its columns stay where they are."""
    number = len(sheet.before)
    for state in dict.fromkeys(reading.hold for reading in sheet.after):
        said = tag("th", whole(f"{state_words(sheet, state)}:"), scope="rowgroup", colspan=str(len(_HEADS)))
        yield tag("tbody", tag("tr", said), class_="meter-state")
        for reading in sheet.after:
            if reading.hold == state:
                number += 1
                yield _rows(number, reading)


def whole(words: str) -> list[Element | str]:
    """Words in which a hole's name and a number with its unit are never broken over two lines."""
    return [tag("span", part, class_="meter-whole") if UNBROKEN.fullmatch(part) else part
            for part in UNBROKEN.split(visible(words)) if part]


UNBROKEN = re.compile(r"((?:\w+:)?\b[LR][+-]\d*|\b[\d.]+ (?:[pnµmkM]?(?:Ω|V|A|W|F)|s|minutes)(?!\w))")


def _rows(number: int, reading: Reading) -> Element:
    """One reading: a row, and below it what to know and what other values mean."""
    measure = [reading.what, tag("span", f" ({reading.hold})", class_="meter-hold")
               if reading.hold and reading.function != VOLTS else None]
    cells = tag("tr", tag("th", str(number), scope="row"), tag("td", measure), tag("td", whole(dial_words(reading))),
                tag("td", whole(reading.red.say)), tag("td", whole(black_words(reading))),
                tag("td", tag("strong", whole(reading.expect))))
    below = [tag("li", whole(sentences((note,))), class_="meter-note") for note in reading.notes]
    below += [tag("li", whole(f"{instead_words(one)}."), class_="meter-instead") for one in reading.instead]
    more = tag("tr", tag("td"), tag("td", tag("ul", below), colspan=str(len(_HEADS) - 1))) if below else None
    return tag("tbody", cells, more)


def _stage(stage: Stage) -> Element:
    return tag("div", tag("p", tag("strong", f"{stage.supply}: "), whole(f"{stage.say}.")),
               _ticks([f"{step}." for step in stage.steps]), class_="meter-stage")


def _lamp(probe: LampProbe) -> Element:
    return tag("div", tag("p", tag("strong", f"{probe.supply}: "), whole(f"{probe.say}.")),
               _ticks([f"{hole_words(hole)}." for hole in probe.holes]), class_="meter-stage")
