"""The sheet as text, as JSON, as a piece of a page and as a page, and the command that prints it."""

from __future__ import annotations

import json
from html.parser import HTMLParser
from pathlib import Path

import pytest

from checker.cli import main
from checker.examples import text_of
from checker.markup import tag, xml
from checker.metering import meter_element, render
from checker.metering.piece import whole
from checker.report.page import Page
from tests.metering.bench import CLEAR, sheet_of

NASTY = 'title "<script>alert(1)</script> & \\u001b[31m"\n'
VOID = {"meta"}


class Reader(HTMLParser):
    """Which elements are open, and the text outside the style."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.styled: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.styled += [name for name, _ in attrs if name in ("style", "onclick", "src", "href")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data if self.open[-1:] != ["style"] else ""


def read_html(text: str) -> Reader:
    reader = Reader()
    reader.feed(text)
    reader.close()
    return reader


@pytest.mark.parametrize("name", CLEAR)
@pytest.mark.parametrize("width", [40, 80])
def test_no_line_is_wider_than_the_page(name: str, width: int) -> None:
    lines = render("terminal", sheet_of(text_of(name)), Page(width=width)).splitlines()

    assert [] == [line for line in lines if len(line) > width]


def test_json_holds_every_reading_and_no_infinity() -> None:
    sheet = sheet_of(text_of("seed-tray-mister"))
    found = json.loads(render("json", sheet, Page()))

    assert [one["what"] for one in found["before"]] == [reading.what for reading in sheet.before]
    assert found["before"][0]["expect"] == "OL"
    assert found["before"][0]["value"] is None
    assert found["power"][1]["limit"] == 0.02
    assert found["faults"]["shown_before_power"] == sheet.found_before


@pytest.mark.parametrize("name", CLEAR)
def test_the_page_is_whole_and_the_piece_has_no_style_of_its_own(name: str) -> None:
    sheet = sheet_of(text_of(name))
    page = read_html(render("html", sheet, Page()))
    piece = read_html(xml(meter_element(sheet)))

    assert [] == page.open == piece.open
    assert {"html", "head", "body", "style", "table", "h1", "h2"} <= page.tags
    assert not {"style", "script", "link", "img"} & piece.tags
    assert [] == piece.styled
    assert all(reading.expect in page.text and reading.expect in piece.text for reading in sheet.before + sheet.after)


@pytest.mark.parametrize("words", ["R-3", "1 kΩ", "0.3 Ω", "L+"])
def test_a_name_and_a_number_are_not_broken_on_the_page(words: str) -> None:
    assert f'<span class="meter-whole">{words}</span>' in xml(tag("p", whole(f"rail hole {words}, and more")))


def test_what_is_no_name_and_no_number_stays_as_it_is() -> None:
    assert ["LED1 at a12 or 3 holes on"] == whole("LED1 at a12 or 3 holes on")


@pytest.mark.parametrize("name", CLEAR)
def test_readings_stand_in_one_table_with_power_and_one_without(name: str) -> None:
    assert 2 == render("html", sheet_of(text_of(name)), Page()).count("<thead>")


def test_a_title_stays_text() -> None:
    page = read_html(render("html", sheet_of(NASTY + text_of("puppet-nose")), Page()))

    assert "script" not in page.tags
    assert "\x1b" not in render("terminal", sheet_of(NASTY + text_of("puppet-nose")), Page())


# ── the command ───────────────────────────────────────────────────────────────────────────────────────────────────


def run(tmp_path: Path, text: str, *options: str) -> int:
    file = tmp_path / "list.legs"
    file.write_text(text, encoding="utf-8")
    return main(["meter", str(file), *options])


def test_a_clear_list_gets_its_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == run(tmp_path, text_of("puppet-nose"))
    assert capsys.readouterr().out.startswith("METER SHEET\n")


def test_a_list_that_does_damage_is_to_be_mended_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == run(tmp_path, text_of("seed-tray-mister-diode-round"))
    out, complaint = capsys.readouterr()
    assert "" == out
    assert "DO NOT POWER" in complaint
    assert "says what to change first" in complaint


@pytest.mark.parametrize("name", ["seed-tray-mister-pin-order-open", "weather-post-ground-missing"])
def test_a_list_that_is_not_clear_gets_its_sheet_with_a_warning(
        name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == run(tmp_path, text_of(name))
    assert sheet_of(text_of(name)).warning.split(".")[0].split(";")[0] in capsys.readouterr().out.replace("\n", " ")


def test_an_unknown_format_is_misuse(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 2 == run(tmp_path, text_of("puppet-nose"), "--format", "terminl")
    assert "The nearest is terminal" in capsys.readouterr().err
