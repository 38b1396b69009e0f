"""The reader as a whole: spans, memory of lines, limits, bytes, cheap import, and no input that makes it fail."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct

from grammar import read
from grammar.reader import LONGEST_TEXT, MOST_LINES
from grammar.syntax_tree import Author, Span, Title
from grammar.tidy import tidy
from tests.grammar.plain_tree import labels, plain, statements

SEED_TRAY = """\
# Seed-tray mister: the pump stage
title "Seed-tray mister, pump stage"
board half                                       # 30 rows, a-e and f-j, a + and a - rail on each side

supply PACK 9V limit 2A on L+ L-                 # first point is plus, second is minus
part   U1   controller-5v                        # off the board; has D0..D13, A0..A5, 5V, 3V3, GND, VIN, RESET
part   PUMP motor 9V 100mA stall 300mA           # off the board; leads PUMP.1 and PUMP.2

part   Q1   PN2222A in c10 c11 c12 flat faces a  as E B C
part   R1   220     in b11 b16
part   D1   1N4001  in d12 d18 band d18

wire U1.D9 to a16
wire U1.GND to L-5
wire black L-10 to a10
wire PUMP.1 to b12
wire PUMP.2 to b18
wire red e18 to L+18

pin U1.D9 pwm
expect PUMP carries 80mA to 120mA when U1.D9 high
expect PUMP carries under 1mA when U1.D9 low
"""


def test_the_example_of_the_design_reads_without_a_problem() -> None:
    assert 17 == len(statements(SEED_TRAY))
    assert SEED_TRAY.split("\n")[:-1] == list(read(SEED_TRAY).lines)


# ── spans ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def nodes(node: object) -> Iterator[Struct]:
    """Every node below and including one."""
    if isinstance(node, tuple):
        for member in node:
            yield from nodes(member)
    elif isinstance(node, Struct) and not isinstance(node, Span):
        yield node
        for field in node.__struct_fields__:
            yield from nodes(getattr(node, field))


LISTS = [
    SEED_TRAY,
    "- R1 4,7k between b5 and b12;\n2. red led LED1 in d12 d14, long leg row 12 # lamp",
    "\tpart\tQ1 2N3904 E in c10, B in c11, C in c12\nwire the red rail to “a5”\n"
    "\u00a0part U1 controller-5v\nwire U1 D9 –> a16",
    "part U2 NE555 across 10–13 notch row 10\nexpect U2.3 between 4 and 5V when the S1 is pressed",
]


@pytest.mark.parametrize("text", LISTS)
def test_the_span_of_every_node_holds_its_words(text: str) -> None:
    wiring_list = read(text)

    assert wiring_list.problems == ()
    for statement in wiring_list.statements:
        for node in nodes(statement):
            span = node.span  # type: ignore[attr-defined]
            words = wiring_list.lines[span.line - 1][span.column - 1 : span.end_column - 1]
            assert words and words == words.strip()
            assert statement.span.line == span.line == span.end_line
            assert statement.span.column <= span.column < span.end_column <= statement.span.end_column
            if hasattr(node, "text") and not isinstance(node, Title | Author):
                assert node.text in (words, "E", "B", "C") and (node.text == words or len(words) == 1)


def test_the_span_of_a_clause_is_its_own_words() -> None:
    line = "part Q1 PN2222A in c10 c11 c12 flat faces a as E B C measured"
    (part,) = read(line).statements
    spans = [node.span for node in (part.place, part.marks[0], part.claim)]  # type: ignore[union-attr]

    assert ["in c10 c11 c12", "flat faces a", "as E B C measured"] == [
        line[s.column - 1 : s.end_column - 1] for s in spans
    ]


def test_the_same_line_is_the_same_wherever_it_stands() -> None:
    line = "part Q1 PN2222A in c10 c11 c12 flat faces a as E B C"
    wiring_list = read(f"{line}\n\n{line}\n# comment\n{line}")

    assert [1, 3, 5] == [statement.span.line for statement in wiring_list.statements]
    assert 1 == len({plain(statement) for statement in wiring_list.statements})


def test_a_problem_moves_with_its_line() -> None:
    assert [3, 5] == [problem.span.line for problem in read("\n\nwrie a5 to b7\n\nwrie a5 to b7").problems]


# ── limits and bytes ──────────────────────────────────────────────────────────────────────────────────────────────


def test_what_is_within_the_limits_is_read() -> None:
    many = read("wire a1 to b2\n" * (MOST_LINES + 7))
    long = read("wire a1 to b2\n" + "wire a1 to b2 to c3 " * 200 + "\nwire a4 to b5")
    large = read("wire a1 to b2\n" + ("#" * 1900 + "\n") * (LONGEST_TEXT // 1900 + 1))

    assert (MOST_LINES, ["too-many-lines"]) == (len(many.statements), [problem.label for problem in many.problems])
    assert ([1, 3], [2]) == ([s.span.line for s in long.statements], [p.span.line for p in long.problems])
    assert (1, ["text-too-long"]) == (len(large.statements), [problem.label for problem in large.problems])


BYTES = [
    ("UTF-8", "part R1 4k7Ω in b5 b9".encode()),
    ("UTF-8 with a mark", b"\xef\xbb\xbf" + "part R1 4k7Ω in b5 b9".encode()),
    ("UTF-16, low byte first", b"\xff\xfe" + "part R1 4k7Ω in b5 b9".encode("utf-16-le")),
    ("UTF-16, high byte first", b"\xfe\xff" + "part R1 4k7Ω in b5 b9".encode("utf-16-be")),
]


@pytest.mark.parametrize(("name", "content"), BYTES)
def test_bytes_are_read_in_their_encoding(name: str, content: bytes) -> None:
    assert ["Part(name='R1', words=['4k7Ω'], place=PlacedIn(points=[b5 b9]))"] == [
        plain(s) for s in read(content).statements
    ]


def test_latin_1_is_the_last_resort() -> None:
    assert ["Part(name='C1', words=['10µF'])"] == [plain(s) for s in read("part C1 10µF".encode("latin-1")).statements]


@pytest.mark.parametrize("content", [b"", "", "\n", b"\xef\xbb\xbf", b"\xff\xfe"])
def test_an_empty_file_has_no_statement_and_no_problem(content: str | bytes) -> None:
    wiring_list = read(content)

    assert ((), ()) == (wiring_list.statements, wiring_list.problems)


def test_a_binary_file_gives_problems_and_no_failure() -> None:
    assert labels(bytes(range(256)).decode("latin-1")) == ["no-list"]
    assert read(bytes(range(256)) * 50).problems


# ── any input ─────────────────────────────────────────────────────────────────────────────────────────────────────


def check_line_by_line(text: str) -> None:
    """Each line that says something gives one statement or one problem, and everything lies in the text."""
    wiring_list = read(text)
    places = [found.span.line for found in (*wiring_list.statements, *wiring_list.problems)]
    speaking = [number for number, line in enumerate(wiring_list.lines, start=1) if tidy(line).strip()]
    assert speaking == sorted(places)
    for problem in wiring_list.problems:
        assert problem.message
        assert 1 <= problem.span.column < problem.span.end_column <= len(wiring_list.lines[problem.span.line - 1]) + 2


@given(st.text(max_size=300))
def test_any_text_gives_one_statement_or_one_problem_a_line(text: str) -> None:
    check_line_by_line(text)


@given(st.binary(max_size=300))
def test_any_bytes_are_read_without_failure(content: bytes) -> None:
    read(content)


WORDS = sorted(
    {word for text in LISTS for word in text.split()}
    | set("in at on as to and flat faces band across L+ R- + - ( ) : ; , a5 5a 0 12 . .. @x x.y".split())
)


@given(st.lists(st.lists(st.sampled_from(WORDS), max_size=9).map(" ".join), max_size=4).map("\n".join))
def test_any_words_of_the_language_give_one_statement_or_one_problem_a_line(text: str) -> None:
    check_line_by_line(text)


@given(st.sampled_from(LISTS), st.integers(0, 1000), st.integers(0, 3), st.text(max_size=2))
def test_a_list_with_a_slip_in_it_is_still_read_line_by_line(text: str, at: int, length: int, typed: str) -> None:
    at %= len(text)

    check_line_by_line(text[:at] + typed + text[at + length :])


def test_importing_the_package_does_not_import_the_parser_generator() -> None:
    code = "import sys, grammar; sys.exit('lark' in sys.modules)"

    assert (
        0
        == subprocess.run([sys.executable, "-c", code], check=False, env={"PYTHONPATH": ":".join(sys.path)}).returncode
    )
