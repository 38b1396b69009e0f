"""Every leg is in the hole, and every hole on the strip, that the tables of this folder say."""

from __future__ import annotations

from itertools import combinations

import pytest

from checker import check
from checker.seating.boards import BoardPlan
from grammar.syntax_tree import Hole, Span
from tests.seating import counted, faces, strips, two_legs
from tests.seating.plain_seats import in_order, joined, mishaps, on_the_board, plain, seats

ONE_WAY = (*faces.ONE_WAY, *faces.LEFT_OF_COLUMN_A, *two_legs.ONE_WAY, *counted.ONE_WAY, *counted.TURNED_IN)
SEVERAL_WAYS = (*faces.SEVERAL_WAYS, *two_legs.SEVERAL_WAYS, *counted.SEVERAL_WAYS)
ASKED_BACK = (*faces.ASKED_BACK, *two_legs.ASKED_BACK, *counted.ASKED_BACK)


@pytest.mark.parametrize(("text", "legs"), ONE_WAY)
def test_a_list_that_leaves_nothing_open_has_one_seat(text: str, legs: str) -> None:
    assert mishaps(text) == []
    assert [plain(seat) for seat in seats(text)] == [in_order(legs)]
    assert [seat.because for seat in seats(text)] == [""]


@pytest.mark.parametrize(("text", "ways", "because"), SEVERAL_WAYS)
def test_every_way_that_remains_is_a_reading(text: str, ways: tuple[str, ...], because: str) -> None:
    found = [plain(seat) for seat in seats(text)]

    assert mishaps(text) == []
    assert found[0] == in_order(ways[0])
    assert sorted(found) == sorted(in_order(way) for way in ways)
    assert {seat.because for seat in seats(text)} == set(because.split())


@pytest.mark.parametrize("text", [text for text, *_ in SEVERAL_WAYS])
def test_the_answer_that_is_offered_for_a_seat_puts_it_first(text: str) -> None:
    for seat in seats(text):
        if seat.because in ("marking-unsaid", "pin-order-varies"):
            without_claim = text.partition(" as ")[0]
            answered = [plain(other) for other in seats(f"{without_claim} {seat.answer}")]

            assert answered[0] == plain(seat), f"{without_claim} {seat.answer}"


@pytest.mark.parametrize(("text", "asked", "ways"), ASKED_BACK)
def test_what_makes_no_sense_is_asked_back(text: str, asked: str, ways: int) -> None:
    assert mishaps(text) == [asked]
    assert len(seats(text)) == ways


@pytest.mark.parametrize(("size", "rows"), strips.ROWS)
def test_the_holes_of_a_row_are_two_strips_and_no_more(size: str, rows: int) -> None:
    plan = BoardPlan("", size, split=False)
    holes = [Hole(column, row, "", Span(1, 1, 1, 1)) for row in range(1, rows + 1) for column in "abcdefghij"]
    by_strip: dict[object, str] = {}
    for hole in holes:
        by_strip[plan.strip(hole)] = by_strip.get(plan.strip(hole), "") + hole.column

    assert plan.rows == rows
    assert sorted(by_strip.values()) == sorted(strips.STRIPS_OF_A_ROW * rows)


@pytest.mark.parametrize("size", [size for size, _ in strips.ROWS])
def test_columns_are_joined_within_their_side_only(size: str) -> None:
    for one, other in combinations("abcdefghij", 2):
        same_side = any(one in side and other in side for side in strips.STRIPS_OF_A_ROW)

        assert joined(f"board {size}", f"{one}3", f"{other}3") == [same_side], f"{one} and {other}"


@pytest.mark.parametrize(("text", "one", "other", "expected"), (*strips.POINTS, *strips.PINS))
def test_points_are_joined_as_the_board_joins_them(text: str, one: str, other: str, expected: tuple[bool, ...]) -> None:
    assert joined(text, one, other) == list(expected)


@pytest.mark.parametrize(("text", "expected"), strips.FOUND)
def test_what_placement_itself_shows_is_found_at_its_point(text: str, expected: tuple[str, ...]) -> None:
    found = [" ".join(filter(None, (mishap.rule, mishap.facts.get("case", ""), *mishap.points)))
             for mishap in on_the_board(text).mishaps]

    assert sorted(found) == sorted(expected)


@pytest.mark.parametrize(("text", "pin", "place"), strips.PLACES)
def test_a_pin_is_said_to_be_where_the_list_has_it(text: str, pin: str, place: str) -> None:
    part, _, name = pin.partition(".")

    assert on_the_board(text).circuits[0].place_of[part.lower(), name] == place


@pytest.mark.parametrize(("text", "rule", "expected"), strips.FINDINGS)
def test_the_rules_see_which_legs_are_joined(text: str, rule: str, expected: bool) -> None:
    assert (rule in {finding.rule for finding in check(text).findings}) == expected
