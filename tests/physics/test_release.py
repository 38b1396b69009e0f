"""How long a coil keeps its current after it is switched off, against closed forms.

L di/dt = -(V + R i). A resistor across the coil: t = L / (R + Rc) ln 10 to a tenth. A constant voltage V:
t = L / R ln((V + R I) / (V + R I / 10)). Integrals of the circuit's own equation; no source needed.
"""

from __future__ import annotations

from math import log

import numpy as np
import pytest

from checker.checking import check
from checker.operating.models import coil_henries, relay_ohms
from checker.operating.release import NODES, SHARES, WEIGHTS, release_seconds
from checker.report.model import State
from checker.survey import wire_up
from parts_library import load_library

LIBRARY = load_library()
PART = wire_up("board half\npart K1 relay-5v\n", LIBRARY).bench.parts["k1"]
HENRIES, OHMS = coil_henries(PART.entry), relay_ohms(PART.entry)
STAGE = """board half
supply PACK 5V on L+ L-
part U1 controller-5v
part K1 relay-5v
part Q1 2N5551 in c10 c11 c12 as E B C measured
part R1 470 in e11 e16
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire K1.A1 to L+18
wire K1.A2 to a12
pin U1.D9 output
"""


def test_the_places_and_weights_are_those_of_numpy() -> None:
    places, weights = np.polynomial.legendre.leggauss(3)

    assert (list(places), list(weights)) == (list(NODES), list(WEIGHTS))


def released(clamp: str) -> State:
    """The state of switching off whose release is told."""
    found = [state for state in check(STAGE + clamp).states if state.release is not None]
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize("volts", [0.7, 5.1, 24.0])
def test_a_constant_voltage(volts: float) -> None:
    amps = 0.07
    expected = HENRIES / OHMS * log((volts + OHMS * amps) / (volts + OHMS * amps / 10.0))

    assert release_seconds(PART, amps, np.full(len(SHARES), -volts)) == pytest.approx(expected, rel=5e-3)
    assert release_seconds(PART, -amps, np.full(len(SHARES), volts)) == pytest.approx(expected, rel=5e-3)


@pytest.mark.parametrize("clamp", [50.0, 100.0, 470.0])
def test_a_resistor(clamp: float) -> None:
    volts = -clamp * 0.07 * np.array(SHARES)

    assert release_seconds(PART, 0.07, volts) == pytest.approx(HENRIES / (OHMS + clamp) * log(10.0), rel=1e-6)


def test_a_coil_that_is_still_driven_does_not_let_go() -> None:
    assert release_seconds(PART, 0.07, np.full(len(SHARES), 6.0)) is None


def test_a_resistor_across_a_real_relay() -> None:
    state = released("part R2 220 2W in d12 L+12\n")

    assert state.coil == "K1"
    assert state.release == pytest.approx(HENRIES / (OHMS + 220.0) * log(10.0), rel=2e-3)


def test_a_zener_lets_go_earlier_than_a_diode() -> None:
    diode = released("part D1 1N4001 in d12 L+12 band L+12\n")
    zener = released("part D1 1N4001 in d12 d14 band d14\npart Z1 zener 24V in e14 L+12 band e14\n")

    assert diode.energy == pytest.approx(zener.energy, rel=1e-6)
    assert diode.release is not None and zener.release is not None
    assert diode.release > 4.0 * zener.release


def test_a_capacitor_rings_and_has_no_release() -> None:
    assert [state.release for state in check(STAGE + "part C1 1uF 100V in d12 L+12\n").states if state.coil] == [None, None]


def test_a_capacitor_bounds_the_peak() -> None:
    """I sqrt(L / C) above the supply: the energy L I^2 / 2 is then all in C."""
    states = [state for state in check(STAGE + "part C1 10uF 100V in d12 L+12\n").states if state.phase == "switch-off"]
    amps = (2.0 * (states[0].energy or 0.0) / HENRIES) ** 0.5

    peak = max(abs(state.voltages["K1.A2"] - state.voltages["K1.A1"]) for state in states)
    assert peak == pytest.approx(amps * (HENRIES / 10e-6) ** 0.5, rel=0.02)
