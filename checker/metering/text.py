"""The meter sheet as text for paper beside the board, and as JSON.

Input: a MeterSheet. Output: text. OL is ``null`` in JSON, which knows no infinity.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Any

import msgspec

from checker.metering.model import LampProbe, MeterSheet, Reading, Stage
from checker.metering.phrases import (
    AFTER,
    BEFORE,
    LAMP,
    POWER,
    TITLE,
    black_words,
    counted_words,
    dial_words,
    hole_words,
    instead_words,
    reading_words,
    sentences,
    state_words,
)
from checker.report.page import Page
from checker.report.prose import prose, prose_width
from checker.report.words import SAFETY, about

_BOX = "[ ] "


def terminal(sheet: MeterSheet, page: Page) -> str:
    """The sheet at the width of the page."""
    width = prose_width(page)
    lines = [TITLE, "=" * len(TITLE), *prose(about(sheet.report), width)]
    if sheet.warning:
        lines += prose(sheet.warning, width)
    if sheet.before or sheet.power:
        lines += [*_before(sheet, width), *_power(sheet, width), *_after(sheet, width), *_lamps(sheet, width)]
    lines += ["", *prose(counted_words(sheet), width)]
    for caution in sheet.cautions:
        lines += prose(f"{caution}.", width)
    return "\n".join([*lines, *prose(SAFETY, width)]) + "\n"


def _heading(words: str) -> list[str]:
    return ["", words.upper(), "-" * len(words)]


def _before(sheet: MeterSheet, width: int) -> Iterator[str]:
    yield from _heading(BEFORE)
    for step in sheet.ready:
        yield from prose(f"{step}.", width, _BOX)
    for number, reading in enumerate(sheet.before, 1):
        yield from _reading(number, reading, width)


def _power(sheet: MeterSheet, width: int) -> Iterator[str]:
    yield from _heading(POWER)
    for stage in sheet.power:
        yield from _stage(stage, width)
    for word in sheet.watch:
        yield from prose(word, width)


def _stage(stage: Stage, width: int) -> Iterator[str]:
    yield from prose(f"{stage.supply}: {stage.say}.", width)
    for step in stage.steps:
        yield from prose(f"{step}.", width, f"  {_BOX}")


def _after(sheet: MeterSheet, width: int) -> Iterator[str]:
    if not sheet.after:
        return
    yield from _heading(AFTER)
    state = ""
    for number, reading in enumerate(sheet.after, len(sheet.before) + 1):
        if reading.hold != state:
            state = reading.hold
            yield from prose(f"{state_words(sheet, state)}:", width)
        yield from _reading(number, reading, width)


def _lamps(sheet: MeterSheet, width: int) -> Iterator[str]:
    holes = [probe for probe in sheet.lamp if probe.holes]
    if holes:
        yield from _heading(LAMP)
    for probe in holes:
        yield from _lamp(probe, width)


def _lamp(probe: LampProbe, width: int) -> Iterator[str]:
    yield from prose(f"{probe.supply}: {probe.say}.", width)
    for hole in probe.holes:
        yield from prose(f"{hole_words(hole)}.", width, f"  {_BOX}")


def _reading(number: int, reading: Reading, width: int) -> Iterator[str]:
    label = f"{_BOX}{number}. "
    yield from prose(reading_words(reading), width, label)
    hang = " " * len(label)
    yield from prose(f"{dial_words(reading)}. Red: {reading.red.say}. Black: {black_words(reading)}.", width, hang)
    if reading.notes:
        yield from prose(sentences(reading.notes), width, hang)
    if reading.instead:
        yield from prose(sentences(instead_words(instead) for instead in reading.instead), width, hang)


# ── JSON ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def json(sheet: MeterSheet, page: Page) -> str:
    """One object; what the report itself holds is named, not repeated."""
    report = sheet.report
    found = {
        "legwise": report.legwise, "file": report.file, "title": report.title, "by": report.by, "verdict": report.verdict,
        "warning": sheet.warning, "ready": sheet.ready, "before": [_as_object(one) for one in sheet.before],
        "power": [_stage_as_object(stage) for stage in sheet.power], "watch": sheet.watch,
        "after": [_as_object(one) for one in sheet.after], "lamp": sheet.lamp, "cautions": sheet.cautions,
        "faults": {"looked_at": sheet.faults, "shown_before_power": sheet.found_before, "shown": sheet.found_after},
    }
    return msgspec.json.format(msgspec.json.encode(found), indent=2).decode("utf-8") + "\n"


def _as_object(reading: Reading) -> dict[str, Any]:
    found = {name: getattr(reading, name) for name in reading.__struct_fields__}
    return {**found, **{name: _number(found[name]) for name in ("value", "low", "high")}}


def _stage_as_object(stage: Stage) -> dict[str, Any]:
    return {name: getattr(stage, name) for name in stage.__struct_fields__}


def _number(value: float) -> float | None:
    return value if isfinite(value) else None


