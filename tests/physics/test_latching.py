"""Thyristors and junction FETs in circuits small enough for Ohm's law.

A thyristor that has fired drops ``on_state`` volts, so a lamp on 9 V gets the rest; a junction FET with gate and source joined
carries IDSS as long as its drain stands above the pinch-off.
"""

from __future__ import annotations

import pytest

from checker import check

ALARM = """board half
supply PACK 9V on L+ L-
part Q1 MCR100-6 in c10 c11 c12 flat faces a
part S1 button across 20-22
part R1 4k7 in b11 b20
part R2 1k in d11 d10
part R3 150 1W in b12 b18
wire L-10 to a10
wire a18 to L+18
wire L+22 to a22
"""
SOURCE = """board half
supply PACK 9V on L+ L-
part Q1 2N5457 in c10 c11 c12 flat faces a
part R1 220 in a10 L+10
wire a11 to L-11
wire b12 to b11
"""


def states(text: str) -> dict[tuple[str, ...], dict[str, float]]:
    """Amps of each part by the options of everything that can be switched."""
    return {tuple(state.state.values()): state.currents for state in check(text).states}


def test_a_thyristor_is_off_until_it_is_fired_and_then_stays_on() -> None:
    assert {("off", "released"), ("fired", "released"), ("fired", "pressed")} == set(states(ALARM))


def test_once_fired_it_leaves_the_load_all_but_its_own_drop() -> None:
    carried = abs(states(ALARM)["fired", "released"]["R3"])

    # (9 V - about 0.9 V at 50 mA) / (150 + 0.1) ohm
    assert carried == pytest.approx((9 - 0.9) / 150.1, rel=0.03)


def test_with_its_gate_tied_to_the_cathode_it_never_fires() -> None:
    never = ALARM.replace("part R1 4k7 in b11 b20\n", "").replace("part R2 1k in d11 d10", "wire d11 to d10")

    assert {"off"} == {options[0] for options in states(never)}


def test_a_load_that_takes_less_than_the_holding_current_is_let_go() -> None:
    little = ALARM.replace("part R3 150 1W", "part R3 4k7")

    # 9 V / 4.7 kohm = 1.9 mA, and 5 mA hold it
    assert ("fired", "released") not in states(little)


def test_the_turned_thyristor_gets_its_cause_and_its_fix() -> None:
    report = check(ALARM.replace("flat faces a", "flat faces j"))

    assert ("do-not-power", "transistor-legs-swapped") == (report.verdict, report.findings[0].rule)
    assert "turn Q1 round: flat facing a" == report.findings[0].fixes[0].say


def test_a_junction_fet_with_gate_at_source_is_a_current_source() -> None:
    carried = abs(states(SOURCE)[()]["R1"])

    # IDSS of a typical 2N5457 is 3 mA (ON Semiconductor 2N5457/D Rev. 3)
    assert carried == pytest.approx(3e-3, rel=0.01)
    assert "clear" == check(SOURCE).verdict
