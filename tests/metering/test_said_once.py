"""Sentences of sheets that were wrong once, or that a student could not follow: each list is right, and its sheet has to say so.

One table: the list, the words that have to stand in its sheet, the words that must not.
"""

from __future__ import annotations

import pytest

from checker.metering import render
from checker.metering.instead import instead
from checker.metering.words import short_below
from checker.report.page import Page
from checker.suspects import suspects_of
from tests.metering.bench import LIBRARY, sheet_of, surveyed

# a gate's motor of 6 V over 1 A held still: 6 Ω, 4.2 to 9 Ω as its shaft is turned; K1's coil of 70 Ω takes 5 V / 70 Ω = 71 mA
GATE = """title "Duck house gate"
board half
supply PS bench-supply 5V on R+ R-
supply MB aa-pack-4 on L+ L-
part U1 controller-5v
power U1 5v
part K1 relay-5v
part M1 motor 6V 200mA stall 1A
part Q1 PN2222A in h10 h11 h12 flat faces j
part R1 1k in j11 j15
part D1 1N4148 in f5 f10 band f5
wire red R+ to U1.5V
wire black R- to U1.GND
wire U1.D4 to i15
wire R-12 to j12
wire red R+5 to j5
wire K1.A1 to g5
wire K1.A2 to g10
wire L+ to K1.COM
wire K1.NO to M1.1
wire M1.2 to L-
pin U1.D4 output
"""

# a second to and fro: 0.693 · (10 kΩ + 2 · 47 kΩ) · 10 µF = 0.72 s
BLINKER = """title "Stage torch"
board half
supply PK 6V on L+ L-
part U1 NE555 across 10-13 notch row 10
part R1 10k in g10 g11
part R2 47k in h11 h12
part C1 10uF 25V in b11 b7 stripe b7
part C2 10n in g13 g16
part R3 330 in c12 c18
part LED1 led green in b18 b22 long b18
wire black L-10 to a10
wire red L+13 to a13
wire red L+10 to j10
wire yellow d11 to i12
wire black L-7 to a7
wire black L-16 to j16
wire black a22 to L-22
"""

LANTERN = """title "Shed lantern"
board half
supply BAT 9v-block on L+ L-
part S1 switch in a3 a5
part R1 330 in b5 b10
part LED1 led red in c10 c13 long c10
wire red L+3 to b3
wire black b13 to L-16
"""

# nothing is placed: the pins have no holes
SIREN = """title "Bike shed siren"
supply PACK aa-pack-4
part S1 button
part Q1 2N3904
part R1 2k2
part R2 100k
part BZ1 buzzer 5V 30mA
part D1 1N4148
wire PACK.+ to S1.1 to BZ1.+ to D1.K
wire S1.3 to R1.1
wire R1.2 to Q1.B to R2.1
wire R2.2 to Q1.E to PACK.-
wire BZ1.- to Q1.C to D1.A
"""

# a rheostat: 4.7 kΩ + 0 to 50 kΩ + 5 kΩ (bright) to 200 kΩ across the battery
PORCH = """title "Porch light"
board half
supply PACK aa-pack-3 on L+ L-
part P1 pot 50k in b3 b4 b5
part LDR1 ldr in c5 c9
part R3 4k7 in a3 a7
part Q1 2N3904 in h8 h9 h10 flat faces a
part R1 1k in e5 f9
part R2 100 in h3 g10
part LED1 led white in g1 g3 short g3
wire red L+7 to b7
wire black L-9 to a9
wire black L-8 to j8
wire red L+1 to j1
wire a5 to a4
"""

REGULATOR = """title "Night light"
board half
supply DC 9V limit 500mA on L+ L-
part V1 7805 in g5 g6 g7 tab faces j
part C1 0.33uF in h5 h6
part C2 100uF 16V in i7 i9 stripe i9
part R1 150 in h7 h14
part LED1 led white in i14 i17 flat i17
wire red L+5 to f5
wire black L-6 to j6
wire black L-9 to j9
wire black L-17 to j17
"""

BRIDGE = """title "Seed cart"
board full rails joined
supply BAT aa-pack-6 on L+ L-
part U1 controller-5v
part U2 L293D across 30-37 notch row 30
part M1 motor 6V 200mA stall 550mA
part C1 100uF 25V in b28 L- stripe L-
wire red L+28 to a28
wire red a37 to L+37
wire red U1.5V to R+
wire black U1.GND to R-
wire black R-2 to L-2
wire red R+30 to j30
wire red R+29 to a29
wire d29 to d30
wire a31 to U1.D2
wire a36 to U1.D3
wire black a33 to L-33
wire black a34 to L-34
wire black j33 to R-33
wire black j34 to R-34
wire M1.1 to b32
wire M1.2 to b35
wire R-31 to j31
wire R-36 to j36
wire R-37 to j37
pin U1.D2, U1.D3 output
"""

