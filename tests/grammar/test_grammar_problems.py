"""What cannot be read costs its own line, is named from the one table, and is told in one plain sentence."""

from __future__ import annotations

import re

import pytest

from grammar import read
from grammar.problems import PROBLEMS
from grammar.syntax_tree import Problem
from tests.grammar.plain_tree import labels

EXAMPLES = [(label, example) for label, row in PROBLEMS.items() for example in row.examples]
SHORT = [(label, example) for label, example in EXAMPLES if len(example) < 200]


@pytest.mark.parametrize(
    ("label", "example"), EXAMPLES, ids=[f"{label}: {example[:40]!r}" for label, example in EXAMPLES]
)
def test_each_example_of_the_table_gets_its_own_label(label: str, example: str) -> None:
    assert [label] == labels(example)


@pytest.mark.parametrize("label", PROBLEMS)
def test_each_kind_of_problem_has_at_least_two_different_examples(label: str) -> None:
    assert len(set(PROBLEMS[label].examples)) >= 2


@pytest.mark.parametrize(("label", "example"), SHORT)
def test_each_sentence_is_plain(label: str, example: str) -> None:
    (problem,) = read(example).problems

    assert re.search(r"[.!?{}]$|\{|\}|!|\bI\b|illegal|invalid|forgot", problem.message) is None
    assert len(problem.message.split()) <= 25


@pytest.mark.parametrize(("label", "example"), SHORT)
def test_each_problem_points_at_a_place_in_its_line(label: str, example: str) -> None:
    wiring_list = read(example)
    (problem,) = wiring_list.problems
    line = wiring_list.lines[problem.span.line - 1]

    # One place past the end of the line is where a missing word would stand.
    assert 1 <= problem.span.column < problem.span.end_column <= len(line) + 2


def mended(text: str, problem: Problem) -> str:
    """The text with the suggestion in place of what was found."""
    lines = text.split("\n")
    line = lines[problem.span.line - 1]
    assert problem.suggestion is not None
    lines[problem.span.line - 1] = (
        line[: problem.span.column - 1] + problem.suggestion + line[problem.span.end_column - 1 :]
    )
    return "\n".join(lines)


WITH_SUGGESTION = [
    (label, example) for label, example in SHORT if any(found.suggestion for found in read(example).problems)
]


@pytest.mark.parametrize(("label", "example"), WITH_SUGGESTION)
def test_a_suggestion_put_in_place_is_read(label: str, example: str) -> None:
    (problem,) = read(example).problems

    # The second row of "c10 11 12" is only asked for when the first has been mended.
    assert labels(mended(example, problem)) in ([], ["hole-without-column"])


# line, the words at fault, the suggestion
SPELLINGS = [
    ("wrie a5 to b7", "wrie", "wire"),
    ("WRIE a5 to b7", "WRIE", "wire"),
    ("prt Q1 PN2222A in c10 c11 c12", "prt", "part"),
    ("suply PACK 9V on L+ L-", "suply", "supply"),
    ("bord half", "bord", "board"),
    ("titel Tide tank", "titel", "title"),
    ("exepct PUMP runs", "exepct", "expect"),
    ("keap A apart from B", "keap", "keep"),
    ("powr U1 usb", "powr", "power"),
    ("part D1 1N4001 in d12 d18 bandd d18", "bandd", "band"),
    ("part LED1 led in d12 d14 lnog d12", "lnog", "long"),
    ("part Q1 PN2222A in c10 c11 c12 flat facs a", "facs", "faces"),
    ("part Q1 PN2222A in c10 c11 c12 flat fasces a", "fasces", "faces"),
    ("part Q1 PN2222A in c10 c11 c12 flt faces a", "flt", "flat"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces lfet", "lfet", "left"),
    ("part Q1 PN2222A inn c10 c11 c12", "inn", "in"),
    ("part U2 NE555 acros 10-13", "acros", "across"),
    ("part R1 220 betwen b5 b9", "betwen", "between"),
    ("part R1 bands red violt brown in b5 b9", "violt", "violet"),
    ("wire rd a5 to b7", "rd", "red"),
    ("wire a5 too b7", "too", "to"),
    ("supply PACK 9V limt 2A", "limt", "limit"),
    ("power U1 usbb", "usbb", "usb"),
    ("pin U1.D9 pwn", "pwn", "pwm"),
    ("pin U1.D9 otput", "otput", "output"),
    ("pin U1.D9 inptu pullup", "inptu", "input"),
    ("keep A aprt from B", "aprt", "apart"),
    ("expect PUMP caries 5mA", "caries", "carries"),
    ("expect PUMP runs wen S1 pressed", "wen", "when"),
    ("expect PUMP carries undr 5mA", "undr", "under"),
    ("supply PACK 9V limit 2kk", "2kk", "2k"),
    ("expect a10 at 5", "5", "5V"),
    ("part P1 pot 10k in c10 11 c12", "11", "c11"),
]


@pytest.mark.parametrize(("line", "words", "suggestion"), SPELLINGS)
def test_a_slip_gets_the_nearest_right_spelling_at_its_place(line: str, words: str, suggestion: str) -> None:
    (problem,) = read(line).problems

    assert words == line[problem.span.column - 1 : problem.span.end_column - 1]
    assert suggestion == problem.suggestion


KINDS = (
    "motor pot relay lamp fuse led button switch buzzer servo stepper solenoid ldr thermistor diode zener crystal pump "
    "fan heater speaker resistor capacitor inductor transistor regulator matrix"
)


@pytest.mark.parametrize("kind", KINDS.split())
def test_a_kind_of_part_is_never_taken_for_a_misspelt_keyword(kind: str) -> None:
    assert [] == labels(f"{kind} X1 in c5 c7")
    assert [] == labels(f"part X1 {kind} in c5 c7")
    assert [] == labels(f"part X1 {kind} c5 c7")


TWENTY = [f"wire a{row} to b{row + 1}" for row in range(1, 21)]


def test_three_broken_lines_of_twenty_give_three_problems_and_seventeen_statements() -> None:
    lines = list(TWENTY)
    lines[3], lines[10], lines[19] = "wrie a4 to b5", "wire a11 to", "wire 5 to ) = 7 (("

    wiring_list = read("\n".join(lines))

    assert [4, 11, 20] == [problem.span.line for problem in wiring_list.problems]
    assert 17 == len(wiring_list.statements)
    assert set(range(1, 21)) - {4, 11, 20} == {statement.span.line for statement in wiring_list.statements}


def test_what_was_expected_is_told() -> None:
    (problem,) = read("power U1 battery").problems

    assert ("usb", "vin", "5v", "off") == problem.expected
    assert "battery is no way to feed a controller" == problem.message
