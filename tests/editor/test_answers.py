"""What an editor is told at a place of a list; places count from 0, a bar in the line is where the cursor stands."""

from __future__ import annotations

import pytest

from checker import check
from checker.editor.answers import card_at, completions_at, definition_of, fixes_at, is_name, uses_at
from checker.fixes.draft import made
from parts_library import load_library

LIST = """\
title "Tide tank lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b15   # R1 is before it
wire L+ to c5
wire c15 to L-
expect LED1 lit
"""


def at(words: str) -> tuple[int, int]:
    """Line and column of the bar, by the line that has these words."""
    plain = words.replace("|", "")
    number, line = next((n, line) for n, line in enumerate(LIST.splitlines()) if plain in line)
    return number, line.index(plain) + words.index("|")


@pytest.mark.parametrize(
    ("words", "head"),
    [
        ("part LE|D1", "led red"),
        ("led r|ed in", "led red"),
        ("expect LED|1", "led red"),
        ("supply PA|CK", "9 V"),
        ("exp|ect LED1", "expect: what must happen"),
        ("part R|1 470", "resistor"),
    ],
)
def test_a_card_tells_of_the_part_under_the_cursor(words: str, head: str) -> None:
    found = card_at(LIST, *at(words), load_library())

    assert found is not None
    assert head.lower() in found[0].lower()


@pytest.mark.parametrize("words", ["in a|5 a10", "title \"Ti|de"])
def test_a_hole_and_a_title_have_no_card(words: str) -> None:
    assert card_at(LIST, *at(words), load_library()) is None


@pytest.mark.parametrize(
    ("typed", "kind", "offered"),
    [
        ("", "keyword", "part"),
        ("wi", "keyword", "wire"),
        ("part Q1 2N39", "part", "2N3904"),
        ("supply B aa-p", "part", "aa-pack-4"),
        ("expect ", "name", "LED1"),
        ("wire LED1.", "pin", "K"),
        ("wire a1 to P", "name", "PACK"),
    ],
)
def test_what_can_stand_there_is_offered(typed: str, kind: str, offered: str) -> None:
    text = LIST + typed
    offers = completions_at(text, len(LIST.splitlines()), len(typed), load_library())

    assert offered in [offer.text for offer in offers if offer.kind == kind]
    assert {kind} == {offer.kind for offer in offers}


def test_nothing_is_offered_in_a_comment() -> None:
    assert [] == completions_at("wire a5 to b7 # R", 0, 17, load_library())


def test_a_name_leads_to_its_line_and_to_its_uses() -> None:
    assert definition_of(LIST, *at("expect LE|D1")) is not None
    assert [4, 7] == [place.line for place in uses_at(LIST, *at("expect LE|D1"))]
    assert definition_of(LIST, *at("wire c1|5")) is None


def test_a_comment_is_no_use_of_a_name() -> None:
    assert [3] == [place.line for place in uses_at(LIST, *at("part R|1"))]


@pytest.mark.parametrize(("name", "is_one"), [("Q1", True), ("PUMP2", True), ("a b", False), ("220", False), ("L", False),
                                              ("R1.5", False), ("", False)])
def test_only_what_can_be_a_name_is_taken_as_a_new_one(name: str, is_one: bool) -> None:
    assert is_one == is_name(name)


def test_the_checked_fix_is_offered_on_the_line_it_is_about() -> None:
    report = check(LIST)

    offered = list(fixes_at(report, 4))

    assert ["turn LED1 round: longer leg to b10"] == [say for _, say, _ in offered]
    assert "clear" == check(made(report.lines, offered[0][2])).verdict
    assert [] == list(fixes_at(report, 0))
