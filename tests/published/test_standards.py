"""What is marked on parts, and what a USB port gives, as the standards have it: from the text to the JSON.

The tables are typed from memory of IEC 60062 (marking codes for resistors and capacitors), IEC 60063 (preferred number
series), the Universal Serial Bus Specification 2.0 (27 April 2000) and IEC 62368-1; they share nothing with the tool's own.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from checker import check
from checker.report import json_format
from checker.report.page import Page

# IEC 60063, table of the series E24, and the rule of E96: the powers 10 to the n/96 in three figures.
E24 = "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91".split()
E96 = [f"{10 ** (2 + step / 96):.0f}" for step in range(96)]

# IEC 60062, colour code: significant figures 0 to 9; multipliers; tolerances in per cent.
DIGITS = "black brown red orange yellow green blue violet grey white".split()
MULTIPLIERS = {"pink": 1e-3, "silver": 1e-2, "gold": 0.1, "black": 1.0, "brown": 10.0, "red": 100.0, "orange": 1e3,
               "yellow": 1e4, "green": 1e5, "blue": 1e6, "violet": 1e7}
TOLERANCES = {"silver": 10.0, "gold": 5.0, "red": 2.0, "brown": 1.0, "green": 0.5, "blue": 0.25, "violet": 0.1}

# IEC 60062, letter code: the letter stands for the decimal point and tells the multiplier.
LETTER_CODES = {"R47": 0.47, "4R7": 4.7, "47R": 47.0, "470R": 470.0, "4K7": 4700.0, "47K": 47e3, "100K": 1e5, "4M7": 4.7e6,
                "1k0": 1000.0, "2k21": 2210.0}

# IEC 60062, three-character code of capacitors: two figures and the number of zeros, in picofarads; R is the point.
CAPACITOR_CODES = {"100": "10pF", "220": "22pF", "101": "100pF", "471": "470pF", "102": "1nF", "222": "2.2nF", "103": "10nF",
                   "473": "47nF", "104": "100nF", "224": "220nF", "105": "1uF", "225": "2.2uF", "106": "10uF",
                   "4R7": "4.7pF", "104K": "100nF", "103J": "10nF", "224M": "220nF", "4n7": "4.7nF", "n47": "470pF"}

# A line, and the rule that it breaks ("" for none). 4.7 kΩ is yellow violet red.
AGREEMENTS = (
    ("part R1 4k7 bands yellow violet red gold", ""),
    ("part R1 4.7k bands yellow violet red gold", ""),
    ("part R1 4700 5% bands yellow violet red gold", ""),
    ("part R1 4k7 bands yellow violet black brown brown", ""),
    ("part R1 470 bands yellow violet red gold", "value-contradicts-bands"),
    ("part R1 47k bands yellow violet red gold", "value-contradicts-bands"),
    ("part R1 7k4 bands yellow violet red gold", "value-contradicts-bands"),
    ("part R1 4k7 bands yellow violet orange gold", "value-contradicts-bands"),
    ("part R1 220 bands red red red gold", "value-contradicts-bands"),
    # a band of tolerance is no digit: the resistor was read from the wrong end
    ("part R1 resistor bands gold red violet yellow", "bad-value"),
    ("part R1 resistor bands yellow violet red black", "bad-value"),
    ("part R1 resistor bands yellow violet", "bad-value"),
)

# USB 2.0, table 7-7 and section 7.2.1: VBUS of a high-power port at its connector; five unit loads of 100 mA.
VBUS_LOW, VBUS_HIGH, FIVE_UNIT_LOADS = 4.75, 5.25, 0.5


def report_on(lines: str) -> dict[str, Any]:
    """The JSON report on a list."""
    report: dict[str, Any] = json.loads(json_format.render([check(lines)], Page()))
    return report


def rules_in(report: dict[str, Any]) -> set[str]:
    return {finding["rule"] for finding in report["findings"]}


def measured_ohms(values: list[str]) -> list[float]:
    """What each of these resistors is in the report: all across one volt, each value a resistor's line without its name."""
    lines = ["supply B1 1V 0.001ohm"]
    for number, value in enumerate(values, 1):
        lines += [f"part R{number} {value}", f"wire B1.+ to R{number}.1", f"wire R{number}.2 to B1.-"]
    (state,) = report_on("\n".join(lines) + "\n")["states"]
    across = state["voltages"]["B1.+"] - state["voltages"]["B1.-"]
    return [across / state["currents"][f"R{number}"] for number in range(1, len(values) + 1)]


def colours_of(figures: str) -> str:
    return " ".join(DIGITS[int(figure)] for figure in figures)


