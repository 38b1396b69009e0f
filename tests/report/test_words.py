"""The sentences that all formats share, a table each."""

from __future__ import annotations

from math import inf, nan
from typing import Any

import msgspec
import pytest

from checker.operating.corners import CORNERS, SKEWS
from checker.report.model import SEVERITIES, VERDICTS, Evidence, Report, Span, Summary
from checker.report.words import (
    CORNER_WORDS,
    SEVERITY_WORDS,
    VERDICT_WORDS,
    about,
    all_measured,
    assumed_in_words,
    concise,
    counted,
    evidence_in_words,
    value_in_words,
    visible,
)
from tests.report.samples import REVERSED

POWER = Evidence(quantity="power", of="Q1", value=8.4, unit="W")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "Q1: power 8.4 W"),
        ({"limit": 0.625}, "Q1: power 8.4 W, limit 625 mW (13 times the limit)"),
        ({"limit": 8.0}, "Q1: power 8.4 W, limit 8 W"),
        ({"limit": 1e-6}, "Q1: power 8.4 W, limit 1 µW (over 1000 times the limit)"),
        ({"limit": 0.0}, "Q1: power 8.4 W, limit 0 W"),
        ({"limit": 10.0, "least": True}, "Q1: power 8.4 W, should be at least 10 W"),
        ({"value": 180.0, "unit": "degC", "limit": 60.0}, "Q1: power 180 °C, limit 60 °C"),
        ({"value": -7.0, "unit": "V", "limit": -0.5}, "Q1: power -7 V, limit -0.5 V (14 times the limit)"),
        ({"value": nan, "limit": 1.0}, "Q1: power unknown, limit 1 W"),
        ({"value": inf, "limit": 1.0}, "Q1: power infinite, limit 1 W"),
        ({"state": {"U1.D9": "high"}}, "Q1: power 8.4 W, when U1.D9 is high"),
        (
            {"state": {"U1.D9": "input", "S1": "pressed", "K1": "on"}},
            "Q1: power 8.4 W, when U1.D9 is an input, S1 is pressed and K1 is on",
        ),
        ({"corner": "supply-high"}, "Q1: power 8.4 W, worst case: supply high"),
        ({"corner": "stalled"}, "Q1: power 8.4 W, worst case: motors held still"),
        ({"state": {"RV1": "100%"}}, "Q1: power 8.4 W, when RV1 is at 100%"),
        ({"reading": {"Q1": "E B C"}}, "Q1: power 8.4 W, if Q1 has its legs in the order E B C"),
    ],
)
def test_evidence_sets_the_value_against_its_limit_and_says_when(changes: dict[str, Any], words: str) -> None:
    assert evidence_in_words(msgspec.structs.replace(POWER, **changes)) == words


def test_every_corner_has_its_words() -> None:
    assert {corner.name for corner in (*CORNERS, *SKEWS)} - {"nominal"} == set(CORNER_WORDS)


def test_when_it_occurs_is_told_once_where_it_is_the_same() -> None:
    on = msgspec.structs.replace(POWER, state={"S1": "pressed"})

    assert [said.when for said in all_measured((on, on, POWER, on))] == [
        "when S1 is pressed", "at the same time", "", "when S1 is pressed"]


@pytest.mark.parametrize(
    ("changes", "value"),
    [
        ({"value": 4.9e-4, "limit": 10.0, "unit": "V", "least": True}, "0 V"),
        ({"value": 1.28e-15, "limit": 1e-3, "unit": "A", "least": True}, "0 A"),
        ({"value": 4.9e-4, "unit": "V"}, "490 µV"),
        ({"value": 2e-4, "limit": 0.1, "unit": "V"}, "200 µV"),
    ],
)
def test_a_value_that_is_next_to_nothing_beside_its_bound_is_told_as_nothing(changes: dict[str, Any], value: str) -> None:
    assert value_in_words(msgspec.structs.replace(POWER, **changes)) == value


def test_what_is_assumed_of_several_parts_alike_is_said_once() -> None:
    assumed = ("R1 is 1/4 W, 5 %", "U1 runs from USB", "R2 is 1/4 W, 5 %", "R3 is 1 W", "R4 is 1/4 W, 5 %")

    assert assumed_in_words(assumed) == ["R1, R2 and R4 are each 1/4 W, 5 %", "U1 runs from USB", "R3 is 1 W"]


def test_many_states_are_cut_short() -> None:
    many = msgspec.structs.replace(POWER, state={f"U1.D{n}": "low" for n in range(9)})

    assert evidence_in_words(many).endswith("U1.D3 is low and 5 more")


@pytest.mark.parametrize(
    ("file", "changes", "line"),
    [
        ("m.legs", {}, "m.legs:9:32: damage: D1 is the wrong way round [diode-reversed]"),
        ("m.legs", {"severity": "note"}, "m.legs:9:32: note: D1 is the wrong way round [diode-reversed]"),
        ("-", {"span": Span(1, 1, 2, 1)}, "-:1:1: damage: D1 is the wrong way round [diode-reversed]"),
        ("m.legs", {"message": "two\nlines\x1b"}, "m.legs:9:32: damage: two lines\u241b [diode-reversed]"),
    ],
)
def test_the_concise_form_is_one_line_that_stands_alone(file: str, changes: dict[str, Any], line: str) -> None:
    assert concise(msgspec.structs.replace(REVERSED, **changes), file) == line


@pytest.mark.parametrize(
    ("summary", "words"),
    [
        (Summary(), ""),
        (Summary(damage=1), "1 damage"),
        (Summary(danger=2, fault=1, look=3, note=2), "2 dangers, 1 fault, 3 to look at, 2 notes"),
    ],
)
def test_findings_are_counted_worst_first(summary: Summary, words: str) -> None:
    assert counted(summary) == words


@pytest.mark.parametrize(
    ("title", "by", "file", "words"),
    [
        (None, None, "m.legs", "m.legs"),
        (None, None, "-", "standard input"),
        ("Mister", None, "m.legs", "Mister (m.legs)"),
        ("Mister", "Ida", "m.legs", "Mister, by Ida (m.legs)"),
        (None, "Ida", "m.legs", "a list, by Ida (m.legs)"),
    ],
)
def test_a_page_says_whose_list_it_is(title: str | None, by: str | None, file: str, words: str) -> None:
    report = Report(legwise="0.1", file=file, title=title, by=by, verdict="clear", headline="")

    assert about(report) == words


def test_every_verdict_and_severity_has_a_word() -> None:
    assert tuple(VERDICT_WORDS) == ("do-not-power", "unreadable", "will-not-work", "look-first", "clear") == VERDICTS
    assert tuple(SEVERITY_WORDS) == SEVERITIES


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("a\tb\nc", "a\tb\nc"),
        ("4.7 kΩ ±5 % 電圧 é", "4.7 kΩ ±5 % 電圧 é"),
        ("\x1b[31m", "\u241b[31m"),
        ("\x00\r\x7f\x9b", "\u2400\u240d\ufffd\ufffd"),
        ("a\u202eb\u2066c\ud800", "a\ufffdb\ufffdc\ufffd"),
    ],
)
def test_control_characters_are_made_visible_and_nothing_else_changes(typed: str, seen: str) -> None:
    assert visible(typed) == seen
