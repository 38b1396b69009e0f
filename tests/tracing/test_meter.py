"""The meter on the circuit, the states a circuit settles in, and what a probe shows. Values by hand with Ohm's law; a
multimeter on volts has 10 MΩ (common practice, no source)."""

from __future__ import annotations

import pytest

from checker.circuit.model import Circuit, Lead
from checker.examples import text_of
from checker.operating.points import State
from checker.survey import survey
from checker.tracing import Tracer
from checker.tracing.following import settable, settled_states
from checker.tracing.grounds import Grounds, grounds_of
from checker.tracing.observing import volts_at
from checker.tracing.predicting import predicted
from checker.tracing.probes import probes_of, states_to_set
from tests.tracing.lists import APART, DIVIDER, LAMP, LIBRARY, MEGOHMS, MISTER, tracer_of

READ = [
    # list, probe, volts with no fault
    (DIVIDER, "b10", 9 * 2000 / 3000.1),
    (DIVIDER, "L+", 9 * 3000 / 3000.1),
    (DIVIDER, "R1", 9 * 1000 / 3000.1),
    (DIVIDER, "L+~L-", 9 * 3000 / 3000.1),
    (DIVIDER, "b10~L+", -9 * 1000 / 3000.1),
    (MEGOHMS, "b10", 4.5),  # the meter is half of 20 MΩ
    (MEGOHMS, "b5", 9.0),
    (MEGOHMS, "c20", 0.0),  # a row with nothing in it
    (APART, "a5", 9 * 1000 / 1000.1),
    (APART, "j5", 0.0),  # OTHER has nothing in common with the black probe: no current, no reading
    (APART, "R+~R-", 5 * 1000 / 1000.1),
    (APART, "R2", 5 * 1000 / 1000.1),
]


def circuit_of(text: str) -> Circuit:
    return survey([text], LIBRARY)[0].operatings[0].circuit


@pytest.mark.parametrize(("text", "subject", "volts"), READ, ids=[f"{subject} {volts:.2f} V" for _, subject, volts in READ])
def test_what_a_meter_shows_on_a_correct_board(text: str, subject: str, volts: float) -> None:
    tracer = tracer_of(text)
    probe = volts_at(subject, tracer.circuit)
    if probe.at is not None and probe.to is not None:
        tracer.instrument.pairs.append((probe.at, probe.to))

    assert predicted(tracer.instrument, tracer.instrument.settled(0, {}), probe).nominal == pytest.approx(volts, abs=0.005)


def test_behind_an_led_that_is_cut_off_a_meter_shows_less_than_the_supply() -> None:
    """Half a microamp through the meter needs some 1.3 V across a red LED, so that row 15 shows between 7 and 8.5 V of 9 V once
    its wire is gone; an ideal meter would show 9 V."""
    tracer = tracer_of(LAMP)
    number = [one.say for one in tracer.hypotheses].index("the wire from c15 to L- is missing or makes no contact")
    told = tracer.told(number, {}, volts_at("d15", tracer.circuit))

    assert 7.0 < told.nominal < 8.5
    assert told.loose


@pytest.mark.parametrize(
    ("text", "name"),
    [(DIVIDER, "L-"), (MISTER, "U1.GND"), (APART, "L-"), (text_of("puppet-nose"), "BAT.-"), (text_of("dusk-lamp"), "U1.GND")],
)
def test_the_black_probe_goes_to_the_ground_that_people_use(text: str, name: str) -> None:
    found = grounds_of(circuit_of(text), [{}])

    assert found is not None
    assert found.black[0][1] == name


def test_each_part_that_shares_no_current_has_its_own_ground() -> None:
    """The lamp's loop of the relay: cells, contact and lamp meet the controller nowhere."""
    tracer = tracer_of(text_of("stage-lantern-relay"))
    probes = {probe.name for probe in probes_of(tracer.circuit, (), tracer.grounds)}

    assert [name for _, name in tracer.grounds.black] == ["U1.GND", "CELLS.-"]
    assert {"K1.COM~CELLS.-", "LAMP.1~CELLS.-", "K1.A2"} <= probes
    assert volts_of(tracer, "LAMP.1~CELLS.-", {"U1.D7": "high"}) == pytest.approx(6 * 60 / 60.65, abs=0.02)  # 60 Ω, 0.6 + 0.05


def volts_of(tracer: Tracer, name: str, state: State) -> float:
    probe = next(probe for probe in probes_of(tracer.circuit, (), tracer.grounds) if probe.name == name)
    return tracer.told(0, state, probe).nominal


@pytest.mark.parametrize(
    ("text", "set_to", "name", "option"),
    [
        (text_of("stage-lantern-relay"), {"U1.D7": "high"}, "K1", "pulled-in"),  # 5 V on a coil of 5 V
        (text_of("stage-lantern-relay"), {"U1.D7": "low"}, "K1", "released"),
    ],
)
def test_what_follows_comes_out_as_the_circuit_decides(text: str, set_to: State, name: str, option: str) -> None:
    assert settled_states([(circuit_of(text), set_to)])[0][name] == option


INVERTERS = """\
board half
part U1 controller-5v
part U2 74HC14 across 10-16 notch row 10
wire U1.5V to L+
wire U1.GND to L-
wire L+ to j10
wire L- to a16
wire U1.D2 to a10
wire c11 to c12
wire b13 to b14
wire L- to R-
wire R- to j11
wire R- to j13
wire R- to j15
pin U1.D2 output
"""


@pytest.mark.parametrize("level", ["low", "high"])
def test_a_chain_of_gates_settles_from_its_input(level: str) -> None:
    """Three inverters in a row: 1A from D2, 1Y to 2A, 2Y to 3A; so 1Y and 3Y are what D2 is not, and 2Y is what D2 is."""
    state = settled_states([(circuit_of(INVERTERS), {"U1.D2": level})])[0]
    other = {"low": "high", "high": "low"}[level]

    assert [state[f"U2.{pin}"] for pin in ("1Y", "2Y")] == [other, level]


def test_what_follows_cannot_be_set_and_what_a_program_shifts_into_a_chip_can() -> None:
    assert "K1" not in {v.name for v in settable(circuit_of(text_of("stage-lantern-relay")))}
    assert "U2.QA" in {v.name for v in settable(circuit_of(text_of("score-board")))}


def test_the_state_that_is_set_comes_first() -> None:
    states = states_to_set(circuit_of(MISTER), [{}, {"U1.D9": "high"}])

    assert states == [{"U1.D9": "high"}, {"U1.D9": "low"}]


def test_probes_are_looks_then_rails_and_rows_then_leads_then_legs() -> None:
    circuit = circuit_of(MISTER)
    probes = probes_of(circuit, (), Grounds(((Lead("u1", "GND"), "U1.GND"),), {}))
    names = [probe.name for probe in probes]

    assert names[:3] == ["PUMP", "L+", "L-"]
    assert {"U1.D9", "PUMP.1", "PUMP.2"} <= set(names)
    assert "U1.GND" not in names
    assert [probe.leg_at for probe in probes if probe.name == "R1.2"] == ["b16"]
    taken = {"a10", "c10", "c11", "b11", "b12", "c12", "d12", "a16", "b16", "b18", "d18", "e18"}
    assert not taken & set(names)  # a probe goes into a free hole of the row
