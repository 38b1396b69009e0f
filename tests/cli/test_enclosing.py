"""What is set beside a report on its page: the real drawing, connections and meter sheet, and what happens without them."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.checking import examine
from checker.commands import enclosing
from checker.commands.enclosing import enclosure_of
from checker.examples import text_of
from checker.markup import parsed
from checker.report.page import Enclosure
from tests.cli.test_cli import CLEAR, UNREADABLE, legwise
from tests.report.formats import by_class, parsed_html, words_of

NO_BOARD = "supply PACK 9V on @plus @minus\npart R1 470\npart LED1 led red\nwire @plus to R1.1\nwire R1.2 to LED1.A\n" \
           "wire LED1.K to @minus\n"
NOTHING = "this is no list\n"


def pieces(enclosure: Enclosure) -> list[str]:
    return [name for name in ("drawing", "diagram", "meter") if getattr(enclosure, name)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (CLEAR, ["drawing", "diagram", "meter"]),
        (UNREADABLE, ["drawing", "diagram", "meter"]),
        (text_of("seed-tray-mister-diode-round"), ["drawing", "diagram", "meter"]),
        (text_of("seed-tray-mister-pin-order-open"), ["drawing", "diagram", "meter"]),
        (NO_BOARD, ["diagram", "meter"]),
    ],
)
def test_a_list_is_drawn_as_far_as_it_is_on_a_board(text: str, expected: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    report, surveyed = examine(text)
    found = enclosure_of(surveyed, report, None)

    assert expected == pieces(found)
    assert "" == capsys.readouterr().err
    assert {"svg", "section"} >= {parsed(getattr(found, name)).tag.rpartition("}")[2] for name in expected}


def test_the_page_holds_what_was_drawn_with_its_words(tmp_path: Path) -> None:
    (tmp_path / "clear.legs").write_text(CLEAR, encoding="utf-8")
    done = legwise(tmp_path, "check clear.legs --format html")
    page = parsed_html(done.stdout)

    assert "" == done.stderr
    assert ["Findings", "The list", "The board", "Connections", "With the meter"] == [
        words_of(each) for each in page.iter("h2")][:5]
    assert {"R1", "LED1"} <= {str(each.get("data-part")) for each in page.iter("g")}
    assert [] == [each.tag for each in page.iter() if each.get("style") is not None]
    assert 1 == len(list(page.iter("style")))


def test_a_list_that_cannot_be_read_at_all_still_has_its_report(tmp_path: Path) -> None:
    (tmp_path / "nothing.legs").write_text(NOTHING, encoding="utf-8")
    done = legwise(tmp_path, "check nothing.legs --format html")

    assert "" == done.stderr
    assert ["stamp unreadable"] == [each.get("class") for each in by_class(parsed_html(done.stdout), "stamp")]


def test_a_piece_that_fails_is_left_out_with_a_complaint(capsys: pytest.CaptureFixture[str]) -> None:
    def fails() -> str:
        raise ZeroDivisionError("no room")

    assert "" == enclosing._piece("drawing", "clear.legs", fails)
    assert "legwise: the drawing of clear.legs is left out: ZeroDivisionError: no room\n" == capsys.readouterr().err
