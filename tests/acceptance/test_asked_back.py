"""One slip in a list that is right otherwise: one finding, with the sentence that says what to write.

A row is the line that is changed, what it becomes, the rule, the sentence and the way out. That there is exactly one finding
says too that the rest of the list is read as it stands, and that one slip sets off no other.
"""

from __future__ import annotations

import pytest

from checker import check

# (5 V - 2 V) / 220 ohm is 13.6 mA through the LED, under its 20 mA.
LAMP = (
    "board half",
    "supply PACK 5V on L+ L-",
    "part R1 220 in b7 b12",
    "part LED1 led red in c12 c14 long c12",
    "wire L+ to a7",
    "wire a14 to L-",
)

# line, what it becomes, rule, message, why
ROWS = [
    # ── a hole that stands twice, a supply of which half is told, the size of the board ──
    (3, "part R1 220 in b12 b12", "bad-value", "b12 stands twice: where is the other leg of R1?",
     "a7 is alone in its row: if the leg belongs there, write b7"),
    (4, "part LED1 led red in c12 c12 long c12", "bad-value", "c12 stands twice: where is the other leg of LED1?",
     "a14 is alone in its row: if the leg belongs there, write c14"),
    (2, "supply PACK 5V on L+", "bad-value", "only the plus of PACK has a place: where does its minus go?",
     "Write on L+ L-, if it is so"),
    (5, "wire L+ to a7\nwire a7 to L+", "hole-taken", "line 6 says the same as line 5",
     "Two wires would be in the same holes: one of the lines is too many"),
    (1, "board mini", "outside-board", "the list uses L+ and L-, and a mini board has no rails",
     "On a half board all would be there"),
    # ── values ──
    (2, "supply PACK 5V limit 100 on L+ L-", "bad-value", "100 has no unit", "Write 100mA"),
    (2, "supply PACK 5V limit 2 on L+ L-", "bad-value", "2 has no unit", "Write 2A"),
    (3, "part R1 22O in b7 b12", "bad-value", "22O has a unit that is not known: O", "Write 220"),
    (3, "part R1 1OOk in b7 b12", "bad-value", "1OOk has a unit that is not known: OOk", "Write 100k"),
    (3, "part R1 1,000 in b7 b12", "bad-value", "1,000 could be thousands or a decimal comma", "Write 1000"),
    (3, "part R1 220m in b7 b12", "bad-value", "220m is in thousandths of an ohm", "Write 220M"),
    (3, "part R1 1k5k in b7 b12", "bad-value", "1k5k has both k and k: one of them is enough", "Write 1k5"),
    (3, "part R1 2.2.k in b7 b12", "bad-value", "2.2.k is no quantity: a number with a unit is expected", "Write 2.2k"),
    (3, "part R1 220 1/4 in b7 b12", "bad-value", "1/4 has no unit", "Write 1/4W"),
    (3, "part R1 220R/0.25W in b7 b12", "bad-value", "220R/0.25W is two values in one word", "Write 220R 0.25W"),
    (6, "wire a14 to L-\npart C1 10\u00b5/25V in j2 j5 stripe j5\nwire i2 to L+\nwire i5 to L-", "bad-value",
     "10\u00b5/25V is two values in one word", "Write 10\u00b5F 25V"),
    (6, "wire a14 to L-\npart C1 O.1uF in j2 j5\nwire i2 to L+\nwire i5 to L-", "bad-value",
     "O.1uF is no quantity: a number with a unit is expected", "Write 0.1uF"),
    (6, "wire a14 to L-\npart P1 pot 502 in j5 j6 j7\nwire i5 to L+\nwire i7 to L-", "bad-value",
     "502 on a potentiometer may be its code, 5 k\u03a9: write code 502, or 502ohm", ""),
    # ── names and points ──
    (4, "part LED1 lde red in c12 c14 long c12", "unknown-part",
     "no part or kind is called lde; look at the part: is it led or ldr?", ""),
    (5, "wire VCC to a7", "unknown-point", "VCC alone names no point", "Write L+"),
    (5, "wire L+ - a7 ok?", "unknown-point", "'ok?' alone names no point",
     "Write a hole such as a12, a rail such as L+, or a part and its pin such as U1.D9"),
    (6, "wire a14 to GND", "unknown-point", "GND alone names no point", "Write L-"),
    (5, "wire + to a7", "unknown-point", "+ alone names no point", "Write L+"),
    (5, "wire +L to a7", "unknown-point", "+L alone names no point", "Write L+"),
    (6, "wire a14 to left", "unknown-point", "left alone names no point", "Write L+ or L-"),
    (6, "wire \u043014 to L-", "unknown-point", "\u043014 alone names no point",
     "It has a letter of another alphabet that looks the same: type a14 anew"),
    (4, "part LED1 led red in \u044112 c14 long c12", "syntax", "\u044112 has a letter of another alphabet that looks the same",
     "Type c12 anew"),
    (1, "board half\nboard full", "name-reused", "there are two boards, in line 1 and here",
     "Give each a name, as in board A half; or take one of the lines out"),
    (6, "wire a14 to L-\npart motor 6V 100mA", "unknown-part",
     "motor is a kind of part, and a name comes first", "Write M1 motor"),
    (6, "wire a14 to L-\npart Q1 2N3904 in j20 j21 j22 front faces j", "bad-value",
     "Q1 cannot face that way, as column j is its own", "Write front faces right, or a column or row that it looks toward"),
    (6, "wire a14 to", "syntax", "the line ends too early: a hole, a rail or a pin is missing", ""),
    # ── what would be read as something else ──
    (5, "wire L+ to a7 and a14 to L-", "syntax",
     "two wires stand in one line; write wire L+ to a7, and wire a14 to L- in a line of its own", ""),
    (3, "part R1 220 in b7 b12 -- was 470", "syntax",
     "what stands after -- is no part of the line; a comment begins with #", "Write #"),
    (6, "wire a14 to L-\nexpect LED1 carries 5 to 15", "syntax", "15 has no unit, and carries is judged in amps", "Write 15mA"),
    # ── a list that contradicts itself ──
    (4, "part LED1 led red in c12 c14 long c12 long c14", "claim-contradicts-marking",
     "long c12 and long c14 of LED1 contradict each other: which is right?",
     "If the longer leg is at c12: it is fine (take out: long c14)\n"
     "If the longer leg is at c14: LED1 gets its voltage backwards and stays dark (take out: long c12)"),
]


