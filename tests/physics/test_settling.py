"""Which states a circuit settles in, and that none of what a hand or a program sets is lost.

Where a relay or a gate takes away what moved it, no position agrees with itself: the positions that it passes through are
looked at, and the points say what does not stay. Each row is worked out by hand from the wiring alone.
"""

from __future__ import annotations

import pytest

from checker.operating.operate import Operating
from checker.survey import survey
from parts_library import load_library

RELAY = """supply P 9v-block
part S1 switch
part K1 relay-9v
part D1 1N4148
wire P.+ to S1.1
wire P.- to K1.A2 to D1.A
"""
PLAIN = RELAY + "wire S1.2 to K1.A1 to D1.K\n"
OWN_CONTACT = RELAY + "wire S1.2 to K1.COM\nwire K1.NC to K1.A1 to D1.K\n"
SHORTS_ITSELF = PLAIN + "wire P.+ to K1.COM\nwire P.- to K1.NO\n"
HOLDS_ITSELF = RELAY + "part S2 button-2\nwire S1.2 to S2.1 to K1.COM\nwire S2.2 to K1.A1 to D1.K to K1.NO\n"
GATES = """supply P 5V
part U1 74HC14
part C1 1uF
part R1 100k
part R2 10k
wire P.+ to U1.14
wire P.- to U1.7 to C1.2 to U1.5 to U1.9 to U1.11 to U1.13 to R2.2
wire U1.4 to R2.1
wire U1.2 to U1.3
"""
SWINGS = GATES + "wire U1.1 to C1.1 to R1.1\nwire U1.2 to R1.2\n"
RESTS = GATES + "wire U1.1 to C1.1 to R1.1\nwire P.+ to R1.2\n"
LATCH = """supply P 5V
part U1 74HC02
part R1 10k
part R2 10k
part S1 button-2
wire P.+ to U1.14 to S1.1
wire S1.2 to U1.2 to R1.1
wire P.- to U1.7 to R1.2 to R2.2 to U1.8 to U1.9 to U1.11 to U1.12
wire R2.1 to U1.6
wire U1.1 to U1.5
wire U1.4 to U1.3
"""

Positions = set[tuple[str, ...]]


def positions(text: str, setting: dict[str, str]) -> tuple[Positions, set[str]]:
    """What the circuit decides at a setting of the rest, in the order of the list; and what does not stay."""
    operating = operated(text)
    names = [variable.name for variable in operating.plan.variables if variable.follows]
    points = [point for point in operating.points if point.phase == "steady" and point.corner.name == "nominal"
              and setting.items() <= point.state.items()]
    return {tuple(point.state[name] for name in names) for point in points}, {name for point in points for name in point.restless}


def operated(text: str) -> Operating:
    return survey([text], load_library())[0].operatings[0]


ROWS = [
    ("a relay follows its switch", PLAIN, {"S1": "closed"}, {("pulled-in",)}, set()),
    ("and lets go", PLAIN, {"S1": "open"}, {("released",)}, set()),
    ("a coil behind its own opening contact", OWN_CONTACT, {"S1": "closed"}, {("released",), ("pulled-in",)}, {"K1"}),
    ("rests without voltage", OWN_CONTACT, {"S1": "open"}, {("released",)}, set()),
    # 9 V / (1.7 + 0.05) ohm = 5.1 A leave 0.26 V for the coil; it lets go at a tenth of 9 V
    ("a contact that shorts the supply of its coil", SHORTS_ITSELF, {"S1": "closed"}, {("released",), ("pulled-in",)}, {"K1"}),
    ("a relay that holds itself rests in both", HOLDS_ITSELF, {"S1": "closed", "S2": "released"},
     {("released",), ("pulled-in",)}, set()),
    ("until its switch is opened", HOLDS_ITSELF, {"S1": "open", "S2": "released"}, {("released",)}, set()),
    ("a gate that drives its own input, and the one behind it", SWINGS, {}, {("low", "high"), ("high", "low")},
     {"U1.1Y", "U1.2Y"}),
    ("two gates in a row", RESTS, {}, {("low", "high")}, set()),
    ("a latch that is set", LATCH, {"S1": "pressed"}, {("low", "high")}, set()),
    ("a latch keeps either state", LATCH, {"S1": "released"}, {("low", "high"), ("high", "low")}, set()),
]


@pytest.mark.parametrize(("text", "setting", "expected", "restless"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_a_circuit_rests_where_it_can_and_else_passes_through_its_positions(
        text: str, setting: dict[str, str], expected: Positions, restless: set[str]) -> None:
    assert (expected, restless) == positions(text, setting)


CAR = """supply B aa-pack-6
part U1 controller-5v
part H motor-driver-l298
part M1 motor 6V 150mA
part M2 motor 6V 150mA
wire B.+ to H.12V
wire B.- to H.GND to U1.GND
wire H.5V to U1.5V
power U1 5v
wire U1.D5 to H.ENA
wire U1.D6 to H.ENB
wire U1.D7 to H.IN1
wire U1.D8 to H.IN2
wire U1.D9 to H.IN3
wire U1.D10 to H.IN4
wire H.OUT1 to M1.1
wire H.OUT2 to M1.2
wire H.OUT3 to M2.1
wire H.OUT4 to M2.2
pin U1.D5, U1.D6, U1.D7, U1.D8, U1.D9, U1.D10 output
"""
LAMPS = "".join(f"part R{n} 330\npart L{n} led red\nwire U1.D{n} to R{n}.1\nwire R{n}.2 to L{n}.A\nwire L{n}.K to U1.GND\n"
                f"pin U1.D{n} output\n" for n in (2, 3, 4, 5))
BUZZES = """supply P 9v-block
part K1 relay-9v
part D1 1N4148
wire P.+ to K1.COM
wire P.- to K1.A2 to D1.A
wire K1.NC to K1.A1 to D1.K
"""


def settings(text: str, pins: tuple[int, ...]) -> tuple[set[tuple[str, ...]], set[str]]:
    """Levels of pins of U1 in all that is looked at, and what does not stay somewhere."""
    points = [point for point in operated(text).points if point.phase == "steady" and point.corner.name == "nominal"]
    return ({tuple(point.state[f"U1.D{number}"] for number in pins) for point in points},
            {name for point in points for name in point.restless})


def test_no_setting_of_six_pins_is_lost_where_what_they_drive_was_foreseen_otherwise() -> None:
    seen, restless = settings(CAR, (5, 6, 7, 8, 9, 10))

    assert (2 ** 6, set()) == (len(seen), restless)


def test_what_never_rests_takes_no_setting_of_the_others_along() -> None:
    seen, restless = settings("part U1 controller-5v\n" + LAMPS + BUZZES, (2, 3, 4, 5))

    assert {"K1"} == restless
    assert all(any(setting[place] == level for setting in seen) for place in range(4) for level in ("low", "high"))
