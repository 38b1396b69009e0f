"""What could be misread in silence is settled by the whole list, or asked back with the spelling to use."""

from __future__ import annotations

import pytest

from checker import check
from grammar import read
from tests.grammar.plain_tree import labels, plain, statements

SETTLED = [
    ("a declared part wins over a hole", "part D1 1N4001 in d12 d18 band d18\nwire D1 to a5", "Wire(points=[?D1 a5])"),
    ("in any case", "part D1 1N4001 in d12 d18 band d18\nwire d1 to a5", "Wire(points=[?d1 a5])"),
    (
        "also where it is declared later",
        "part U1 x\nwire C1 to a5\npart C1 100n in b5 b9",
        "Part(name='C1', words=['100n'], place=PlacedIn(points=[b5 b9]))",
    ),
    (
        "its own leg is a hole all the same",
        "part D1 1N4001 in d1 d5 band d5",
        "Part(name='D1', words=['1N4001'], place=PlacedIn(points=[d1 d5]), marks=[MarkAt(mark=band, point=d5)])",
    ),
    (
        "its own leg is a hole in capitals too",
        "part D1 1N4001 in D1 d5 band d5",
        "Part(name='D1', words=['1N4001'], place=PlacedIn(points=[d1 d5]), marks=[MarkAt(mark=band, point=d5)])",
    ),
    (
        "a leg in lower case is in a hole",
        "part D1 1N4001 in d12 d18 band d18\npart U1 controller-5v\npart R1 1k in d1 d9",
        "Part(name='R1', words=['1k'], place=PlacedIn(points=[d1 d9]))",
    ),
    (
        "a list with its holes in capitals means holes",
        "part D1 1N4001 in D12 D18 band D18\npart U1 controller-5v\nwire E12 to F12\npart R1 1k in D1 D9",
        "Part(name='R1', words=['1k'], place=PlacedIn(points=[d1 d9]))",
    ),
    (
        "two holes in capitals and nothing else show the habit",
        "part U1 controller-5v\npart R1 1k in A1 A5",
        "Part(name='R1', words=['1k'], place=PlacedIn(points=[a1 a5]))",
    ),
    (
        "a capital that reads like nothing else is a hole",
        "part U1 controller-5v\nwire a1 to b2\npart R1 1k in B16 C20",
        "Part(name='R1', words=['1k'], place=PlacedIn(points=[b16 c20]))",
    ),
    (
        "without a controller D9 is a hole",
        "wire a1 to b2\npart R1 1k in D9 a16",
        "Part(name='R1', words=['1k'], place=PlacedIn(points=[d9 a16]))",
    ),
    ("a leg with a board is in a hole", "part D1 1N4001\npart R1 1k in TOP:D1 TOP:a5",
     "Part(name='R1', words=['1k'], place=PlacedIn(points=[TOP:d1 TOP:a5]))"),
    ("a hole with a board stays a hole", "part D1 1N4001\nwire TOP:D1 to a5", "Wire(points=[TOP:d1 a5])"),
    ("with no such part it is a hole", "wire D9 to a16", "Wire(points=[d9 a16])"),
    ("a sign after a declared part is a pin", "part C1 100uF in d1 d4\nwire C1 + to a5", "Wire(points=[C1.+ a5])"),
    ("a word after a declared part is a pin", "part U1 controller-5v\nwire U1 D9 to a16", "Wire(points=[U1.D9 a16])"),
    ("a number after a declared part is a pin", "part R1 220\nwire R1 1 to a5", "Wire(points=[R1.1 a5])"),
    ("a comma keeps two points apart", "part U1 controller-5v\nwire U1, D9, a16", "Wire(points=[?U1 d9 a16])"),
    (
        "amps among holes with the column first",
        "part F1 fuse in b5 b9 2A",
        "Part(name='F1', words=['fuse' '2A'], place=PlacedIn(points=[b5 b9]))",
    ),
    (
        "but a hole where all have the row first",
        "part F1 fuse in 5b 9b 2a",
        "Part(name='F1', words=['fuse'], place=PlacedIn(points=[b5 b9 a2]))",
    ),
    (
        "a number far from the legs is a value",
        "part R1 in b5 b9 47",
        "Part(name='R1', words=['47'], place=PlacedIn(points=[b5 b9]))",
    ),
    (
        "a part number of the shape of a hole",
        "part Q1 C945 in c10 c11 c12",
        "Part(name='Q1', words=['C945'], place=PlacedIn(points=[c10 c11 c12]))",
    ),
    ("one pair of rails in use", "wire R+ to a5\nwire blue rail to a6", "Wire(points=[R- a6])"),
    ("a minus sign before a connector is a pin", "part LED1 led\nwire LED1 - to a5", "Wire(points=[LED1.- a5])"),
    ("a dash between points is to", "part LED1 led\nwire LED1 - a5", "Wire(points=[?LED1 a5])"),
    ("a voltage is not a pin", "wire 3.3V to a5", "Wire(points=[?3.3V a5])"),
    (
        "contradicting marks are both kept",
        "part LED1 led in d5 d7 anode (short leg) d5",
        "Part(name='LED1', words=['led'], place=PlacedIn(points=[d5 d7]), "
        "marks=[MarkAt(mark=anode, point=d5) MarkAt(mark=short, point=d5)])",
    ),
    (
        "plus stripe is the plus of a tantalum",
        "part C1 10uF in d5 d7 plus stripe d5",
        "Part(name='C1', words=['10uF'], place=PlacedIn(points=[d5 d7]), marks=[MarkAt(mark=plus, point=d5)])",
    ),
]


