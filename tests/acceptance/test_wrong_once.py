"""Lists that came out wrong once: each with the verdict and first rule that are right, worked out by hand beside it."""

from __future__ import annotations

import pytest

from checker import check
from checker.fixes.draft import made

LED = "part LED1 led red in c5 c6 long c5\npart R1 330 in a5 a10\nwire U1.D13 to b10\nwire U1.GND to a6\npin U1.D13 output\n"
BOARD = "board half\npart U1 controller-5v\n"

COUPLER = (
    "supply MILL 12V\npart S1 switch\npart R1 1k2\npart O1 4N35\npart U1 controller-5v\npart R2 4k7\nwire MILL.+ to S1.1\n"
    "wire S1.2 to R1.1\nwire R1.2 to O1.A\nwire O1.K to MILL.-\n"
    "wire U1.5V to R2.1\nwire R2.2 to O1.C to U1.D2\nwire U1.GND to O1.E\npin U1.D2 input\n")
COUNTER = (
    "supply P 9V\npart U1 NE555\npart U2 CD4017\npart R1 4k7\npart R2 47k\npart C1 4.7uF\npart R3 1k\npart LED1 led red\n"
    "wire P.+ to U1.8 to U1.4 to U2.VDD to R1.1\nwire P.- to U1.1 to U2.VSS to C1.- to LED1.K\nwire R1.2 to U1.7 to R2.1\n"
    "wire R2.2 to U1.6 to U1.2 to C1.+\nwire U1.3 to U2.CLK\nwire U2.INH to P.-\nwire U2.Q5 to U2.RST\nwire U2.Q0 to R3.1\n"
    "wire R3.2 to LED1.A\n")
FOLLOWER = (
    "supply P 9V\npart U1 LM358\npart RV1 pot 10k\npart R1 680\npart LED1 led red\nwire P.+ to U1.8 to RV1.1\n"
    "wire P.- to U1.4 to RV1.3 to LED1.K\n"
    "wire RV1.W to U1.IN1+\nwire U1.IN1- to P.-\nwire U1.OUT1 to R1.1\n"
    "wire R1.2 to LED1.A\nwire U1.IN2+ to P.-\nwire U1.IN2- to U1.OUT2\n")

