"""The pump stage of the design's language section, and what each single change to it comes out as.

The list and the verdicts are the project's own contract: one table of changes and verdicts.
"""

from __future__ import annotations

import pytest

from checker import Report, check
from checker.fixes.draft import made

PUMP_STAGE = """\
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

SUPPLY = "supply PACK 9V limit 2A on L+ L-                 # first point is plus, second is minus\n"
DIODE = "part   D1   1N4001  in d12 d18 band d18\n"
LEADS = "wire PUMP.1 to b12\nwire PUMP.2 to b18\n"

# what is changed, into what, verdict, first rule, whether a checked fix is there
CHANGES = [
    ("flat faces a  as E B C", "flat faces j", "do-not-power", "transistor-legs-swapped", True),
    ("flat faces a", "flat faces j", "look-first", "claim-contradicts-marking", False),
    (" flat faces a  as E B C", "", "look-first", "marking-unsaid", False),
    ("PN2222A", "2N2222", "look-first", "pin-order-varies", False),
    ("band d18", "band d12", "do-not-power", "diode-reversed", True),
    (DIODE, "", "do-not-power", "no-clamp", True),
    ("wire U1.D9 to a16", "wire U1.D9 to a11", "do-not-power", "no-current-limit", True),
    ("R1   220 ", "R1   22k ", "will-not-work", "weak-drive", True),
    ("wire U1.GND to L-5\n", "", "will-not-work", "grounds-not-joined", True),
    ("e18 to L+18", "e18 to L-18", "will-not-work", "never-conducts", True),
    ("L-10 to a10", "L-10 to a9", "will-not-work", "next-strip", True),
    ("U1.D9", "U1.D8", "will-not-work", "pin-cannot-pwm", True),
    (SUPPLY, "", "will-not-work", "nothing-powered", False),
    (LEADS, "wire PUMP.2 to b12\nwire PUMP.1 to b18\n", "clear", None, False),
    ("in b11 b16", "in b16 b11", "clear", None, False),
    ("U1.GND to L-5", "U1.GND to L-20", "clear", None, False),
    ("", "", "clear", None, False),
]


def changed(old: str, new: str) -> str:
    """The pump stage with every ``old`` made ``new``."""
    return PUMP_STAGE.replace(old, new) if old else PUMP_STAGE


@pytest.mark.parametrize(("old", "new", "verdict", "rule", "fixed"), CHANGES)
def test_a_single_change_comes_out_as_said(old: str, new: str, verdict: str, rule: str | None, fixed: bool) -> None:
    report = check(changed(old, new))

    assert (verdict, rule) == (report.verdict, report.findings[0].rule if report.findings else None)
    assert fixed == bool(report.findings and report.findings[0].fixes)


@pytest.mark.parametrize(("old", "new"), [(old, new) for old, new, *_, fixed in CHANGES if fixed])
def test_the_first_checked_fix_cures_the_change(old: str, new: str) -> None:
    report = check(changed(old, new))
    fix = report.findings[0].fixes[0]

    assert fix.checked
    assert check(made(report.lines, fix.edits)).verdict == "clear"


def evidence(report: Report, quantity: str, of: str) -> float:
    """The value of one evidence of the first finding, its consequences included."""
    first = report.findings[0]
    every = [*first.evidence, *(e for c in first.consequences for e in c.evidence)]
    return next(e.value for e in every if (e.quantity, e.of) == (quantity, of))


def test_a_missing_clamp_is_told_in_volts_and_joules() -> None:
    """The coil's 1 mH at the stall current: W = L I² / 2, I about 9 V / 30 ohm."""
    report = check(changed(DIODE, ""))

    assert evidence(report, "voltage", "Q1 C-E") > 40.0
    assert evidence(report, "energy", "PUMP") == pytest.approx(0.5 * 1e-3 * 0.31**2, rel=0.1)


def test_a_bypassed_resistor_is_told_in_the_currents_of_pin_and_base() -> None:
    """25 ohm of pin and about 0.9 V of base at 5 to 5.25 V: more than 120 mA."""
    report = check(changed("wire U1.D9 to a16", "wire U1.D9 to a11"))

    assert evidence(report, "current", "U1.D9") > 0.12
    assert evidence(report, "current", "Q1.B") == pytest.approx(evidence(report, "current", "U1.D9"), rel=0.01)


def test_a_weak_drive_is_told_in_watts_against_the_rating() -> None:
    first = check(changed("R1   220 ", "R1   22k ")).findings[0]
    watts = next(e for e in first.evidence if e.unit == "W")

    assert watts.limit == 0.625
    assert 0.1 < watts.value < watts.limit


def test_the_wrong_rail_is_named() -> None:
    assert "L-18 instead of L+18" in check(changed("e18 to L+18", "e18 to L-18")).findings[0].message
