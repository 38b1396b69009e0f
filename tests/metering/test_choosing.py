"""Few readings that show many faults."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from checker.metering.choosing import choose

ONE_SHOWS_ALL = [[1, 2, 3, 4], [1, 0, 0, 0], [0, 1, 0, 0]]
TWO_HALVES = [[1, 1, 0, 0], [0, 0, 1, 1], [0, 1, 1, 0]]
ALIKE = [[1, 1, 1, 0], [1, 2, 3, 0]]
"""Both show the same three faults; the second tells them apart."""


def chosen(outcomes: list[list[int]], always: tuple[int, ...] = (), most: int = 9, priors: tuple[float, ...] = ()) -> list[int]:
    table = np.array(outcomes, dtype=np.int64)
    return choose(table, np.ones(len(table)), np.array(priors or [1.0] * table.shape[1]), always, most)


def test_the_reading_that_shows_most_is_enough() -> None:
    assert [0] == chosen(ONE_SHOWS_ALL)


def test_a_reading_that_adds_nothing_is_left_out() -> None:
    assert {0, 1} == set(chosen(TWO_HALVES))


def test_of_two_that_show_the_same_the_one_that_tells_them_apart_is_taken() -> None:
    assert [1] == chosen(ALIKE)


def test_what_is_always_measured_comes_first_and_stays() -> None:
    assert [1, 0] == chosen(ONE_SHOWS_ALL, always=(1,))


def test_the_likelier_fault_is_looked_for_first() -> None:
    assert [1] == chosen([[1, 0], [0, 1]], most=1, priors=(0.01, 0.06))


@given(st.lists(st.lists(st.integers(0, 3), min_size=5, max_size=5), min_size=1, max_size=8), st.integers(1, 6))
def test_never_more_than_asked_for_and_never_one_that_shows_nothing(outcomes: list[list[int]], most: int) -> None:
    numbers = chosen(outcomes, most=most)

    assert len(numbers) <= most
    assert len(set(numbers)) == len(numbers)
    assert all(any(outcomes[number]) for number in numbers)
