"""With a reference a list is not praised for being another circuit, however safe; and what is no list is told what to do."""

from __future__ import annotations

import json

import pytest

from checker.batch import Batch, Options, default_scheme, from_memory, run_batch
from checker.batch.words import found_in_short, said_of, stamp
from tests.batch.test_behaviour import ELSEWHERE, REFERENCE

BUZZER = """
board half
part U1 controller-5v
part B1 buzzer 5V 20mA in c5 c9 plus c5
wire U1.D4 to a5
wire U1.GND to a9
pin U1.D4 output
"""
SAME = ELSEWHERE.format(ohms="220").replace("expect D7 carries 1A to 2A\n", "")

# the list handed in; its stamp, what its row says, what its page is headed by
CASES = [
    ("the same circuit in other holes", SAME, "CLEAR", "",
     "The wiring does what it should: nothing is over its limits and everything gets its current"),
    ("a resistor of another value that does", SAME.replace("220", "330"), "CLEAR",
     "1 difference from the reference, first: R9 is 330 Ω; the reference has 220 Ω",
     "Nothing is over its limits, but it is not the circuit asked for: 1 difference from the reference, first: "
     "R9 is 330 Ω; the reference has 220 Ω"),
    ("a buzzer on its supply", BUZZER, "ANOTHER CIRCUIT",
     "5 differences from the reference, first: U1 (controller-5v) is not in the reference",
     "It is not the circuit asked for (0 % alike). By itself it is clear: nothing in it is over its limits"),
    ("a line that cannot be read", BUZZER.replace("board", "bord"), "COULD NOT READ ALL OF IT",
     "Line 2: bord is not a word of the language here; the nearest is board",
     "Line 2: bord is not a word of the language here; the nearest is board"),
]


def batch_of(text: str, feedback: str = "html") -> Batch:
    options = Options(workers=0, reference=REFERENCE.encode(), feedback=feedback, scheme=default_scheme())
    return run_batch(from_memory([("ada.legs", text.encode())]), options)


@pytest.mark.parametrize(("given", "stamped", "short", "headed"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_the_row_and_the_page_say_whether_it_is_the_circuit_asked_for(given: str, stamped: str, short: str, headed: str) -> None:
    batch = batch_of(given)
    row, = batch.rows

    assert (stamped, short, headed) == (stamp(row), found_in_short(row), said_of(row))
    assert f"{stamped}</strong>" in batch.files["feedback/ada.html"].decode()
    assert f'type="{row.verdict}"' in batch.files["junit.xml"].decode() or row.verdict == "clear"


def test_another_circuit_is_counted_apart_and_fails_in_the_tables_for_programs() -> None:
    batch = batch_of(BUZZER)
    found = json.loads(batch.files["summary.json"])

    assert (1, 1, "clear", True) == (found["class"]["verdicts"]["clear"], found["class"]["another"],
                                     found["lists"][0]["verdict"], found["lists"][0]["another"])
    assert 'failures="1"' in batch.files["junit.xml"].decode()
    assert "1 of those that are clear is another circuit than the one asked for." in batch.files["class.html"].decode()


GATE = """
board half
supply PS 5V limit 1A on R+ R-
part U1 controller-5v
power U1 5v
part K1 relay-5v
part Q1 BC547 in h10 h11 h12 flat faces a
part R1 {ohms} in j11 j15
part D1 1N4148 in f5 f10 band f5
part M1 motor 6V 200mA
supply MB aa-pack-4 on L+ L-
wire U1.D4 to i15
wire R-12 to j12
wire R+5 to j5
wire K1.A1 to g5
wire K1.A2 to g10
wire L+ to K1.COM
wire K1.NO to M1.1
wire M1.2 to L-
wire R- to U1.GND
wire R+ to U1.5V
pin U1.D4 output
expect M1 runs when U1.D4 high
"""
BLINKER = """
board half
supply PK 6V limit 500mA on L+ L-
part U1 NE555 across 10-13 notch row 10
part C2 100n in d10 j10
part R1 10k in j10 j11
part R2 47k in h11 h12
part C1 10uF 25V in c12 c10 stripe c10
part R3 330 in d13 d18
part LED1 led red in c18 c22 long c18
wire L-10 to a10
wire L+10 to i10
wire b11 to e18
wire b12 to g12
wire a22 to L-22
wire f11 to f16
"""


def batch_beside(reference: str, *given: str) -> Batch:
    sources = [(f"{number}.legs", text.encode()) for number, text in enumerate(given)]
    return run_batch(from_memory(sources), Options(workers=0, reference=reference.encode(), feedback="markdown",
                                                   scheme=default_scheme()))


def test_another_circuit_is_one_sentence_and_not_a_list_of_things_to_do() -> None:
    batch = batch_beside(GATE.format(ohms="1k"), BLINKER)
    said = batch.files["feedback/0.md"].decode()
    beside = said.split("## Beside the reference")[1].split("##")[0].strip()

    assert beside.startswith("- This is another circuit than the reference: only ") and "\n" not in beside
    assert "nothing here plays U1, a controller: here U1 is an NE555" in said


def test_in_the_table_for_programs_another_circuit_has_no_clear_verdict() -> None:
    assert [line.split(",")[4] for line in batch_of(BUZZER).files["summary.csv"].decode().splitlines()[1:]] == ["another-circuit"]


def test_notes_that_the_reference_has_too_cost_nothing() -> None:
    """The relay's contact sparks at the motor in the reference itself; the decoupling of a chip is nobody's but the list's."""
    same, other = batch_beside(GATE.format(ohms="1k"), GATE.format(ohms="1k").replace("M1", "M7"), GATE.format(ohms="10k")).rows

    assert same.summary.note > 0
    assert same.mark is not None and same.mark.points == same.mark.most
    assert not any("taken off" in line.say for line in same.mark.lines)
    assert other.likeness is not None and 0.9 < other.likeness < 1.0


def test_the_wiring_of_another_circuit_is_not_called_right() -> None:
    assert "the wiring in the list is not the reason" in batch_of(SAME, "markdown").files["feedback/ada.md"].decode()
    assert "the wiring in the list is not the reason" not in batch_of(BUZZER, "markdown").files["feedback/ada.md"].decode()


@pytest.mark.parametrize(("handed_in", "why"), [("", "it is empty"), ("a\0b", "it is not text")])
def test_what_is_no_list_is_told_what_to_do_and_not_that_it_is_no_guarantee(handed_in: str, why: str) -> None:
    said = batch_of(handed_in, "markdown").files["feedback/ada.md"].decode()

    assert f"**NOT CHECKED**: {why}." in said
    assert "First: hand in the list again as plain text, in a file that ends in .legs or .txt." in said
    assert f"| not marked, a person has to look: {why} |  |" in said
    assert "guarantee" not in said
