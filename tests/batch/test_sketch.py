"""Lists that are alike are found whatever their parts are called; lists that only do the same are not."""

from __future__ import annotations

import random

import pytest

from checker.batch.sketch import ALIKE, alike_groups, likeness_of, sketch_of
from checker.examples import text_of
from grammar import read
from tests.batch.classroom import LAB, elsewhere, students

TEXT = text_of(LAB)


def sketch(text: str) -> bytes:
    return sketch_of(read(text))


def shuffled(text: str) -> str:
    lines = text.splitlines()
    random.Random(3).shuffle(lines)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("other", "exactly"),
    [
        ("# mine\n" + TEXT, True),
        (TEXT.replace("PUMP", "MOTOR").replace("Q1", "T7"), True),
        (TEXT.replace("wire red", "wire green").replace("wire black", "wire"), True),
        (TEXT.replace("wire PUMP.1 to b12", "wire b12 to PUMP.1"), True),
        (TEXT.replace("Seed-tray", "My own"), True),
        (shuffled(TEXT), True),
        (TEXT.replace("wire U1.GND to L-5", "wire U1.GND to L-6"), False),
    ],
    ids=["comment", "names", "colours", "ends exchanged", "title", "order", "one hole"],
)
def test_what_makes_no_difference(other: str, exactly: bool) -> None:
    assert exactly is (likeness_of(sketch(TEXT), sketch(other)) == 1.0)


def test_the_same_circuit_built_elsewhere_is_not_alike() -> None:
    people = students(40)
    pairs = [likeness_of(sketch(one.text), sketch(other.text)) for one in people for other in people if one is not other]

    assert max(pairs) < ALIKE


def test_an_estimate_is_near_the_share_of_statements_in_common() -> None:
    """The share is that of Jaccard; with 128 numbers the standard error is below 0.045 (Broder 1997)."""
    lines = [f"wire a{row} to b{row + 1}" for row in range(1, 29)]
    one, other = "\n".join(lines[:21]) + "\n", "\n".join(lines[7:]) + "\n"

    assert 14 / 28 == pytest.approx(likeness_of(sketch(one), sketch(other)), abs=4 * 0.045)


def test_groups_are_found_in_a_class_and_nothing_else() -> None:
    people = [student.text for student in students(30)]
    chance = random.Random(9)
    copies = [people[4] + "# mine\n", people[4].replace("PUMP", "M9"), shuffled(people[17])]
    texts = [*people, *copies, elsewhere(TEXT, "Zoe", chance)]

    assert [[4, 30, 31], [17, 32]] == alike_groups(enumerate(map(sketch, texts)))


def test_a_class_of_copies_is_one_group_and_costs_no_more_than_its_length() -> None:
    same = sketch(TEXT)

    assert [list(range(3000))] == alike_groups((number, same) for number in range(3000))


def test_a_list_of_few_lines_has_no_sketch() -> None:
    assert b"" == sketch("board half\nwire a1 to a2\n")
