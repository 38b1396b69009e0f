"""What the suspects of a list are, and that each is the circuit that it says.

The volts beside each suspect of the divider are worked out by hand with Ohm's law. PACK is 9 V behind 0.1 Ω (a bare supply of
DESIGN section 2); R1 is 1 kΩ from plus to row 10, R2 is 2 kΩ from there to minus: 9 V * 2000 / 3000.1 = 6.00 V in row 10. A meter
of 10 MΩ is where the probe is, so that a row that nothing holds reads 0 V.
"""

from __future__ import annotations

import pytest

from checker.examples import text_of
from checker.operating.operate import operate
from checker.seating.boards import RailPiece, Strip
from checker.survey import Survey, survey
from checker.suspects import Suspect, suspects_of
from checker.suspects.inside import neighbours
from checker.suspects.model import PRIORS
from checker.suspects.rewiring import fingerprint
from checker.tracing.instrument import Instrument
from checker.tracing.model import Probe
from checker.tracing.predicting import predicted
from parts_library import load_library

LIBRARY = load_library()
DIVIDER = """\
title "Tide tank probe"
board half
supply PACK 9V on L+ L-
part R1 1k in b5 b10
part R2 2k in c10 c15
wire L+ to a5
wire a15 to L-
"""


def surveyed(text: str) -> Survey:
    return survey([text], LIBRARY)[0]


def suspects_in(text: str) -> dict[str, Suspect]:
    return {one.say: one for one in suspects_of(surveyed(text), LIBRARY)}


@pytest.fixture(scope="module")
def divider() -> dict[str, Suspect]:
    return suspects_in(DIVIDER)


def volts_in_row(suspect: Suspect, row: int) -> float:
    """What a meter shows in row ``row`` a-e, black probe at the minus rail."""
    instrument = Instrument([suspect.circuit], [RailPiece("", "L", "-", 0)])
    return predicted(instrument, instrument.settled(0, {}), Probe("volts", f"a{row}", Strip("", row, "a"))).nominal


BY_HAND = [
    # kind, sentence, volts in row 10
    ("supply-exchanged", "PACK has its leads exchanged: plus belongs to L+, minus to L-", -6.00),
    ("row-off", "R1's leg is in b11 instead of b10", 0.0),  # R2 holds row 10 at minus
    ("row-off", "R2's leg is in c11 instead of c10", 9 * 10e6 / (10e6 + 1e3)),  # R1 and the meter alone
    ("row-off", "the wire from L+ to a5 ends in a6 instead of a5", 0.0),
    ("wrong-rail", "the wire from L+ to a5 ends in L- instead of L+", 0.0),
    ("wrong-rail", "the wire from a15 to L- ends in L+ instead of L-", 9.0),
    ("wire-loose", "the wire from L+ to a5 is missing or makes no contact", 0.0),
    ("wire-loose", "the wire from a15 to L- is missing or makes no contact", 9 * 10e6 / (10e6 + 1e3)),
    ("wire-loose", "the + lead of PACK makes no contact at L+", 0.0),
    ("leg-open", "R1's leg at b5 makes no contact", 0.0),
    ("leg-open", "R1's leg at b10 makes no contact", 0.0),
    ("leg-open", "R2's leg at c10 makes no contact", 9 * 10e6 / (10e6 + 1e3)),
    ("value", "R1 is 10 kΩ instead of 1 kΩ: ten times too large", 9 * 2 / 12),
    ("value", "R2 is 200 Ω instead of 2 kΩ: ten times too small", 9 * 0.2 / 1.2),
    ("value", "R1 is 100 Ω instead of 1 kΩ: ten times too small", 9 * 2 / 2.1),
    ("value", "R1 is 1 MΩ instead of 1 kΩ: a thousand times too large", 9 * 2 / 1002),
    ("value", "R2 is 3 kΩ instead of 2 kΩ: a band misread", 9 * 3 / 4),  # orange taken for red
    ("supply-off", "PACK is not on, or its leads are not plugged in", 0.0),
    ("battery-low", "PACK is worn: much of its voltage is gone", 5.4 * 2000 / 3005),  # 60 % of 9 V behind 5 Ω
    ("battery-empty", "PACK is empty", 1.35 * 2000 / 3100),  # 15 % of 9 V behind 100 Ω
    ("dead", "R1 is dead: it lets nothing through", 0.0),
    ("shorted", "R1 is shorted from end to end", 9 * 2000 / 2000.11),
    ("shorted", "R2 is shorted from end to end", 9 * 0.01 / 1000.11),
]


@pytest.mark.parametrize(("kind", "say", "volts"), BY_HAND, ids=[say for _, say, _ in BY_HAND])
def test_a_suspect_shows_what_ohms_law_says(divider: dict[str, Suspect], kind: str, say: str, volts: float) -> None:
    assert divider[say].kind == kind
    assert volts_in_row(divider[say], 10) == pytest.approx(volts, abs=0.005)


