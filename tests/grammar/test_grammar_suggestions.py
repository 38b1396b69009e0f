"""The nearest right spelling: case and separators first, then few slips, and nothing where all are far."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grammar import nearest
from grammar.suggestions import correction, slips

WORDS = ("wire", "part", "pin", "power", "band", "bands", "2N2222A", "PN2222A", "input-pullup")


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("wrie", ("wire",)),
        ("WIRE", ("wire",)),
        ("prt", ("part",)),
        ("bandd", ("band", "bands")),
        ("2n2222a", ("2N2222A",)),
        ("2N-2222-A", ("2N2222A",)),
        ("INPUT_PULLUP", ("input-pullup",)),
        ("banana", ()),
        ("xy", ()),
        ("", ()),
        ("w" * 41, ()),
    ],
)
def test_the_nearest_spellings_of_a_word(word: str, expected: tuple[str, ...]) -> None:
    assert expected == nearest(word, WORDS)


def test_at_most_three_are_offered_in_the_order_given() -> None:
    assert ("R1", "R2", "R3") == nearest("R9", ("R1", "R2", "R3", "R4"))


# The distances of the textbook examples (kitten/sitting: Levenshtein 1966; ca/abc is 3 with each pair swapped once).
@pytest.mark.parametrize(
    ("one", "other", "count"), [("kitten", "sitting", 3), ("wrie", "wire", 1), ("ca", "abc", 3), ("", "abc", 3)]
)
def test_slips_are_counted_as_published(one: str, other: str, count: int) -> None:
    assert count == slips(one, other)


@given(st.text("abcd", max_size=6), st.text("abcd", max_size=6))
def test_slips_are_symmetric_and_zero_only_for_the_same_word(one: str, other: str) -> None:
    assert slips(one, other) == slips(other, one)
    assert (slips(one, other) == 0) == (one == other)


@pytest.mark.parametrize(("word", "expected"), [("wrie", "wire"), ("wire", None), ("WIRE", None), ("banana", None)])
def test_a_word_that_is_right_has_no_correction(word: str, expected: str | None) -> None:
    assert expected == correction(word, WORDS)
