"""What a report of a whole list tells, and in which order: from the top, once, and only what the finding depends on."""

from __future__ import annotations

import pytest

from checker import check
from checker.report.words import evidence_in_words, is_hazardous

MISSPELT = """
board half
supply PACK 5V on L+ L-
part R1 10kk in b1 b5
wire L+ tu a1
part Q1 BC54X7 in c1 c2 c3 flat faces a
bord half
"""


def test_what_cannot_be_read_is_told_from_the_top() -> None:
    lines = [found.span.line for found in check(MISSPELT).findings if found.severity == "fault"]

    assert lines == sorted(lines) and len(lines) == 4


@pytest.mark.parametrize("content", [b"\x7fELF\x02\x01\x01" + b"\0\x03\n" * 200, bytes(range(256))])
def test_a_file_that_is_no_text_is_one_finding_and_is_not_quoted(content: bytes) -> None:
    report = check(content)
    found, = report.findings

    assert (report.verdict, found.message, report.lines) == ("unreadable", "this file is not text, so there is no list in it", ())
    assert found.why == "Save the list as plain text, in a file that ends in .legs or .txt"
    assert not any("rest of the list" in said for said in report.advice)


# 230 V over 100 kΩ: half a watt in a resistor for a quarter
HOUSE = """
board half
supply HOUSE 230V AC on L+ L-
part R1 100k in a5 a9
part LED1 led red in b9 b12 long b9
wire L+ to b5
wire c12 to L-
"""


def test_a_dangerous_voltage_is_told_once() -> None:
    report = check(HOUSE)

    assert is_hazardous(report)
    assert [found.rule for found in report.findings if found.severity in ("danger", "damage")] == ["hazardous-voltage"]
    assert "too-much-power" in [found.rule for found in report.findings[0].consequences]


# 47 kΩ gives the base 0.1 mA where the motor wants 120 mA; the button on D2 has no part in it
FAN = """
board half
supply PACK aa-pack-4 on L+ L-
part U1 controller-5v
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 47k in b11 b16
part D1 1N4001 in d12 d18 band d18
part FAN motor 6V 120mA stall 400mA
part S1 button across 22-24
wire U1.D6 to a16
wire U1.GND to L-5
wire L-10 to a10
wire FAN.1 to b18
wire FAN.2 to b12
wire L+18 to a18
wire U1.D2 to a22
wire L-24 to a24
pin U1.D6 output
pin U1.D2 pullup
"""


def test_only_what_the_finding_depends_on_is_named_as_its_state() -> None:
    found = check(FAN).findings[0]

    assert found.rule == "weak-drive"
    assert evidence_in_words(found.evidence[0]).endswith(", when U1.D6 is high")
    assert all(each.state == found.evidence[0].state for each in found.evidence)


LAMP = ("board half\nsupply PACK 5V on L+ L-\npart R1 220 in a5 a10\npart LED1 led red in b10 b15 long b10\nwire L+ to c5\n"
        "wire c15 to L-\n")
PIN = ("board half\npart U1 controller-5v\npart R1 220 in a5 a10\npart LED1 led red in b10 b15 long b10\nwire U1.D4 to c5\n"
       "wire c15 to U1.GND\npin U1.D4 output\n")


@pytest.mark.parametrize(("text", "suspects"), [(LAMP, "a dead part or a bad contact"),
                                                (PIN, "the program, a dead part or a bad contact")])
def test_the_program_is_suspected_where_there_is_one(text: str, suspects: str) -> None:
    assert check(text).advice[0].endswith(f"next suspects are {suspects}")


def test_the_code_of_a_capacitor_on_a_resistor_is_asked_back() -> None:
    found = check(LAMP.replace("R1 220", "R1 code 221")).findings[0]

    assert (found.message, found.why) == ("code 221 is for capacitors, and R1 reads like a resistor", "Write 220")
