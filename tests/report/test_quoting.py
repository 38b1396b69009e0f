"""The mark under the list's own line: at the right cells, never absent, whatever was typed."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len

from checker.report.model import Span
from checker.report.quoting import quote

LINE = "part D1 1N4001 in d12 d18 band d12"


def shown(lines: tuple[str, ...], span: Span, width: int = 80) -> list[str]:
    return [row.text for row in quote(lines, span, width)]


@pytest.mark.parametrize(
    ("case", "line", "columns", "rows"),
    [
        ("a word in the line", LINE, (6, 8), [f"1  {LINE}", "        ^^"]),
        ("the end of the line", LINE, (32, 35), [f"1  {LINE}", "   " + " " * 31 + "^^^"]),
        ("nothing: a caret where it is missing", "wire a5 to", (11, 11), ["1  wire a5 to", "             ^"]),
        ("a column past the end is the end", "wire", (40, 50), ["1  wire", "       ^"]),
        ("an empty line", "", (1, 1), ["1", "   ^"]),
        ("an end past the line stops there", "wire a5", (6, 99), ["1  wire a5", "        ^^"]),
        ("a tab before the span", "\twire\ta5", (7, 9), ["1      wire    a5", "               ^^"]),
        ("a tab in the span", "a5\tb", (1, 5), ["1  a5  b", "   ^^^^^"]),
        ("wide characters before", "# 電圧 a5", (6, 8), ["1  # 電圧 a5", "          ^^"]),
        ("wide characters in the span", "電圧 a5", (1, 3), ["1  電圧 a5", "   ^^^^"]),
        ("an accent joined to its letter", "e\u0301t\u0301 a5", (6, 8), ["1  e\u0301t\u0301 a5", "      ^^"]),
        ("a control character shown", "a\x1bb a5", (5, 7), ["1  a\u241bb a5", "       ^^"]),
        ("a carriage return left out", "wire a5\r", (6, 8), ["1  wire a5", "        ^^"]),
    ],
)
def test_carets_stand_under_the_span(case: str, line: str, columns: tuple[int, int], rows: list[str]) -> None:
    assert shown((line,), Span(1, columns[0], 1, columns[1])) == rows


def test_a_span_of_several_lines_is_marked_in_the_margin() -> None:
    assert shown(("one", "two", "three", "four"), Span(2, 2, 3, 4)) == ["2  * two", "3  * three"]


def test_a_long_span_shows_where_it_begins_and_ends() -> None:
    lines = tuple(f"line {number}" for number in range(1, 13))

    assert shown(lines, Span(2, 1, 11, 3)) == [
        " 2  * line 2",
        " 3  * line 3",
        " 4  * line 4",
        "    * … 6 more lines",
        "11  * line 11",
    ]


def test_a_span_that_ends_where_the_next_line_begins_is_one_line() -> None:
    assert shown(("one", "two"), Span(1, 1, 2, 1)) == ["1  one", "   ^^^"]


def test_a_span_past_the_text_points_at_its_end() -> None:
    assert shown(("board half", "wire"), Span(7, 1, 7, 1)) == ["2  wire", "       ^"]
    assert shown((), Span(1, 1, 1, 1)) == []


def test_a_long_line_is_folded_at_a_space_and_its_mark_with_it() -> None:
    assert shown((LINE,), Span(1, 19, 1, 35), width=27) == [
        "1  part D1 1N4001 in d12",
        "                     ^^^^",
        "   d18 band d12",
        "   ^^^^^^^^^^^^",
    ]


def test_of_an_endless_line_only_the_neighbourhood_of_the_mark_is_shown() -> None:
    rows = shown(("a" * 100_000 + "b" + "c" * 100_000,), Span(1, 100_001, 1, 100_002), width=60)

    assert len(rows) < 12
    assert rows[0].startswith("1  …a")
    assert rows[-1].endswith("c…")
    assert [above[below.index("^")] for above, below in pairwise(rows) if "^" in below] == ["b"]


CHARACTERS = st.sampled_from("ab 12\t電é\u0301\u200d\U0001f50b\ufe0f\x1b\x00\ufeff\u202e")
COLUMNS = st.integers(min_value=-3, max_value=90)


@given(st.lists(st.text(CHARACTERS, max_size=70), min_size=1, max_size=8), *[COLUMNS] * 4, st.integers(30, 120))
@example(["\u0301"], 1, 1, 1, 2, 60)
@example(["\ufeff"], 1, 1, 1, 1, 60)
def test_there_is_always_a_mark_and_no_row_is_too_wide(
    lines: list[str], line: int, column: int, end_line: int, end_column: int, width: int
) -> None:
    rows = quote(lines, Span(line, column, end_line, end_column), width)

    assert any("^" in row.text if row.mark else "* " in row.text or row.text.endswith("*") for row in rows)
    assert all(cell_len(row.text) <= width for row in rows)
    assert not any("\x1b" in row.text or "\t" in row.text for row in rows)


@given(st.text(st.sampled_from("ab 電é12"), max_size=200), st.integers(30, 60))
def test_a_folded_line_put_together_again_is_the_line(line: str, width: int) -> None:
    rows = [row.text for row in quote((line,), Span(1, 1, 1, 1), width) if not row.mark]

    assert "".join("".join(rows)[1:].split()) == "".join(line.split())


def test_of_a_line_that_does_not_fit_the_comment_is_left_away() -> None:
    line = "part D1 1N4001 in d12 d18 band d12   # across the motor, band to plus"

    assert shown((line,), Span(1, 6, 1, 8), 45) == ["1  part D1 1N4001 in d12 d18 band d12  # …", "        ^^"]
    assert shown((line,), Span(1, 6, 1, 8), 90) == [f"1  {line}", "        ^^"]