def test_every_value_of_e24_is_read_from_its_four_bands() -> None:
    found = measured_ohms([f"resistor bands {colours_of(figures)} red gold" for figures in E24])

    assert found == pytest.approx([float(figures) * 100 for figures in E24], rel=1e-6)


def test_every_value_of_e96_is_read_from_its_five_bands() -> None:
    found = measured_ohms([f"resistor bands {colours_of(figures)} red brown" for figures in E96])

    assert found == pytest.approx([float(figures) * 100 for figures in E96], rel=1e-6)


def test_every_multiplier_has_its_colour() -> None:
    found = measured_ohms([f"resistor 10W bands yellow violet {colour} gold" for colour in MULTIPLIERS])

    assert found == pytest.approx([47.0 * factor for factor in MULTIPLIERS.values()], rel=1e-3)


def test_every_letter_code_is_the_value_of_the_standard() -> None:
    found = measured_ohms([f"resistor {code} 10W" for code in LETTER_CODES])

    assert found == pytest.approx(list(LETTER_CODES.values()), rel=1e-6)


@pytest.mark.parametrize(("colour", "per_cent"), TOLERANCES.items())
def test_every_tolerance_has_its_colour(colour: str, per_cent: float) -> None:
    """The least current that the report finds is that of the supply's lowest voltage (5 % down) in the highest resistor."""
    report = report_on(f"""
supply B1 1V 0.001ohm
part R1 resistor bands brown black red {colour}
wire B1.+ to R1.1
wire R1.2 to B1.-
expect R1 carries 0.9999mA to 1.2mA
""")
    (finding,) = [finding for finding in report["findings"] if finding["rule"] == "expectation-missed"]

    assert finding["evidence"][0]["value"] == pytest.approx(0.95e-3 / (1 + per_cent / 100), rel=1e-5)


@pytest.mark.parametrize(("line", "rule"), AGREEMENTS)
def test_bands_and_value_must_agree(line: str, rule: str) -> None:
    report = report_on(f"supply B1 5V\n{line}\nwire B1.+ to R1.1\nwire R1.2 to B1.-\n")

    assert rules_in(report) == ({rule} if rule else set())


def capacitor_list(stated: str, code: str) -> str:
    return f"""
supply B1 5V
part R1 10k
part C1 {stated} code {code}
wire B1.+ to R1.1 to C1.1
wire R1.2 to C1.2 to B1.-
"""


@pytest.mark.parametrize(("code", "value"), CAPACITOR_CODES.items())
def test_a_capacitor_code_agrees_with_its_value(code: str, value: str) -> None:
    assert rules_in(report_on(capacitor_list(value, code))) == set()


@pytest.mark.parametrize(
    ("code", "value"), [("104", "10nF"), ("103", "100nF"), ("100", "100pF"), ("220", "220pF"), ("225", "22uF")])
def test_a_capacitor_code_contradicts_ten_times_its_value(code: str, value: str) -> None:
    assert rules_in(report_on(capacitor_list(value, code))) == {"value-contradicts-bands"}


# ── USB ───────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("bound", "volts"), [("over 4.8V", VBUS_LOW), ("under 5.2V", VBUS_HIGH)])
def test_a_usb_port_is_looked_at_from_its_lowest_to_its_highest_voltage(bound: str, volts: float) -> None:
    report = report_on(f"""
supply P1 usb-port
part R1 100k
wire P1.+ to R1.1
wire R1.2 to P1.-
expect R1.1 {bound}
""")
    (finding,) = report["findings"]

    assert finding["rule"] == "expectation-missed"
    assert finding["evidence"][0]["value"] == pytest.approx(volts, rel=1e-5)


@pytest.mark.parametrize(("share", "overloaded"), [(0.2, False), (0.9, False), (1.3, True), (1.8, True), (2.5, True)])
def test_a_usb_port_gives_five_unit_loads_and_no_more(share: float, overloaded: bool) -> None:
    ohms = 5.0 / (share * FIVE_UNIT_LOADS) - 0.25
    report = report_on(f"supply P1 usb-port\npart R1 {ohms:.3f}ohm 20W\nwire P1.+ to R1.1\nwire R1.2 to P1.-\n")

    assert ("supply-overload" in rules_in(report)) == overloaded


# ── extra-low voltage ─────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("volts", "dangerous"), [(24, False), (48, False), (57, False), (61, True), (110, True)])
def test_sixty_volts_of_direct_current_is_the_end_of_the_harmless(volts: int, dangerous: bool) -> None:
    """IEC 62368-1, table of ES1 limits: 60 V d.c. A bench supply is looked at 5 % high, so 57 V is the last that stays below."""
    report = report_on(f"supply B1 {volts}V\npart R1 1M\nwire B1.+ to R1.1\nwire R1.2 to B1.-\n")

    assert ("hazardous-voltage" in rules_in(report)) == dangerous