@pytest.mark.parametrize(("rule", "text", "last"), SETTLED, ids=[rule for rule, _, _ in SETTLED])
def test_the_whole_list_settles(rule: str, text: str, last: str) -> None:
    assert last == statements(text)[-1]


ASKED_BACK = [
    ("part R1 220 in 5 12", "5", "hole-without-column"),
    ("part R1 220 in 5, 12", "5", "hole-without-column"),
    ("part R1 220 in b5 12", "12", "hole-without-column"),
    ("part P1 pot 10k in c10 11 12", "11", "hole-without-column"),
    ("wire 5 to 12", "5", "hole-without-column"),
    ("wire top rail to a5", "top rail", "rail-unclear"),
    ("wire rail to a5", "rail", "rail-unclear"),
    ("wire left rail to a5", "left rail", "rail-unclear"),
    ("wire 5V rail to a5", "5V rail", "rail-unclear"),
    ("wire L+ to R-\nwire red rail to a5", "red rail", "rail-side-unclear"),
    ("supply A 9V on L+ L-\nsupply B 5V on R+ R-\npart R1 220 in b5 plus rail", "plus rail", "rail-side-unclear"),
    ("part D1 1N4001 in d12 d18 band d18\npart R1 1k in D1 a5", "D1", "hole-or-part"),
    ("part d1 1N4001 in d12 d18 band d18\npart R1 1k in D1 a5", "D1", "hole-or-part"),
    ("supply B1 9V on L+ L-\npart R1 1k in B1 a5", "B1", "hole-or-part"),
    ("part U1 controller-5v\npart R1 220 in D9 a16", "D9", "hole-or-pin"),
    ("part U1 controller-5v\npart R1 220 in a16 D13", "D13", "hole-or-pin"),
    ("pin U1.D9 pwm\npart R1 220 in D9 L-", "D9", "hole-or-pin"),
    ("part Q1 2N3904 in c10 c11 c12 flat faces top rail", "top rail", "rail-unclear"),
    ("part Q1 2N3904 in c10 c11 c12 flat faces red rail", "red rail", "rail-unclear"),
    ("part LED1 led in d5 d7 turned", "turned", "turned-says-nothing"),
    ("part L motor 9V", "L", "name-is-reserved"),
    ("supply r 9V", "r", "name-is-reserved"),
    ("wire k12 to a5", "k12", "column-unknown"),
    ("part R1 220 in b5 K12", "K12", "column-unknown"),
    ("part R1 220 in K12 b5", "K12", "column-unknown"),
    ("wire a0 to b5", "a0", "row-unknown"),
    ("part U2 NE555 across 0-3", "0-3", "row-unknown"),
    ("part R1 220 in b5 row 12", "row", "hole-astray"),
    ("part Q1 PN2222A E B C", "E", "letters-astray"),
    ("part R1 220 in b5 b9 b11 to", "to", "point-expected"),
]


