"""Where the rules of numbers draw the line.

Each row holds one list with a gap, a value at which the rule just speaks and one at which it just stays silent. The border
between the two is computed by hand beside the row, from Ohm's law and the limit in the part's data sheet; the two values
lie on either side of it, as near as parts are sold. What the limits rest on is said once below.

A bare supply is taken from 5 % under to 5 % over its voltage, a resistor from 5 % under to 5 % over its ohms; ratings are
held against the worst of these, faults (and whether a turned LED is harmed) against the stated values.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from checker import check

# The limits that the rows rest on:
#   red 5 mm LED: 30 mA, 5 V reverse, 1.9 to 2.0 V at 20 mA: WP7113ID data sheet, Kingbright (from memory)
#   controller pin: 40 mA absolute maximum, input high from 0.6 of the supply: ATmega48A/PA/88A/PA/168A/PA/328/P data sheet 8271H,
#     Atmel, August 2014, absolute maximum ratings and DC characteristics; about 25 ohm in the pin: typical curves, same place
#   USB port: 5.25 V at most: Universal Serial Bus Specification, Revision 2.0, table 7-7
#   PN2222A: 40 V collector to emitter, gain 75 at 10 mA to 300 at most: PN2222A/MMBT2222A/PZT2222A data sheet, Fairchild
#     Semiconductor, Rev. 1.0.0, February 2009 (the gain from memory)
#   diodes: 2 us to block for a 1N4007: 1N4001 - 1N4007 data sheet, EIC, Rev. 05, March 2005; 500 ns for an FR107: FR101
#     thru FR107 data sheet, Rectron
#   IRLZ44N: 175 degC, 62 K/W, 25 mohm at 5 V: IRLZ44N data sheet, International Rectifier (from memory); a room of 40 degC
#   resistor of a kit: 0.25 W; capacitor: the volts printed on it; aluminium electrolytic: 1 V the wrong way round (makers'
#     application guides, from memory)
#   push button: 50 mA: B3F Tactile Switch data sheet, Omron (from memory)


class Border(NamedTuple):
    """A list with ``{}`` for the value, the severity at which the rule speaks, and the value on either side of the border."""

    rule: str
    severity: str
    text: str
    fires: str
    silent: str


LAMP = """
board half
supply PACK 5V on L+ L-
part LAMP led red in c10 c11 long c10
part R1 {} in b5 b10
wire L+5 to a5
wire L-11 to a11
"""

TURNED_LAMP = """
board half
supply PACK {} on L+ L-
part LAMP led red in c10 c11 long c11
part R1 1k in b5 b10
wire L+5 to a5
wire L-11 to a11
"""

BARE_LAMP = """
board half
supply CELL 3V {} on L+ L-
part LAMP led red in c10 c11 long c10
wire L+10 to a10
wire L-11 to a11
"""

ACROSS_THE_SUPPLY = """
board half
supply PACK 5V on L+ L-
part R1 {} in b5 b12
wire L+5 to a5
wire L-12 to a12
"""

THROUGH_A_BUTTON = """
board half
supply PACK 5V on L+ L-
part PERCH button across 20-22
part WARM power resistor {} in b8 b20
wire L+8 to a8
wire L-22 to j22
"""

CAPACITOR = """
board half
supply PACK {} on L+ L-
part C1 electrolytic 100uF 16V in b8 b9 stripe b9
part R1 10k in d8 d14
wire L+8 to a8
wire L-9 to a9
wire L-14 to a14
"""

TURNED_CAPACITOR = CAPACITOR.replace("stripe b9", "stripe b8")

FROM_A_PIN = """
board half
part U1 controller-5v
part R1 {} in b5 b12
wire U1.D9 to a5
wire U1.GND to a12
"""

FROM_A_LIMITED_SUPPLY = """
board half
supply BENCH 5V limit 100mA on L+ L-
part WARM power resistor {} in b5 b15
wire L+5 to a5
wire L-15 to a15
"""

HEATER_BEHIND_A_RESISTOR = """
board half
supply PACK 5V on L+ L-
part PAD heater 5V 100mA
part R1 {} in b5 b12
wire L+5 to a5
wire PAD.1 to a12
wire PAD.2 to L-20
"""

DRIVEN_PAD = """
board half
supply PACK 5V on L+ L-
part U1 controller-5v
part PAD heater 5V 100mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 {} in e11 e16
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire PAD.1 to L+12
wire PAD.2 to a12
"""

DRIVEN_COIL = """
board half
supply PLUG 12V on L+ L-
part U1 controller-5v
part LATCH solenoid 12V 100mA 30mH
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
part C1 capacitor {} 100V in d12 L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire LATCH.1 to L+20
wire LATCH.2 to a12
"""

PULSED_COIL = """
board half
supply PLUG 12V on L+ L-
part U1 controller-5v
part LATCH solenoid 12V 1A
part Q1 IRLZ44N in c10 c11 c12 front faces a
part R1 10k in e10 e16
part D1 1N4007 in d11 L+11 band L+11
wire U1.D9 to a10
wire U1.GND to L-3
wire L-16 to a16
wire L-12 to a12
wire LATCH.1 to L+20
wire LATCH.2 to a11
pin U1.D9 pwm {}
"""

FASTER_PULSED_COIL = PULSED_COIL.replace("1N4007", "FR107")

DIVIDER = """
board half
part U1 controller-5v
part R1 {} in b5 b12
part R2 10k in b20 c12
wire U1.5V to a5
wire U1.D2 to a12
wire U1.GND to a20
pin U1.D2 input
"""

BORDERS = [
    # (5.25 V - 1.9 V) / 30 mA = 112 ohm, and a 5 % resistor may be 5 % less than it says: 112 / 0.95 = 118 ohm
    Border("too-much-current", "damage", LAMP, "110", "130"),
    # 5.25 V / 50 mA = 105 ohm; 105 / 0.95 = 111 ohm
    Border("too-much-current", "damage", THROUGH_A_BUTTON, "100", "120"),
    # the capacitor is for 16 V; 16 V / 1.05 = 15.24 V
    Border("too-much-voltage", "damage", CAPACITOR, "15.3V", "15.2V"),
    # 5.25 V / 40 mA = 131 ohm, of which 25 are in the pin: 106 ohm; 106 / 0.95 = 112 ohm
    Border("pin-overload", "damage", FROM_A_PIN, "100", "120"),
    # nothing but the cell's own resistance limits: (3.15 V - 1.9 V) / 30 mA = 42 ohm
    Border("no-current-limit", "damage", BARE_LAMP, "36ohm", "48ohm"),
    # an LED is hardly seen under 0.4 mA: (5 V - 1.7 V) / 0.4 mA = 8.25 kohm, at stated values
    Border("weak-drive", "fault", LAMP, "9k1", "7k5"),
    # a load works from three quarters, 75 mA. With the gain at 300 that takes 0.25 mA into the base: 4.3 V / 0.25 mA =
    # 17 kohm, so 22 k is too much for any of them; with the gain at 75 it takes 1 mA, 4.3 kohm, so 2k2 is enough for each
    Border("weak-drive", "fault", DRIVEN_PAD, "22k", "2k2"),
    # 5.25 V squared / 0.25 W = 110 ohm; 110 / 0.95 = 116 ohm
    Border("too-much-power", "damage", ACROSS_THE_SUPPLY, "110", "120"),
    # the limit is reached from 99 mA on: 5 V / 99 mA = 50.5 ohm, less 0.1 ohm in the supply, at stated values
    Border("supply-overload", "fault", FROM_A_LIMITED_SUPPLY, "47", "56"),
    # the pad is 5 V / 100 mA = 50 ohm, and gets nothing worth the name under 2 % of 100 mA: 5 V / 2 mA = 2.5 kohm, less 50
    Border("never-conducts", "fault", HEATER_BEHIND_A_RESISTOR, "2k7", "2k2"),
    # the coil's 12.6 V / 120 ohm = 105 mA charge the capacitor to 105 mA * sqrt(30 mH / C) above 12.6 V; 40 V leaves
    # 27.4 V for that, so C = 30 mH * (105 mA / 27.4 V) squared = 0.44 uF
    Border("no-clamp", "damage", DRIVEN_COIL, "330nF", "680nF"),
    # 2 us are a hundredth of a period of 0.2 ms: 5 kHz
    Border("clamp-too-slow", "note", PULSED_COIL, "5.1kHz", "4.9kHz"),
    # 0.5 us are a hundredth of a period of 50 us: 20 kHz
    Border("clamp-too-slow", "note", FASTER_PULSED_COIL, "20.4kHz", "19.6kHz"),
    # a bare TO-220 sheds (175 - 40) / 62 = 2.18 W, of which 1.05 A in 25 mohm take 0.03 W; each turn-on costs
    # 12.6 V * 1.05 A * 2 us = 26.5 uJ (0.1 ohm in the supply and 25 mohm make it 12.47 V * 1.039 A * 2 us = 25.9 uJ), and
    # 2.15 W / 25.9 uJ = 83 kHz
    Border("clamp-too-slow", "damage", PULSED_COIL, "84kHz", "82kHz"),
    # high from 0.6 of the supply: 10 k / (R1 + 10 k) = 0.6 for R1 = 6.67 k
    Border("level-mismatch", "fault", DIVIDER, "7k5", "6k2"),
    # a turned LED stands 5 V and no current drops any of it in the resistor, at stated values: the common 5 V just does no harm
    Border("led-reversed", "damage", TURNED_LAMP, "5.1V", "5V"),
    # under 1.5 V it would not light the right way round either, at stated values
    Border("led-reversed", "fault", TURNED_LAMP, "1.6V", "1.4V"),
    # 1 V the wrong way round; 1 V / 1.05 = 0.95 V
    Border("capacitor-reversed", "damage", TURNED_CAPACITOR, "1V", "0.9V"),
]


EACH_BORDER = pytest.mark.parametrize("border", BORDERS, ids=[f"{b.rule}-{b.fires}-{b.silent}" for b in BORDERS])


def said(border: Border, value: str) -> bool:
    """True where the rule speaks at the row's severity, as a finding or as the consequence of one."""
    findings = check(border.text.format(value)).findings
    everything = [*findings, *(under for finding in findings for under in finding.consequences)]
    return any((finding.rule, finding.severity) == (border.rule, border.severity) for finding in everything)


@EACH_BORDER
def test_a_value_just_past_the_border_is_named(border: Border) -> None:
    assert said(border, border.fires)


@EACH_BORDER
def test_a_value_just_short_of_the_border_is_not_named(border: Border) -> None:
    assert not said(border, border.silent)


@EACH_BORDER
def test_both_lists_can_be_read_to_the_end(border: Border) -> None:
    verdicts = {check(border.text.format(value)).verdict for value in (border.fires, border.silent)}

    assert "unreadable" not in verdicts