# what it is, the list, verdict, first rule
ROWS = [
    ("12 V into the 3.3 V output: 3.6 V is its limit",
     BOARD + LED + "supply P 12V\nwire P.+ to U1.3V3\nwire P.- to U1.GND\n", "do-not-power", "too-much-voltage"),
    ("a servo with both supply leads on one rail has 0 V",
     "board half\nsupply P 5V limit 2A on R+ R-\npart U1 controller-5v\npart SV servo\nwire SV.V+ to R+3\nwire SV.GND to R+4\n"
     "wire SV.SIG to U1.D9\nwire U1.GND to R-2\npin U1.D9 pwm\n", "will-not-work", "supply-sags"),
    ("a slide switch between 3.3 V and ground into an input draws nothing and is right",
     BOARD + "part S1 slide-switch in c5 c6 c7\npart R1 1k in a6 a10\nwire U1.3V3 to a5\nwire U1.GND to a7\nwire U1.D2 to b10\n"
     "pin U1.D2 input\n", "clear", None),
    ("not pressed is a state of a button",
     "board half\nsupply P 5V on L+ L-\npart S1 button across 10-12\npart R1 330 in a12 a15\n"
     "part LED1 led red in c15 c16 long c15\n"
     "wire L+10 to a10\nwire a16 to L-16\nexpect LED1 dark when S1 not pressed\nexpect LED1 lit when S1 pressed\n",
     "clear", None),
    ("names that keep apart speaks of have to exist",
     BOARD + LED + "keep FOO apart from U1\n", "unreadable", "unknown-point"),
    ("9 V the wrong way round at VIN",
     BOARD + LED + "supply P 9V\nwire P.+ to U1.GND\nwire P.- to U1.VIN\n", "do-not-power", "supply-reversed"),
    ("12 V at RESET: 5.5 V is its limit",
     BOARD + LED + "supply P 12V\nwire P.+ to U1.RESET\nwire P.- to U1.GND\n", "do-not-power", "too-much-voltage"),
    ("5 V on a pin of a 3.3 V board",
     "part A controller-3v3\npart B controller-5v\nwire A.GND to B.GND\nwire B.D3 to A.D4\npin B.D3 output\npin A.D4 input\n",
     "do-not-power", "too-much-voltage"),
    ("a regulator turned round: 9 V at its output",
     "board half\nsupply P 9V on L+ L-\npart V1 7805 in c5 c6 c7 front faces j\npart R1 470 in a7 a12\n"
     "part LED1 led red in c12 c14 long c12\nwire L+5 to a5\nwire a6 to L-6\nwire a14 to L-14\n",
     "do-not-power", "regulator-legs-swapped"),
    ("a hole that reads like a controller's pin is a hole where something else is in its strip",
     BOARD + "part LED1 led red in e5 e6 long e5\npart R1 330 in b5 b10\nwire U1.D13 to b11\nwire a10 to a11\nwire U1.GND to a6\n"
     "pin U1.D13 output\n", "clear", None),
    ("an LED the wrong way round on 5 V stays dark",
     BOARD + LED.replace("long c5", "long c6"), "will-not-work", "led-reversed"),
    ("and on 9 V its 5 V are passed",
     "board half\nsupply P 9V on L+ L-\npart LED1 led red in c5 c6 long c6\npart R1 470 in a5 L+5\nwire a6 to L-6\n",
     "do-not-power", "led-reversed"),
    ("an LED on 9 V whose anode leads nowhere blocks nothing, though its cathode is on plus: the open end follows",
     "board half\nsupply P 9V on L+ L-\npart R2 470 in c21 e21\npart LED1 led red in a21 a23 long a21\nwire c23 to L+23\n"
     "part R1 470 in a5 a9\npart LED2 led red in b9 L-9 long b9\nwire L+5 to b5\n", "will-not-work", "part-bridged"),
    ("an LED in series with an open wire, one row off",
     BOARD + LED.replace("wire U1.GND to a6", "wire U1.GND to a7"), "will-not-work", "next-strip"),
    ("a transistor the wrong way round works on 5 V through its reverse gain: a note",
     "board half\nsupply P 5V on L+ L-\npart U1 controller-5v\npart M motor 5V 60mA stall 150mA\n"
     "part Q1 PN2222A in c10 c11 c12 flat faces j\npart R1 220 in b11 b16\npart D1 1N4001 in d12 d18 band d18\n"
     "wire U1.D9 to a16\nwire U1.GND to L-5\nwire L-10 to a10\nwire M.1 to b12\nwire M.2 to b18\nwire e18 to L+18\n"
     "pin U1.D9 output\n", "clear", "transistor-legs-swapped"),
    ("an analogue pin written with a blank, A0 like the others",
     BOARD + "part R1 10k in c5 c9\npart TH1 thermistor 10k in d9 d14\nwire U1.5V to a5\nwire U1 A0 to a9\nwire U1.GND to a14\n"
     "pin U1 A0 analog\n", "clear", None),
    ("a small letter is a segment of a 4511, a capital one of its inputs",
     "part U1 CD4511\nsupply P 5V\nwire P.+ to U1.VDD to U1.LT to U1.BL to U1.A\n"
     "wire P.- to U1.VSS to U1.LE to U1.B to U1.C to U1.D\n"
     "part LED1 led red\npart R1 330\nwire U1.b to R1.1\nwire R1.2 to LED1.A\nwire LED1.K to P.-\n", "clear", None),
    ("a motor in no wire", BOARD + LED + "part M1 motor 5V 100mA\n", "will-not-work", "dangling-lead"),
    ("a name that begins with R is a resistor's, also where a transistor ends with the same number",
     "supply P 5V\npart RA 560\npart LED1 led red\nwire P.+ to RA.1\nwire RA.2 to LED1.A\nwire LED1.K to P.-\n", "clear", None),
    ("the pull-up of a coupler's collector is on plus: the input follows the switch", COUPLER, "clear", None),
    ("and on minus: 0 V whatever the coupler does",
     COUPLER.replace("wire U1.5V to R2.1", "wire U1.GND to R2.1"), "will-not-work", "level-mismatch"),
    ("a counter that its own output resets counts while its inhibit is low", COUNTER, "clear", None),
    ("and stands still while that is high, whatever the output that resets it does",
     COUNTER.replace("wire U2.INH to P.-", "wire U2.INH to P.+"), "will-not-work", "chip-stopped"),
    ("an op amp with its LED's resistor: (9 - 1.5 - 2) V / 680 ohm is 8 mA", FOLLOWER, "clear", None),
    ("and with a tenth of it: its output gives up to 60 mA (SLOS068C, short-circuit current) to an LED of 30 mA",
     FOLLOWER.replace("part R1 680", "part R1 68"), "do-not-power", "too-much-current"),
    ("13.6 uA at the base of a Darlington switch 14 mA: the pin drives something",
     BOARD + "supply P 9V on R+ R-\npart Q1 MPSA14 in c10 c11 c12 flat faces a as E B C\npart R1 270k in b11 b16\n"
     "part R2 470 in d12 d20\npart LED1 led red in c20 c23 long c23\nwire U1.D3 to a16\nwire U1.GND to R-1\nwire a10 to R-10\n"
     "wire a23 to R+23\npin U1.D3 output\nexpect LED1 lit when U1.D3 high\nexpect LED1 dark when U1.D3 low\n", "clear", None),
    ("a low output of an L293D pushes nothing into a pump that goes to ground",
     "supply P 6V\npart U1 controller-5v\npart U2 L293D\npart M1 motor 6V 150mA\nwire P.+ to U2.VCC2\n"
     "wire U1.5V to U2.VCC1 to U2.EN12\nwire P.- to U2.GND to U2.GND2 to M1.2\nwire U1.GND to P.-\n"
     "wire U1.D8 to U2.IN1\nwire U2.OUT1 to M1.1\npin U1.D8 output\n"
     "part C1 100nF\nwire C1.1 to U2.VCC1\nwire C1.2 to P.-\nexpect M1 carries under 2mA when U1.D8 low\n"
     "expect M1 runs when U1.D8 high\n", "clear", None),
    ("a stepper's lead one row off: the second output of its array reaches nothing",
     "board half\nsupply P 5V limit 1A on L+ L-\npart U1 controller-5v\npart U2 ULN2003A across 10-17 notch row 10\n"
     "part ST stepper 5V\nwire L-17 to a17\nwire L+17 to j17\nwire U1.GND to L-1\nwire U1.D8 to a10\nwire U1.D9 to a11\n"
     "wire U1.D10 to a12\nwire U1.D11 to a13\nwire ST.A to j10\nwire ST.B to i12\nwire ST.C to j12\nwire ST.D to j13\n"
     "wire ST.COM to L+20\npin U1.D8, U1.D9, U1.D10, U1.D11 output\n", "will-not-work", "never-switches"),
    ("a button across the channel reads the same by its twin leg: from an input with its pull-up to plus",
     BOARD + "part S1 button across 6-8\nwire U1.D2 to a6\nwire U1.5V to g8\npin U1.D2 input pullup\n",
     "will-not-work", "level-mismatch"),
    ("an RGB LED put in turned: one colour never lights",
     "board mini\npart U1 controller-5v\npart X1 rgb-led common-cathode in b7 b6 b5 b4\npart R1 220 in c4 g4\n"
     "part R2 330 in c6 g6\npart R3 330 in c7 g7\nwire U1.D9 to j4\nwire U1.D10 to j6\nwire U1.D11 to j7\nwire U1.GND to a5\n"
     "pin U1.D9, U1.D10, U1.D11 pwm\n", "will-not-work", "led-reversed"),
    ("a button in two holes has two legs",
     "board half\nsupply P 5V on L+ L-\npart S1 button in d18 d20\npart R1 330 in b20 b24\n"
     "part LED1 led red in a24 a26 long a24\nwire L+ to a18\nwire L- to c26\n"
     "expect LED1 lit when S1 pressed\nexpect LED1 dark when S1 released\n", "clear", None),
    ("a button off the board, with leads 1 and 2, is open until it is pressed",
     "supply P 5V\npart S1 button\npart R1 330\npart LED1 led red\nwire P.+ to S1.1\nwire S1.2 to R1.1\nwire R1.2 to LED1.A\n"
     "wire LED1.K to P.-\nexpect LED1 lit when S1 pressed\nexpect LED1 dark when S1 released\n", "clear", None),
    ("of one whose leg 3 is named too, 1 and 2 are always joined",
     "supply P 5V\npart S1 button\npart R1 330\npart LED1 led red\nwire P.+ to S1.1\nwire S1.2 to R1.1\nwire R1.2 to LED1.A\n"
     "wire LED1.K to P.- to S1.3\n", "do-not-power", "supply-shorted"),
    ("5 V module on the 5V pin with USB plugged in",
     BOARD + LED + "supply MOD plug-in-module-5v\nwire MOD.+ to U1.5V\nwire MOD.- to U1.GND\n",
     "do-not-power", "supplies-fighting"),
    ("a BT169D with anode and cathode exchanged, as its sheet's numbers read from the wrong end say",
     "board half\nsupply BAT 9v-block on L+ L-\npart Q1 BT169D in c10 c11 c12 flat faces j\npart R1 470 in b12 b16\n"
     "part LED1 led red in d16 d20 long d20\npart R2 1k in b11 b7\npart R3 1k in e11 e10\npart S1 button-2 in a7 a4\n"
     "wire L+ to c20\nwire L+ to b4\nwire L- to b10\n", "do-not-power", "transistor-legs-swapped"),
    ("LM4040 is a shunt reference of one of six voltages and no CD4040",
     "board half\nsupply P 5V on L+ L-\npart U1 LM4040 in c5 c6 c7 flat faces a\npart R1 330 in b6 b10\nwire L+ to a10\n"
     "wire L- to a7\n", "unreadable", "unknown-part"),
    ("L293 is printed with a D where the clamp diodes are inside, and without one where they are not",
     BOARD + "part U2 L293\n" + LED, "unreadable", "unknown-part"),
    ("a bridge of four legs is placed by its holes, in the order of its signs",
     "board half\nsupply P 9V on L+ L-\npart BR1 DB107 in e10 f12 f10 e12\npart R1 1k in a10 a16\n"
     "part D1 led red in b16 b18 long b16\nwire L+ to h12\nwire L- to h10\nwire c12 to c18\n", "clear", None),
]