@pytest.mark.parametrize(("text", "words", "label"), ASKED_BACK)
def test_it_is_asked_back_at_the_place(text: str, words: str, label: str) -> None:
    (problem,) = read(text).problems
    line = text.rsplit("\n", maxsplit=1)[-1]

    assert label == problem.label
    assert words == (line[problem.span.column - 1 : problem.span.end_column - 1] or "to")


# A line that says what the program does and could not be read, and the pins that are left alone for it.
LEFT_ALONE = [
    ("pin U1.D2 input with external pull-up", ["U1.D2"]),
    ("pin U1.D2, D3 inputt", ["U1.D2", "?D3"]),
    ("pin D9 of U1 does something", ["U1.D9", "?D9"]),
    ("pinMode(2, INPUT_PULLUP);", ["?2"]),
    ("wire U1.D2 too", []),
    ("wrie U1.D2 to a5", []),
]


@pytest.mark.parametrize(("line", "pins"), LEFT_ALONE)
def test_the_pins_of_an_unread_role_are_told(line: str, pins: list[str]) -> None:
    assert pins == [plain(pin) for pin in read(line).unread_pins]


# A line that declares something and could not be read, and the name that it declares all the same.
DECLARED_UNREAD = [
    ("part D1 1N4001 in b5 b9 bnd b9", ["D1"]),
    ("part R 470 in a9 a12", ["R"]),
    ("part PUMP motor on", ["PUMP"]),
    ("supply PACK 9V on R+ pls", []),  # a word that may be a kind: the line is read
    ("supply: PACK 9V limit", ["PACK"]),
    ("D1: 1N4001 in b5 b9 bnd b9", ["D1"]),
    ("2) part Q1 BC547 in c1 c2 c3 flat facs a", ["Q1"]),
    ("wire D1.A too", []),
    ("D1 -> ", []),  # the end of a wire
    ("pin U1.D9 pwmm", []),
    ("# part D1 1N4001 in b5 bnd", []),
]


@pytest.mark.parametrize(("line", "names"), DECLARED_UNREAD)
def test_the_name_that_an_unread_line_declares_is_told(line: str, names: list[str]) -> None:
    assert names == [name.text for name in read(line).unread_parts]


OFFERED = [
    # lines, and what is offered for each that cannot be read
    (["Pond pump timer", "supply BAT 12V 7Ah on L+ L-"], ['title "Pond pump timer"']),
    (["supply BAT 12V on L+ L-", "PUMP motor 12V 1.2A", "Rg 100", "wire Rg.1 to PUMP.2"],
     ["part PUMP motor 12V 1.2A", "part Rg 100"]),
    (["supply BAT 12V on L+ L-", "hello world"], [None]),
]


@pytest.mark.parametrize(("lines", "offered"), OFFERED)
def test_the_missing_first_word_is_offered(lines: list[str], offered: list[str | None]) -> None:
    assert offered == [problem.suggestion for problem in read("\n".join(lines)).problems]


def test_a_part_whose_line_could_not_be_read_agrees_with_all_that_is_said_of_it() -> None:
    lines = ["board half", "supply PACK 9V on L+ L-", "part D1 1N4001 in b5 b9 bnd b9", "part R 470 in a9 a12", "wire D1.A to L+",
             "wire R.2 to L-", "wire D1 to a20", "keep D1 apart from PACK", "expect D1 carries 1mA", "power D1 usb",
             "pin D1.A output"]

    assert [("syntax", 3), ("syntax", 4)] == [(one.rule, one.span.line) for one in check("\n".join(lines)).findings]


def test_a_pin_whose_line_could_not_be_read_is_no_output() -> None:
    button = ["board half", "part U1 controller-5v", "part S1 button across 20-22", "wire U1.D2 to a20", "wire U1.GND to a22"]

    said = check("\n".join([*button, "pin U1.D2 input with external pull-up"]))
    unsaid = check("\n".join(button))

    assert [("unreadable", ["syntax"])] == [(said.verdict, [finding.rule for finding in said.findings])]
    assert "do-not-power" == unsaid.verdict


def test_the_question_about_a_rail_names_the_spellings_to_use() -> None:
    (problem,) = read("wire L+ to R-\nwire red rail to a5").problems

    assert problem.message.endswith("write L+ or R+")


def test_an_undeclared_designator_is_left_to_the_checker() -> None:
    assert [] == labels("wire Q7 to a5")
    assert ["Wire(points=[?Q7 a5])"] == statements("wire Q7 to a5")