SAID = [
    # what it is about, list, what has to be said, what must not be
    ("a short lies below what a right motor may show", GATE,
     "under 2 Ω is a short. Turn the shaft", "under 5 Ω is a short. Turn"),
    ("a relay that is unplugged has no part in a reading", GATE,
     "pull K1's leads out for it", "If under 0.1 V, suspect this: K1 stays"),
    ("a controller board draws what it likes", GATE, "What U1 draws for itself differs", None),
    ("a bench supply never shows more than its limit", GATE,
     "Off at once when its limit lamp comes on", "Off at once above 100 mA"),
    ("a range that every dial has", LANTERN, "the lowest range over 360 Ω", "up to 400 Ω"),
    ("a value is said as it is shown", LANTERN, "If about 3.3 kΩ, suspect this: R1 is 3.3 kΩ", "OL, suspect this: R1 is"),
    ("a battery of which one lead is out shows nothing", LANTERN,
     "the - lead of BAT is loose or in a wrong hole; or BAT is not on", "BAT's plus is"),
    ("a wire in a wrong hole that shorts is not a loose one", BLINKER,
     "the black wire from L-10 to a10 ends in h10 instead of a10", None),
    ("what blinks is never at rest", BLINKER, "While U1.OUT is low:", "at rest"),
    ("what blinks moves the number", BLINKER, "the number goes to and fro", None),
    ("a pot's middle is found by eye, its track is 20 % off", PORCH, "about 25 kΩ (15 to 37 kΩ)", None),
    ("the least over all positions of a rheostat", PORCH, "PACK, plus to minus: anything over 4.8 kΩ", None),
    ("a sensor's middle is a number", PORCH, "LDR1 medium, that is 10 kΩ", None),
    ("no states are cut off", PORCH, None, "…"),
    ("wires of legs that are in no holes", SIREN, "the wires of Q1's B and C are exchanged", "in Q1.E Q1.B Q1.C"),
    ("what anything may be is not said of exchanged probes", SIREN, None, "exchanged: about 1.7 V"),
    ("an LED that blocks has no part in a number", REGULATOR, None, " LED1: about 0.7"),
    ("a bridge's second supply idles", BRIDGE, "up to 6 mA", "low): under 1 mA"),
]


def sheet_in_words(text: str) -> str:
    return " ".join(render("terminal", sheet_of(text), Page(width=100)).split())


@pytest.mark.parametrize(("text", "said", "unsaid"), [case[1:] for case in SAID], ids=[case[0] for case in SAID])
def test_a_sheet_says_what_a_right_board_shows(text: str, said: str | None, unsaid: str | None) -> None:
    words = sheet_in_words(text)

    assert said is None or said in words
    assert unsaid is None or unsaid not in words


def test_a_part_warms_one_supply_only() -> None:
    warm = [stage.supply for stage in sheet_of(GATE).power for step in stage.steps if "warm" in step and "K1" in step]

    assert ["PS"] == warm


NOT_TOLD_APART = [
    # kind, two values, whether a meter tells them apart
    ("volts", -0.57, -0.56, False),
    ("volts", 6.0, 5.9, False),
    ("volts", 12.0, 11.4, False),
    ("volts", 0.0, 0.9, True),
    ("ohms", 0.01, 1.5, False),
    ("ohms", 100.0, 115.0, False),
    ("ohms", 100.0, 330.0, True),
    ("diode", 0.58, 0.66, False),
    ("diode", 0.6, 1.7, True),
]


@pytest.mark.parametrize(("kind", "one", "other", "apart"), NOT_TOLD_APART)
def test_what_no_meter_tells_apart_is_one_value(kind: str, one: float, other: float, apart: bool) -> None:
    suspects = suspects_of(surveyed(LANTERN), LIBRARY)
    found = instead(kind, [(suspects[0], one), (suspects[1], other)], 5.0)

    assert len(found) == (2 if apart else 1)


@pytest.mark.parametrize(("low", "short"), [(float("inf"), 5.0), (60.0, 5.0), (10.0, 5.0), (4.1, 2.0), (1.3, 0.6)])
def test_a_short_is_below_half_of_the_least(low: float, short: float) -> None:
    assert short_below(low) == pytest.approx(short)
