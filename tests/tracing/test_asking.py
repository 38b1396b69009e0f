"""Questions one at a time, and what is printed."""

from __future__ import annotations

import json

import pytest

from checker.report import Page
from checker.tracing import About, Probe, Trace, ask, render
from checker.tracing.asking import read_answer
from checker.tracing.choosing import Question
from checker.tracing.probes import rest_of
from tests.tracing.lists import DIVIDER, LAMP, MISTER, readings, traced, tracer_of


def asked(text: str, answers: list[str], typed: str = "") -> tuple[Trace, list[str]]:
    tracer = tracer_of(text)
    said: list[str] = []
    trace = ask(tracer, readings(text, typed), rest_of(tracer.circuit), answers, said.append)
    return trace, said


def about(text: str, not_clear: str = "") -> About:
    return About(file="list.legs", title="Tide tank", not_clear=not_clear, rest=rest_of(tracer_of(text).circuit))


def test_answers_lead_to_the_fault() -> None:
    """R1 open at b16 while D9 is high: the pump has 9 V on both sides, its base nothing, R1's row the pin's 5 V."""
    trace, said = asked(MISTER, ["9.0", "0", "4.95", "0"], "U1.D9=high? PUMP=still")
    questions = [line for line in said if line[0].isdigit()]

    assert len(questions) <= 5
    assert "R1's leg at b16 makes no contact" in {one.say for one in trace.groups[0].members}


@pytest.mark.parametrize(
    ("answers", "seen"),
    [
        ([], 0),  # the input ends
        (["q"], 0),
        (["", "", "q"], 0),  # Enter skips
        (["6 V", "q"], 1),
        (["6,00", "q"], 1),
        (["what?", "5 mA", "6.0", "q"], 1),  # what is not understood is asked again
    ],
)
def test_answers_are_taken_skipped_or_asked_again(answers: list[str], seen: int) -> None:
    trace, _ = asked(DIVIDER, answers)

    assert len(trace.seen) == seen


def test_a_skipped_question_is_followed_by_another() -> None:
    _, said = asked(DIVIDER, ["", "", ""])
    questions = [line.partition(". ")[2] for line in said if line[0].isdigit()]

    assert len(set(questions)) == len(questions) >= 3


def test_what_is_not_understood_is_said_before_it_is_asked_again() -> None:
    _, said = asked(DIVIDER, ["abc", "q"])
    first, complaint, again = said[1:4]

    assert complaint.startswith("   'abc' is no number of volts")
    assert again == first


@pytest.mark.parametrize(
    ("word", "value"), [("yes", 1.0), ("Y", 1.0), ("lit", 1.0), ("no", 0.0), ("n", 0.0), ("dark", 0.0)]
)
def test_a_look_is_answered_in_a_word(word: str, value: float) -> None:
    seen = read_answer(word, Question(Probe("look", "LED1", pin=("led1", "A"), look="lit"), {}, 1.0, ()))

    assert (seen.value, seen.text) == (value, "LED1=lit" if value else "LED1=dark")


# ── the page ──────────────────────────────────────────────────────────────────────────────────────────────────────

PAGE = """\
WHAT IS LIKELIEST
=================
Tide tank (list.legs)
Seen: b10=8.57V; L+=9V; R1=4.29mA.
"""


def test_the_page_says_what_is_likeliest_what_to_do_and_what_to_measure_next() -> None:
    page = render("terminal", traced(DIVIDER, "b10=8.57V L+=9V R1=4.29mA"), about(DIVIDER), Page())

    assert page.startswith(PAGE)
    assert "R1 is 100 Ω instead of 1 kΩ: ten times too small" in page
    assert "WHAT TO DO FIRST\n  put in 1 kΩ for R1.\n" in page
    assert page.rstrip().endswith("not looked at.")


@pytest.mark.parametrize("width", [40, 60, 80, 200])
@pytest.mark.parametrize("typed", ["", "U1.D9=high? PUMP=still", "U1.D9=high? PUMP=still b16=4.9V b11=0V R1.1=0V"])
def test_no_line_is_wider_than_the_page(typed: str, width: int) -> None:
    page = render("terminal", traced(MISTER, typed), about(MISTER), Page(width=width))

    assert max(map(len, page.splitlines())) <= min(max(width, 40), 96)


@pytest.mark.parametrize(
    ("text", "typed", "sentence"),
    [
        (MISTER, "", "No readings yet: these are the faults that occur most."),
        (MISTER, "U1.D9=high? PUMP=still", "Seen: PUMP=still with U1.D9 high."),
        (MISTER, "U1.D9=high? PUMP=still", "then add to the command: --when U1.D9=high --saw"),
        (MISTER, "U1.D9=high? PUMP=still b16=4.9V b11=0V", "the volts on R1's leg at b"),
        (DIVIDER, "L+=9V b10=12V", "No single fault explains all of it: b10=12V does not fit."),
        (LAMP, "LED1=lit LED1=15.3mA", "nothing is wrong: the board does what the list says"),
        (DIVIDER, "b10=1.5V L+=9V", "(no voltage tells these apart: look at them)"),
    ],
)
def test_the_page_says(text: str, typed: str, sentence: str) -> None:
    page = " ".join(render("terminal", traced(text, typed), about(text), Page()).split())

    assert sentence in page


def test_a_list_that_is_not_clear_is_said_to_be() -> None:
    page = render("terminal", traced(DIVIDER, ""), about(DIVIDER, "The list itself is not clear."), Page())

    assert "The list itself is not clear.\n" in page


def test_the_json_has_groups_readings_and_the_next_question() -> None:
    told = json.loads(render("json", traced(MISTER, "U1.D9=high? PUMP=still"), about(MISTER), Page()))

    assert [told["title"], told["reference"], told["explained"]] == ["Tide tank", "U1.GND", True]
    assert told["seen"] == [{"text": "PUMP=still", "state": {"U1.D9": "high"}}]
    assert {"kind", "say", "parts", "points", "remedy", "edits"} == set(told["groups"][0]["suspects"][0])
    assert {"measure", "at", "leg_at", "state", "bits", "outcomes"} == set(told["next"])
    assert {"low", "high", "say", "leaves"} == set(told["next"]["outcomes"][0])
