"""The rule clamp-too-slow beyond its borders: where it keeps silent, what it computes, and that a faster diode mends it.

All lists are one coil behind one transistor; a row says which diode clamps it and how fast the pin pulses.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker import check
from checker.report.model import Finding

COIL = """
board half
supply PLUG 12V on L+ L-
part U1 controller-5v
part LATCH solenoid 12V 350mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 180 in e11 e16
part D1 {diode} in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire LATCH.1 to L+20
wire LATCH.2 to a12
pin U1.D9 {role}
"""

SMALL_DIODE = """
[[part]]
kind = "diode"
name = "SMALL1"
say = "a slow diode in a glass bead that sheds next to nothing"
package = "DO-41"
pins = ["A", "K"]
use = "rectifier"
vrrm = "50V"
current = "1A"
recovery = "2us"
max_power = "{most}"
forward = [{{ amps = "100mA", volts = "0.79V" }}]
from_memory = ["pins", "ratings", "model"]
"""

# The diode, what the program does with the pin, and the severity of the rule ("" where it keeps silent). Recovery times:
# 1N400x 2 us (data sheet, EIC, Rev. 05, March 2005), FR107 500 ns (data sheet, Rectron), 1N4937 200 ns and UF4007 75 ns
# (from memory), Schottky next to none (common practice, no source).
ROWS = [
    ("1N4007", "output", ""),
    # a controller's usual pulses: 2 us of 1 ms at least
    ("1N4001", "pwm", ""),
    ("1N4001", "pwm 490Hz", ""),
    ("1N4001", "pwm 3kHz", ""),
    ("1N4001", "pwm 20kHz", "note"),
    ("FR107", "pwm 62.5kHz", "note"),
    ("1N4937", "pwm 62.5kHz", "note"),
    ("UF4007", "pwm 62.5kHz", ""),
    ("1N5819", "pwm 62.5kHz", ""),
    ("1N5819", "pwm 200kHz", ""),
    ("1N4007", "pwm 62.5kHz", "damage"),
    ("1N4007", "pwm at 62.5 kHz", "damage"),
    ("1N4007", "pwm 62.5khz", "damage"),
]


def found(text: str) -> list[Finding]:
    """What the rule says of a list."""
    return [finding for finding in check(text).findings if finding.rule == "clamp-too-slow"]


@pytest.mark.parametrize(("diode", "role", "severity"), ROWS, ids=[f"{diode}-{role}" for diode, role, _ in ROWS])
def test_the_diode_and_the_pulses_decide(diode: str, role: str, severity: str) -> None:
    assert [severity] * bool(severity) == [one.severity for one in found(COIL.format(diode=diode, role=role))]


def test_the_power_is_volts_times_amps_times_the_share_of_the_period() -> None:
    finding = found(COIL.format(diode="1N4007", role="pwm 62.5kHz"))[0]
    values = {evidence.quantity: evidence.value for evidence in finding.evidence}

    # 2 us of 16 us are an eighth; the coil is 34.3 ohm on 12.6 V (5 % high) less what supply and transistor drop
    assert 62.5e3 == values["frequency"]
    assert 0.35 < values["current"] < 12.6 / 34.3
    assert values["extra power"] == pytest.approx(values["reverse voltage"] * values["current"] / 8)
    assert values["power"] > values["extra power"]


def test_a_diode_in_the_line_of_the_supply_never_has_to_recover() -> None:
    text = COIL.format(diode="UF4007", role="pwm 62.5kHz").replace("on L+ L-", "on e25 L-")

    assert [] == found(text + "part D2 1N4007 in d25 L+25 band L+25\n")


def test_no_clamp_at_all_is_not_a_slow_one() -> None:
    text = COIL.format(diode="1N4007", role="pwm 62.5kHz").replace("part D1", "# part D1")

    assert ["no-clamp"] == [finding.rule for finding in check(text).findings if "clamp" in finding.rule]


def test_a_faster_diode_is_offered_and_proven() -> None:
    fix = found(COIL.format(diode="1N4007", role="pwm 62.5kHz"))[0].fixes[0]

    assert fix.checked
    assert [8] == [edit.line for edit in fix.edits]
    assert "UF4001 in d12 L+12" in fix.edits[0].text


def test_of_two_statements_the_stated_frequency_counts() -> None:
    assert ["damage"] == [one.severity for one in found(COIL.format(diode="1N4007", role="pwm 62.5kHz\npin U1.D9 pwm"))]


@pytest.mark.parametrize(("most", "severity"), [("40mW", "damage"), ("50mW", "note")])
def test_a_diode_may_overheat_before_the_transistor_does(tmp_path: Path, most: str, severity: str) -> None:
    # a quarter of 12.3 V * 0.359 A * 2 us * 20 kHz = 0.177 W: 44 mW
    kit = tmp_path / "kit.toml"
    kit.write_text(SMALL_DIODE.format(most=most), encoding="utf-8")
    findings = check(COIL.format(diode="SMALL1", role="pwm 20kHz"), kit=kit).findings

    assert [("clamp-too-slow", severity)] == [(one.rule, one.severity) for one in findings if one.rule == "clamp-too-slow"]
