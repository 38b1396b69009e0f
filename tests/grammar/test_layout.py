"""A list laid out: plain spellings, columns, comments kept, the same statements, and nothing more the second time."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from grammar import read
from grammar.layout import laid_out, meaning
from grammar.printer import show
from tests.acceptance.test_never_breaks import slipped

ROOT = Path(__file__).parents[2]
LISTS = sorted((*(ROOT / "checker" / "examples").glob("*.legs"), *(ROOT / "tests").rglob("*.legs")))

# what is written, how it is laid out
LINES = [
    ("R1 220 between b5 and b12", "part R1 220 in b5 b12"),
    ("red wire from a5 to b7", "wire red a5 to b7"),
    ("part  X1  thing   in A12 b-13   # what", "part X1 thing in a12 b13  # what"),
    ("part LED1 red led in c5 c6, long leg c5", "part LED1 red led in c5 c6 long c5"),
    ("wire a1 -> a2 -> a3", "wire a1 to a2 to a3"),
    ("part Q1 BC547 flat faces left in c5, c6, c7", "part Q1 BC547 in c5 c6 c7 flat faces left"),
    ("part U2 NE555 notch at row 10 across 10-13", "part U2 NE555 across 10-13 notch row 10"),
    ("part S1 button across 20-22 turned", "part S1 button across 20-22 turned"),
    ("expect LAMP dark when S1 not pressed", "expect LAMP dark when S1 not pressed"),
    ("expect a10 at 4,5V to 5,5V", "expect a10 at 4,5V to 5,5V"),
    ("pin U1.D2, U1.D3 output", "pin U1.D2, U1.D3 output"),
    ("title “Moth lamp”", 'title "Moth lamp"'),
    ("wrie a5 to b7   # unread", "wrie a5 to b7   # unread"),
    ("# only a comment", "# only a comment"),
]


@pytest.mark.parametrize(("written", "wanted"), LINES)
def test_a_line_is_laid_out(written: str, wanted: str) -> None:
    assert f"{wanted}\n" == laid_out(written)


def test_parts_of_a_block_stand_in_columns_and_their_comments_under_one_another() -> None:
    given = "supply PACK 9V on L+ L-   # plus first\npart Q1 PN2222A in c10 c11 c12 flat faces a #switch\n\n\n\nwire a1 to a2\n"

    assert laid_out(given).splitlines() == [
        "supply PACK 9V      on L+ L-                     # plus first",
        "part   Q1   PN2222A in c10 c11 c12 flat faces a  #switch",
        "",
        "wire a1 to a2",
    ]


@pytest.mark.parametrize("path", LISTS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_laying_out_keeps_every_statement_and_comment_and_is_done_once(path: Path) -> None:
    text = path.read_text("utf-8")

    once = laid_out(text)

    assert [meaning(one) for one in read(text).statements] == [meaning(one) for one in read(once).statements]
    assert [line.partition("#")[2].strip() for line in text.splitlines() if "#" in line] == [
        line.partition("#")[2].strip() for line in once.splitlines() if "#" in line]
    assert once == laid_out(once)


@pytest.mark.parametrize("path", LISTS[::4], ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_printing_a_statement_and_reading_it_again_is_the_identity(path: Path) -> None:
    tree = read(path.read_text("utf-8"))

    again = read("\n".join(show(statement) for statement in tree.statements))

    assert [meaning(one) for one in tree.statements] == [meaning(one) for one in again.statements]


@pytest.mark.parametrize("seed", range(60))
def test_a_list_full_of_slips_loses_nothing(seed: int) -> None:
    text = slipped(seed)

    once = laid_out(text)

    assert [meaning(one) for one in read(text).statements] == [meaning(one) for one in read(once).statements]
    assert len(read(text).problems) == len(read(once).problems)
    assert once == laid_out(once)


def test_the_generator_of_slips_makes_lists_that_cannot_all_be_read() -> None:
    assert any(read(slipped(seed)).problems for seed in random.Random(1).sample(range(200), 20))
