"""How readings and states are typed, and what is said of those that are not understood."""

from __future__ import annotations

import pytest

from checker.circuit.model import Lead
from checker.examples import text_of
from checker.operating.points import State
from checker.seating.boards import RailPiece, Strip
from checker.survey import survey
from checker.tracing import Misread, seen_in, state_in
from checker.tracing.model import Spot
from tests.tracing.lists import LIBRARY, MISTER, tracer_of

CIRCUIT = tracer_of(MISTER).circuit
DUSK = survey([text_of("dusk-lamp")], LIBRARY)[0].operatings[0].circuit

VOLTS: list[tuple[str, Spot, Spot | None, float, float]] = [
    ("b10=4.9V", Strip("", 10, "a"), None, 4.9, 0.1),
    ("B10 = 4,90 V", Strip("", 10, "a"), None, 4.9, 0.01),
    ("10b=0.712V", Strip("", 10, "a"), None, 0.712, 0.001),
    ("g10=712mV", Strip("", 10, "f"), None, 0.712, 0.001),
    ("L+=9V", RailPiece("", "L", "+", 0), None, 9.0, 0.5),
    ("U1.D9=5.0V", ("u1", "D9"), None, 5.0, 0.1),
    ("Q1.C=-0.1V", ("q1", "C"), None, -0.1, 0.1),
    ("b10~b12=0.7V", Strip("", 10, "a"), Strip("", 12, "a"), 0.7, 0.1),
    ("PUMP=8.90V", ("pump", "1"), ("pump", "2"), 8.9, 0.01),
]


@pytest.mark.parametrize(("typed", "at", "to", "volts", "digit"), VOLTS, ids=[typed for typed, *_ in VOLTS])
def test_volts_are_read_with_their_last_digit(typed: str, at: Spot, to: Spot | None, volts: float, digit: float) -> None:
    seen = seen_in(typed, CIRCUIT, {})

    assert (seen.probe.kind, seen.probe.at, seen.probe.to) == ("volts", at, to)
    assert (seen.value, seen.digit) == (pytest.approx(volts), pytest.approx(digit))


@pytest.mark.parametrize(
    ("typed", "pin", "amps"),
    [("PUMP=98mA", ("pump", "1"), 0.098), ("Q1.C=0.1A", ("q1", "C"), 0.1), ("PACK=220 mA", ("pack", "+"), 0.22),
     ("pump=0mA", ("pump", "1"), 0.0), ("R1=17000uA", ("r1", "1"), 0.017)],
)
def test_amps_are_read_through_a_part_or_at_a_pin(typed: str, pin: tuple[str, str], amps: float) -> None:
    seen = seen_in(typed, CIRCUIT, {})

    assert (seen.probe.kind, seen.probe.pin, seen.value) == ("amps", pin, pytest.approx(amps))


@pytest.mark.parametrize(
    ("typed", "look", "yes"),
    [("PUMP=running", "running", 1.0), ("PUMP=still", "running", 0.0), ("PUMP=Silent", "running", 0.0), ("Q1=hot", "hot", 1.0),
     ("Q1=cool", "hot", 0.0), ("D1=dark", "lit", 0.0), ("D1=lit", "lit", 1.0), ("D1=off", "lit", 0.0)],
)
def test_what_is_seen_without_a_meter_is_a_yes_or_a_no(typed: str, look: str, yes: float) -> None:
    seen = seen_in(typed, CIRCUIT, {"U1.D9": "high"})

    assert (seen.probe.kind, seen.probe.look, seen.value, seen.state) == ("look", look, yes, {"U1.D9": "high"})


@pytest.mark.parametrize(
    ("typed", "state"),
    [(["U1.D9=high"], {"U1.D9": "high"}), (["u1.d9=HIGH"], {"U1.D9": "high"}), (["U1.D9=1"], {"U1.D9": "high"}),
     (["U1.D9=off"], {"U1.D9": "low"}), (["S1=pressed, U1.D9=high"], {"S1": "pressed", "U1.D9": "high"}),
     (["S1=on and LDR1=dark"], {"S1": "pressed", "LDR1": "dark"}), (["S1=closed", "S1=released"], {"S1": "released"}), ([], {})],
)
def test_a_state_is_read_whatever_its_case_and_usual_words(typed: list[str], state: State) -> None:
    assert state_in(typed, DUSK if any("S1" in word for word in typed) else CIRCUIT) == state


MISREAD = [
    ("b10", "is no reading: write POINT=VALUE"),
    ("=5V", "is no reading"),
    ("b10=", "is no reading"),
    ("b10=3", "b10=3 has no unit: write V or mA behind the number, as in b10=4.9V"),
    ("b10=3k", "has no unit"),
    ("b10=3kohm", "is neither volts nor amps"),
    ("b99=3V", "no point 'b99' in the list"),
    ("z5=3V", "no point 'z5' in the list"),
    ("PUMP.3=3V", "PUMP has no pin '3'. The nearest is PUMP.1"),
    ("PUNP.1=3V", "no point 'PUNP.1' in the list. The nearest is PUMP.1"),
    ("PUNP=3mA", "no part 'PUNP' in the list. The nearest is PUMP"),
    ("PUMP=stil", "'stil' is nothing that is seen. The nearest is still"),
    ("LED1=dark", "no part 'LED1' in the list"),
    ("Q1=3mA", "Q1 has more than two legs: write Q1.E=…mA"),
    ("Q1=3V", "Q1 has more than two legs: write Q1.E=…V"),
    ("b10=3xV", "has a unit that is not known"),
    ("b10=1,234V", "could be thousands or a decimal comma"),
]


@pytest.mark.parametrize(("typed", "complaint"), MISREAD, ids=[typed for typed, _ in MISREAD])
def test_a_reading_that_is_not_understood_is_answered_with_the_nearest_spelling(typed: str, complaint: str) -> None:
    with pytest.raises(Misread) as caught:
        seen_in(typed, CIRCUIT, {})

    assert complaint in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "complaint"),
    [
        ("U1.D9", "is no state: write NAME=STATE"),
        ("U1.D8=high", "'U1.D8' cannot be switched. The nearest is U1.D9"),
        ("PUMP=high", "'PUMP' cannot be switched. There are: U1.D9"),
        ("U1.D9=hihg", "U1.D9 cannot be 'hihg'. The nearest is high"),
        ("U1.D9=input", "U1.D9 cannot be 'input'. It can be low, high"),
    ],
)
def test_a_state_that_is_not_understood_is_answered_with_the_nearest_spelling(typed: str, complaint: str) -> None:
    with pytest.raises(Misread) as caught:
        state_in([typed], CIRCUIT)

    assert complaint in str(caught.value)


def test_what_follows_from_the_circuit_cannot_be_said_to_be_set() -> None:
    relay = survey([text_of("stage-lantern-relay")], LIBRARY)[0].operatings[0].circuit

    with pytest.raises(Misread, match="K1 follows from the rest of the circuit"):
        state_in(["K1=pulled-in"], relay)


def test_a_lead_of_a_part_off_the_board_is_its_pin() -> None:
    assert CIRCUIT.conductor_of["pump", "1"] == Lead("pump", "1")