def with_line(number: int, text: str) -> str:
    """The lamp with one of its lines replaced."""
    return "\n".join(text if at == number else line for at, line in enumerate(LAMP, start=1)) + "\n"


def test_the_list_itself_is_clear() -> None:
    assert check("\n".join(LAMP)).verdict == "clear"


@pytest.mark.parametrize(("number", "text", "rule", "message", "why"), ROWS, ids=[row[1] for row in ROWS])
def test_one_slip_is_one_finding_with_the_way_out(number: int, text: str, rule: str, message: str, why: str) -> None:
    found = [finding for finding in check(with_line(number, text)).findings if finding.severity != "note"]

    assert [(rule, message, why)] == [(one.rule, one.message, one.why) for one in found]


# a transistor whose two facings both let its LED shine, if not alike: the contradiction is told whatever comes out
TURNED = ("board half\nsupply PACK 5V on L+ L-\npart Q1 2N3904 in c10 c11 c12 {}\npart R1 10k in a11 a15\n"
          "part R2 220 in b10 b5\npart LED1 led red in a1 c5 long a1\nwire L+ to b1\nwire L+ to b15\nwire b12 to L-\n")


@pytest.mark.parametrize(("marks", "said"), [
    ("flat faces j as E B C", "flat faces j and as E B C"),
    ("flat faces j flat faces a", "flat faces j and flat faces a"),
    ("as B E C", "as B E C"),
])
def test_a_contradiction_in_the_text_is_a_question_whatever_comes_out(marks: str, said: str) -> None:
    report = check(TURNED.format(marks))

    assert any(f.rule == "claim-contradicts-marking" and f.message.startswith(said) for f in report.findings)
    assert report.verdict != "clear"


def test_the_size_on_which_all_holes_are_is_the_fix() -> None:
    report = check("board half\nsupply PACK 5V on L+ L-\npart R1 220 in b37 b42\npart LED1 led red in c42 c44 long c42\n"
                   "wire L+ to a37\nwire a44 to L-\n")

    (found,) = report.findings
    assert ("the list uses row 44, and a half board ends at row 30", ("board full",)) == (
        found.message, tuple(edit.text for edit in found.fixes[0].edits))


def test_a_repeated_line_is_taken_out_and_nothing_else() -> None:
    report = check(with_line(6, "wire a14 to L-\nwire L- to a14"))

    (found,) = report.findings
    assert [[(7, "")]] == [[(edit.line, edit.text) for edit in fix.edits] for fix in found.fixes]


STATES = [
    ("part S1 slide-switch in j5 j6 j7\nwire L+ to i5\npart R2 1k in i6 g12\nwire h12 to L-\n"
     "expect R2 carries 5mA when S1 1", "S1 can be left or right: ask for one of these"),
    ("part U1 controller-5v\nwire U1.D9 to j9\npart R2 330 in i9 i12\nwire j12 to U1.GND\npin U1.D9 output\n"
     "expect R2 carries under 1mA when D9 low", "Write U1.D9"),
]


@pytest.mark.parametrize(("lines", "why"), STATES, ids=[why for _, why in STATES])
def test_a_state_that_does_not_exist_is_asked_back_with_those_that_do(lines: str, why: str) -> None:
    report = check("\n".join([*LAMP, lines]))

    assert why in [finding.why for finding in report.findings]


def test_nothing_is_concluded_from_a_part_whose_line_was_not_understood() -> None:
    report = check("\n".join([*LAMP, "part S1 toggle-switch in g5 g6", "expect LED1 lit when S1 left"]))

    assert ["S1 has 3 legs, and the list gives holes for 2"] == [finding.message for finding in report.findings]
