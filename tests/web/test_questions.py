"""The questions that make a line: whatever part of the library is asked for, plain answers make a line that is read as that
part, with nothing wrong in it and its turning settled where a mark can be seen."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from checker.bench.inventory import lay_out
from checker.cards.marks import marks_of
from checker.web.questions import STATEMENTS, Form, Question, form_of
from grammar import read
from parts_library import load_library
from parts_library.schema import AnyEntry

LIBRARY = load_library()
VALUES = {"resistance": "10k", "capacitance": "10uF", "inductance": "1mH", "volts": "9V", "amps": "100mA", "limit": "500mA"}

MORE_PARTICULAR = {"relay": "relay-9v", "capacitor": "electrolytic", "wall-adapter": "wall-adapter-9v"}
"""Entries of which the library has a more particular one for the value in the answers."""


def answered(form: Form) -> str:
    """The line, every question answered with the first thing that fits, as the page puts it together."""
    holes: list[str] = []
    words = []
    for question in form.questions:
        answer = plain_answer(question, holes)
        if question.answer == "holes":
            holes = answer.split()
        if answer:
            words.append(question.writes.replace("{}", answer))
    return " ".join(words)


def plain_answer(question: Question, holes: list[str]) -> str:
    match question.answer:
        case "name":
            return f"{question.offer}1"
        case "holes":
            return " ".join(f"c{10 + 2 * number}" for number in range(question.count))
        case "rows":
            return f"10-{9 + question.count}" if question.count > 1 else "20-22"
        case "hole-of":
            return holes[0]
        case "end-of":
            return "10"
        case "choice":
            return question.choices[0].writes
        case "point":
            return question.offer or ("e10" if question.writes.startswith("dot") else "U1.D9" if "pin" in question.writes
                                      else "b7" if question.writes.startswith("to") else "a5")
    return next(value for word, value in VALUES.items() if word in question.ask)


def first_of_each(entries: Iterable[AnyEntry]) -> list[AnyEntry]:
    """One entry of each kind in each package."""
    return list({(type(entry), entry.package): entry for entry in entries}.values())


@pytest.mark.parametrize("entry", LIBRARY.entries.values(), ids=lambda entry: entry.name)
def test_plain_answers_make_a_line_that_is_read_as_the_part(entry: AnyEntry) -> None:
    line = answered(form_of(entry, LIBRARY))
    tree = read(line)
    bench, mishaps = lay_out(tree, LIBRARY)
    (part,) = bench.parts.values()

    assert tree.problems == ()
    assert [mishap for mishap in mishaps if mishap.rule in ("syntax", "unknown-part", "unknown-point", "bad-value")] == []
    assert type(part.entry) is type(entry)
    assert part.entry.name == MORE_PARTICULAR.get(entry.name, entry.name)


@pytest.mark.parametrize("entry", first_of_each(LIBRARY.entries.values()), ids=lambda entry: f"{entry.name} {entry.package}")
def test_what_can_be_seen_on_a_part_is_asked_once_and_may_stay_open(entry: AnyEntry) -> None:
    package = LIBRARY.packages[entry.package]
    marks = [question for question in form_of(entry, LIBRARY).questions if question.writes.split(" ")[0] in package.marks]
    settled = package.form in ("to92", "to220", "dip") or any(mark.pin for mark in marks_of(entry, package))

    assert len(marks) == (1 if package.marks and package.breadboard and settled else 0)
    assert all(question.optional for question in marks)


@pytest.mark.parametrize("name", STATEMENTS)
def test_plain_answers_make_a_wire_and_a_pin(name: str) -> None:
    assert read(answered(STATEMENTS[name]())).problems == ()