@pytest.mark.parametrize(("what", "text", "verdict", "rule"), ROWS, ids=[row[0] for row in ROWS])
def test_a_list_that_was_wrong_once_is_right(what: str, text: str, verdict: str, rule: str | None) -> None:
    report = check(text)

    assert (verdict, rule) == (report.verdict, report.findings[0].rule if report.findings else None)


@pytest.mark.parametrize(("what", "text"), [row[:2] for row in ROWS], ids=[row[0] for row in ROWS])
def test_no_checked_fix_of_such_a_list_makes_it_worse(what: str, text: str) -> None:
    """A fix that is called checked leaves nothing that could burn."""
    report = check(text)

    for finding in report.findings:
        for fix in finding.fixes:
            after = check(made(report.lines, fix.edits))
            assert after.summary.danger + after.summary.damage <= report.summary.danger + report.summary.damage, fix.say


def test_every_slip_of_the_text_is_told() -> None:
    report = check("board half\nwir a5 to b7\nwire a6 tto L-6\nprt R1 220 in a1 a5\n")

    assert [2, 3, 4] == [finding.span.line for finding in report.findings if finding.rule == "syntax"]


def test_a_free_name_is_offered_for_a_reserved_one() -> None:
    report = check("board half\npart R 220 in a5 a10\npart R1 330 in b5 b9\n")

    assert "Write R2" in [finding.why for finding in report.findings if finding.rule == "syntax"]