FOUND_IN = [
    # example, kind, sentence
    ("seed-tray-mister", "turned", "D1 is turned round: its band belongs to d18"),
    ("seed-tray-mister", "turned", "Q1 is turned round: its flat faces a"),
    ("seed-tray-mister", "pin-order", "Q1 has its legs B E C in c10 c11 c12, instead of E B C"),
    ("seed-tray-mister", "rail-gap", "the rail L+ has a gap in the middle of the board"),
    ("seed-tray-mister", "wrong-rail", "the red wire from e18 to L+18 ends in R+18 instead of L+18"),
    ("seed-tray-mister", "row-off", "R1's leg is in a12 instead of b11"),
    ("seed-tray-mister", "row-off", "R1 sits in i11 i16 instead of b11 b16"),
    ("seed-tray-mister", "pin-stuck", "U1.D9 stays low: the program does not switch it, or the pin is dead"),
    ("seed-tray-mister", "dead", "PUMP is dead: it lets nothing through"),
    ("seed-tray-mister", "shorted", "Q1 is shorted from collector to emitter"),
    ("seed-tray-mister", "shorted", "Q1 is shorted from base to emitter"),
    ("dusk-lamp", "turned", "S1 sits a quarter of a turn from how it belongs"),
    ("dusk-lamp", "dead", "S1 stays pressed, whatever is done to it"),
    ("dusk-lamp", "supply-exchanged", "U1 has its leads exchanged: U1.5V belongs to L+1, U1.GND to L-1"),
    ("dusk-lamp", "supply-off", "U1 has no power from USB"),
    ("stage-lantern-relay", "dead", "K1 stays pulled-in, whatever is done to it"),
    ("lighthouse-blinker", "dead", "U1 is dead: it does nothing"),
    ("lighthouse-blinker", "leg-open", "U1's leg at e12 makes no contact"),
]


@pytest.mark.parametrize(("example", "kind", "say"), FOUND_IN, ids=[say for _, _, say in FOUND_IN])
def test_a_fault_of_an_example_is_among_its_suspects(example: str, kind: str, say: str) -> None:
    assert suspects_in(text_of(example))[say].kind == kind


FOG_HORN = """\
title "Fog horn, a plain list of connections"
supply P 5V
part U1 controller-5v
part Q1 2N7000
part J1 2N5457
part BZ buzzer 5V 15mA
part DS seven-segment common-cathode
part RS 470
wire P.+ to BZ.+
wire P.- to Q1.S to U1.GND to J1.S to J1.G to DS.COM1
wire U1.5V to J1.D
wire U1.D9 to Q1.G
wire Q1.D to BZ.-
wire U1.D8 to RS.1
wire RS.2 to DS.B
"""

FOUND_OFF_THE_BOARD = [
    # kind, sentence: nothing is printed at the legs of a transistor, and a battery's leads can be taken for each other
    ("pin-order", "the wires of Q1's S, G and D are at its D, S and G"),
    ("dead", "J1 is dead: it lets nothing through"),
    ("shorted", "J1 is shorted from drain to source"),
    ("supply-exchanged", "U1 has its leads exchanged: U1.5V belongs to J1.D, U1.GND to Q1.S and J1.S"),
]


@pytest.mark.parametrize(("kind", "say"), FOUND_OFF_THE_BOARD, ids=[say for _, say in FOUND_OFF_THE_BOARD])
def test_a_fault_of_a_list_without_a_board_is_among_its_suspects(kind: str, say: str) -> None:
    assert suspects_in(FOG_HORN)[say].kind == kind


def test_every_suspect_differs_from_the_list_and_from_every_other(divider: dict[str, Suspect]) -> None:
    whole = [surveyed(DIVIDER).operatings[0].circuit, *(one.circuit for one in divider.values())]

    assert len({fingerprint(circuit) for circuit in whole}) == len(whole)


def test_a_sentence_names_one_suspect_and_every_kind_has_a_prior(divider: dict[str, Suspect]) -> None:
    found = suspects_of(surveyed(DIVIDER), LIBRARY)

    assert len(found) == len(divider)
    assert {one.kind for one in found} <= set(PRIORS)
    assert all(0.0 < one.prior <= PRIORS[one.kind] for one in found)
    assert all(one.remedy and not one.say.endswith(".") for one in found)


def test_ends_exchanged_of_a_resistor_are_no_suspect(divider: dict[str, Suspect]) -> None:
    assert not any("ends exchanged" in say for say in divider)


def test_an_edit_of_the_text_gives_the_same_circuit_as_the_suspect(divider: dict[str, Suspect]) -> None:
    suspect = divider["R1's leg is in b11 instead of b10"]
    lines = DIVIDER.splitlines()
    for edit in suspect.edits:
        lines[edit.line - 1] = edit.text

    assert fingerprint(surveyed("\n".join(lines)).operatings[0].circuit)[0] == fingerprint(suspect.circuit)[0]


@pytest.mark.parametrize("example", ["seed-tray-mister", "stage-lantern-relay", "score-board", "tram-drive"])
def test_every_suspect_of_an_example_can_be_solved(example: str) -> None:
    found = suspects_of(surveyed(text_of(example)), LIBRARY)
    solved = operate([one.circuit for one in found], corners=())

    assert [one.say for one, each in zip(found, solved, strict=True) if not each.converged.all()] == []


@pytest.mark.parametrize(
    ("ohms", "near"),
    [
        # colour code of IEC 60062: 1 brown, 2 red, 3 orange, 4 yellow, 5 green, 6 blue, 7 violet, 8 grey
        (220.0, [120.0]),  # red read as brown; 320, 210 and 230 are in no series
        (1000.0, [2000.0, 3000.0, 1100.0]),
        (4700.0, []),  # 37, 46 and 48 are not in the E24 series of IEC 60063
        (1234.0, []),
    ],
)
def test_the_values_that_one_misread_band_gives_are_those_of_the_series(ohms: float, near: list[float]) -> None:
    assert sorted(neighbours(ohms)) == sorted(near)


def test_a_list_without_a_circuit_has_no_suspects() -> None:
    assert suspects_of(surveyed(""), LIBRARY) == ()