def test_a_letter_of_another_alphabet_is_told() -> None:
    report = check("board half\nsupply P 5V on L+ L-\npart R1 330 in b5 b9\nwire L+ to \u04305\nwire L- to a9\n")

    assert "It has a letter of another alphabet that looks the same: type a5 anew" in [f.why for f in report.findings]


def test_each_answer_to_a_question_has_a_line_of_its_own() -> None:
    report = check("board half\nsupply P 9V on L+ L-\npart U1 controller-5v\npart Q1 2N2222A in c10 c11 c12 flat faces a\n"
                   "part R1 1k in b11 b16\npart M motor 9V 100mA\nwire U1.D9 to a16\nwire U1.GND to L-\nwire L- to a10\n"
                   "wire M.1 to a12\nwire M.2 to L+\npart D1 1N4001 in b12 b20 band b20\nwire a20 to L+\npin U1.D9 output\n")

    why = next(finding.why for finding in report.findings if finding.rule == "pin-order-varies").splitlines()
    assert ["If the pins are E B C", "If the pins are C B E", "By its print", "With a meter"] == [
        line.split(":")[0] for line in why]


def test_a_value_that_rounds_to_its_bound_is_told_apart_from_it() -> None:
    report = check("board half\nsupply P 9V on L+ L-\npart R1 1k in b5 b9\nwire L+ to a5\nwire L- to a9\n"
                   "expect R1 carries over 9mA\n")

    assert "R1 carries just under 9 mA, not as expected" in [finding.message for finding in report.findings]
