"""Each element model in a small circuit against a solution found another way."""

from __future__ import annotations

from itertools import product
from typing import Any

import networkx as nx
import numpy as np
import pytest
import sympy
from scipy.optimize import brentq, root
from scipy.special import lambertw

from checker.physics import stacked, terminal_currents
from checker.physics.assemble import Mixed

from .circuits import (
    AMPLIFIER,
    NPN,
    SILICON,
    bipolar,
    channel,
    circuit,
    driver,
    forced,
    junction,
    resistor,
    solved,
    source,
    transfer,
    volts,
)
from .senseless import senseless_circuits


@pytest.mark.parametrize("supply", [0.3, 1.0, 5.0, 24.0])
@pytest.mark.parametrize("ohms", [0.1, 220.0, 1e6])
def test_a_diode_and_a_resistor_obey_the_lambert_function(supply: float, ohms: float) -> None:
    """i = (n V_T / R) W((I_s R / n V_T) exp((V + I_s R) / n V_T)) - I_s, the textbook solution; R is all resistance."""
    saturation, slope = SILICON["saturation"], SILICON["slope"]
    whole = ohms + 1.0 + SILICON["ohms"]
    drop = saturation * whole / slope
    # lambertw(exp(z)) overflows above z = 700: there the equation w + ln w = z is solved directly.
    z = np.log(drop) + drop + supply / slope
    omega = lambertw(np.exp(z)).real if z < 700.0 else brentq(lambda w: w + np.log(w) - z, 1.0, z)
    expected = omega * slope / whole - saturation

    stack = circuit(source(1, supply, ohms=1.0), resistor(1, 2, ohms), junction(2, 0))
    found = terminal_currents(stack, solved(stack).voltages).junctions[0, 0]

    np.testing.assert_allclose(found, [expected, -expected], rtol=1e-7, atol=3e-12)


def test_a_junction_carries_its_breakdown_current_at_its_breakdown_voltage() -> None:
    zener = {"breakdown": 5.1, "breakdown_slope": 0.05, "breakdown_ohms": 10.0, "breakdown_amps": 5e-3}
    stack = circuit(source(1, 5.1, ohms=1e-6), junction(0, 1, **zener))

    assert terminal_currents(stack, solved(stack).voltages).junctions[0, 0, 1] == pytest.approx(5e-3, rel=1e-4)


@pytest.mark.parametrize("excess", [1e-3, 0.1, 3.0])
def test_breakdown_is_an_exponential_behind_a_resistance(excess: float) -> None:
    """The pair of equations v = ohms (i - amps) + slope ln(i / amps), solved by bisection."""
    stack = circuit(
        source(1, 6.0 + excess, ohms=1e-6),
        junction(0, 1, breakdown=6.0, breakdown_slope=0.03, breakdown_ohms=5.0, breakdown_amps=1e-3),
    )
    expected = brentq(lambda i: 5.0 * (i - 1e-3) + 0.03 * np.log(i / 1e-3) - excess + 1e-6 * i, 1e-6, 10.0)

    assert terminal_currents(stack, solved(stack).voltages).junctions[0, 0, 1] == pytest.approx(expected, rel=1e-9)


def by_gummel(collector: float, base: float, emitter: float) -> tuple[float, float]:
    """Collector and base current of the NPN in charge-control form, q the root of q^2 = q + I_F / I_K."""
    thermal = NPN["slope"]
    forward = NPN["saturation"] * np.expm1((base - emitter) / thermal)
    reverse = NPN["saturation"] * np.expm1((base - collector) / thermal)
    charge = max(np.roots([1.0, -1.0, -forward / NPN["knee"]]).real)
    to_emitter, to_collector = forward / NPN["gain"], reverse / NPN["reverse_gain"]
    return (forward - reverse) / charge - to_collector, to_emitter + to_collector


@pytest.mark.parametrize(
    ("case", "drive", "base_ohms", "load_ohms", "supply"),
    [
        ("saturated switch", 5.0, 1e3, 470.0, 9.0),
        ("active", 0.9, 10e3, 100.0, 12.0),
        ("beyond the knee", 5.0, 100.0, 4.7, 12.0),
        ("off", 0.2, 1e3, 1e3, 5.0),
        ("collector negative: reverse operation", 5.0, 1e3, 1e3, -5.0),
    ],
)
def test_a_transistor_stage_agrees_with_an_independent_root(
    case: str, drive: float, base_ohms: float, load_ohms: float, supply: float
) -> None:
    def imbalance(unknown: np.ndarray) -> list[float]:
        collector, base = unknown
        into_collector, into_base = by_gummel(collector, base, 0.0)
        # Scaled so that scipy's root sees volts.
        return [supply - load_ohms * into_collector - collector, drive - base_ohms * into_base - base]

    stack = circuit(
        source(1, supply, ohms=1e-3),
        source(2, drive, ohms=1e-3),
        resistor(1, 3, load_ohms - 1e-3),
        resistor(2, 4, base_ohms - 1e-3),
        bipolar(3, 4, 0),
    )
    found = np.array(volts(stack))[[3, 4]]
    expected = root(imbalance, found + 0.003, tol=1e-13).x

    np.testing.assert_allclose(found, expected, rtol=1e-6, atol=1e-7)
    assert np.abs(imbalance(found)).max() < 1e-7


@pytest.mark.parametrize(
    ("drain", "gate", "source_volts"),
    [(9.0, 5.0, 0.0), (0.1, 5.0, 0.0), (9.0, 1.9, 0.0), (0.0, 5.0, 3.0), (-2.0, 3.0, 0.0), (5.0, 5.0, 2.9)],
)
def test_a_channel_far_from_threshold_obeys_the_square_law(drain: float, gate: float, source_volts: float) -> None:
    """The textbook's three regions (off, triode, saturated); the lower end is the source."""
    gain, threshold = 0.5, 2.0
    low, high = sorted((drain, source_volts))
    overdrive, across = max(gate - low - threshold, 0.0), high - low
    size = gain * (overdrive * across - across**2 / 2 if across < overdrive else overdrive**2 / 2)
    expected = size if drain >= source_volts else -size

    stack = circuit(
        source(1, drain, ohms=1e-6),
        source(2, gate, ohms=1e-6),
        source(3, source_volts, ohms=1e-6),
        channel(1, 2, 3, transconductance=gain, threshold=threshold, slope=0.002),
    )
    currents = terminal_currents(stack, solved(stack).voltages).channels[0, 0]

    np.testing.assert_allclose(currents, [expected, 0.0, -expected], rtol=1e-5, atol=1e-9)


@pytest.mark.parametrize("load", [1.0, 100.0, 1e5])
def test_a_source_follower_agrees_with_an_independent_root(load: float) -> None:
    gain, threshold, slope = 0.2, 1.5, 0.1

    def current(at: float) -> float:
        forward, backward = (slope * np.logaddexp(0.0, (5.0 - end - threshold) / slope) for end in (at, 9.0))
        return float(gain / 2 * (forward**2 - backward**2))

    expected = brentq(lambda at: at / load - current(at), 0.0, 9.0, xtol=1e-14)
    stack = circuit(
        source(1, 9.0, ohms=1e-6),
        source(2, 5.0, ohms=1e-6),
        resistor(3, 0, load),
        channel(1, 2, 3, transconductance=gain, threshold=threshold, slope=slope),
    )

    assert volts(stack)[3] == pytest.approx(expected, rel=1e-5)


def test_resistor_networks_have_the_resistance_of_the_graph() -> None:
    """networkx computes resistance distance from the Laplacian's pseudoinverse."""
    random = np.random.default_rng(3)
    for _ in range(20):
        graph = nx.connected_watts_strogatz_graph(9, 4, 0.5, seed=int(random.integers(1 << 30)))
        for edge in graph.edges:
            graph.edges[edge]["ohms"] = float(np.exp(random.uniform(0.0, 9.0)))
        expected: Any = nx.resistance_distance(graph, 4, 0, weight="ohms", invert_weight=True)
        resistors = [resistor(one, other, ohms) for one, other, ohms in graph.edges.data("ohms")]

        assert volts(circuit(*resistors, forced(0, 4, 1e-3)))[4] == pytest.approx(1e-3 * float(expected), rel=1e-6)


def test_a_bridge_has_the_exact_rational_voltages() -> None:
    """An unbalanced bridge behind 1 ohm, solved over the rationals by sympy."""
    top, left, right = sympy.symbols("top left right")
    currents = [
        (10 - top) / 1 - (top - left) / sympy.Integer(100) - (top - right) / sympy.Integer(220),
        (top - left) / sympy.Integer(100) - left / sympy.Integer(330) - (left - right) / sympy.Integer(47),
        (top - right) / sympy.Integer(220) - right / sympy.Integer(150) + (left - right) / sympy.Integer(47),
    ]
    exact = sympy.solve(currents, [top, left, right])
    arms = [(1, 2, 100.0), (1, 3, 220.0), (2, 0, 330.0), (3, 0, 150.0), (2, 3, 47.0)]
    stack = circuit(source(1, 10.0, ohms=1.0), *(resistor(*arm) for arm in arms))

    np.testing.assert_allclose(volts(stack)[1:], [float(exact[node]) for node in (top, left, right)], rtol=1e-9)


def test_a_transfer_carries_siemens_times_the_sensed_voltage() -> None:
    stack = circuit(source(1, 2.0, ohms=1e-3), resistor(2, 0, 1e3), transfer(1, 0, 0, 2, siemens=3e-3))

    assert volts(stack)[2] == pytest.approx(2.0 * 3e-3 * 1e3, rel=1e-8)
    np.testing.assert_allclose(
        terminal_currents(stack, solved(stack).voltages).transfers[0, 0], [0.0, 0.0, 6e-3, -6e-3], rtol=1e-8
    )


@pytest.mark.parametrize(
    ("load", "amps", "tolerance"),
    [(1e6, 12.0 / (1e6 + 0.1), 1e-6), (12.0, 12.0 / 12.1, 1e-6), (3.0, 2.0, 2e-2), (0.05, 2.0, 1e-2)],
)
def test_a_source_delivers_up_to_its_limit_and_no_more(load: float, amps: float, tolerance: float) -> None:
    stack = circuit(source(1, 12.0, ohms=0.1, most=2.0), resistor(1, 0, load))

    delivered = -terminal_currents(stack, solved(stack).voltages).sources[0, 0, 0]

    assert delivered == pytest.approx(amps, rel=tolerance)


def test_a_limited_source_absorbs_without_limit() -> None:
    stack = circuit(source(1, 5.0, ohms=0.5, most=0.1), source(1, 12.0, ohms=0.5))

    assert terminal_currents(stack, solved(stack).voltages).sources[0, 0, 0] == pytest.approx(7.0, rel=1e-6)


REGULATOR = {"offset": 5.0, "headroom_high": 2.0, "siemens": 20.0, "source_limit": 1.5}


@pytest.mark.parametrize(
    ("state", "supply", "load", "out"),
    [
        ("regulates", 9.0, 100.0, 5.0 - 0.05 / 20.0),
        ("in dropout", 6.0, 1e3, 4.0),
        ("no room at all", 1.5, 1e3, 0.0),
        ("unloaded", 9.0, 1e9, 5.0),
        ("current limit", 9.0, 1.0, 1.5),
        ("supply reversed", -9.0, 1e3, 0.0),
    ],
)
def test_a_series_regulator_is_a_driver_without_sink(state: str, supply: float, load: float, out: float) -> None:
    """The expected values follow from the definition of the stage; 30 mV is the width of its corners."""
    stack = circuit(source(1, supply, ohms=0.1), resistor(2, 0, load), driver(2, 1, 0, 0, 0, **REGULATOR))

    assert volts(stack)[2] == pytest.approx(out, abs=0.04)


@pytest.mark.parametrize(("signal", "out"), [(0.3, 3.0), (-0.5, 0.05), (1.2, 8.5), (0.8, 8.0)])
def test_an_amplifier_amplifies_between_its_rails(signal: float, out: float) -> None:
    """Non-inverting, gain 1 + 9k/1k = 10, supply 10 V less 1.5 V above and 50 mV below."""
    stack = circuit(
        source(1, 10.0, ohms=1e-3),
        source(2, signal, ohms=1e-3),
        resistor(3, 4, 9e3),
        resistor(4, 0, 1e3),
        driver(3, 1, 0, 2, 4, **AMPLIFIER),
    )

    assert volts(stack)[3] == pytest.approx(out, abs=0.07)


@pytest.mark.parametrize(("above", "out"), [(True, 12.0), (False, 0.25)])
def test_an_open_collector_lets_go_or_pulls_down(above: bool, out: float) -> None:
    """Pulled up to 12 V by 1 kilohm from a comparator on 5 V: 20 ohms on, nothing off."""
    stack = circuit(
        source(1, 5.0, ohms=0.1),
        source(2, 12.0, ohms=0.1),
        source(4, 2.5 + (0.01 if above else -0.01), ohms=1e-3),
        source(5, 2.5, ohms=1e-3),
        resistor(2, 3, 1e3),
        driver(3, 1, 0, 4, 5, gain=1e5, headroom_high=-100.0, siemens=0.05, sink_limit=0.016),
    )

    assert volts(stack)[3] == pytest.approx(out, abs=0.03)


@pytest.mark.parametrize("out", [-3.0, 0.0, 2.0, 8.0])
@pytest.mark.parametrize("high", [-5.0, 0.0, 0.3, 1.0, 3.0, 9.0])
@pytest.mark.parametrize("plus", [-1.0, 0.0, 1e-5, 1.0])
def test_a_driver_takes_more_power_than_it_gives(high: float, out: float, plus: float) -> None:
    stack = circuit(
        source(1, out, ohms=1e-6),
        source(2, high, ohms=1e-6),
        source(3, plus, ohms=1e-6),
        driver(1, 2, 0, 3, 0, **AMPLIFIER),
    )
    solution = solved(stack)
    currents = terminal_currents(stack, solution.voltages).drivers[0, 0]

    assert currents @ solution.voltages[0, [1, 2, 0, 3, 0]] > -1e-7
    assert currents.sum() == pytest.approx(0.0, abs=1e-15)


def test_a_pnp_circuit_is_the_mirror_of_the_npn_circuit() -> None:
    def stage(sign: float) -> list[float]:
        return volts(
            circuit(
                source(1, sign * 9.0),
                source(2, sign * 5.0, ohms=25.0),
                resistor(1, 3, 220.0),
                resistor(2, 4, 1e3),
                bipolar(3, 4, 0, polarity=sign),
                channel(5, 4, 0, polarity=sign, threshold=0.6),
                resistor(5, 1, 1e3),
            )
        )

    np.testing.assert_allclose(stage(-1.0), -np.array(stage(1.0)), rtol=1e-9, atol=1e-12)


WIRED = {"ground": (0, 0.05), "supply": (1, 0.05), "signal": (2, 1e3), "nothing": (3, 1e12), "output": (4, 0.05)}
OPEN_COLLECTOR = {"gain": 1e5, "headroom_high": -100.0, "siemens": 0.05, "sink_limit": 0.016}


@pytest.mark.parametrize("stage", [REGULATOR, AMPLIFIER, OPEN_COLLECTOR], ids=["regulator", "amplifier", "comparator"])
def test_a_driver_is_solved_however_its_terminals_are_wired(stage: dict[str, float]) -> None:
    """Every way to wire the rails and inputs to ground, supply, signal, nothing or the output, loaded or not."""
    wirings = [
        circuit(
            source(1, 9.0, ohms=1.7),
            source(2, 3.0),
            resistor(4, 0, load),
            *(resistor(terminal, *WIRED[where]) for terminal, where in zip((5, 6, 7, 8), way, strict=True)),
            driver(4, 5, 6, 7, 8, **stage),
        )
        for way in product(WIRED, repeat=4)
        for load in (100.0, 1e9)
    ]
    batch = stacked(wirings)
    currents = terminal_currents(batch, solved(batch).voltages).drivers

    np.testing.assert_allclose(currents.sum(axis=2), 0.0, atol=1e-12)


def test_derivatives_are_those_of_the_currents() -> None:
    """Central differences on the currents of random circuits at random voltages."""
    network = Mixed.of(senseless_circuits(seed=2, members=100))
    random = np.random.default_rng(4)
    voltages = 0.5 * random.normal(size=(network.members, network.nodes))
    voltages[:, 0] = 0.0

    def currents(at: np.ndarray) -> np.ndarray:
        return network.residual(at, network.respond(network.controls(at)))

    matrix = network.matrix(voltages, network.respond(network.controls(voltages))).dense()
    largest = 1e-3 + np.abs(matrix).max(axis=(1, 2))[:, None]
    for node in range(1, network.nodes):
        step = np.zeros_like(voltages)
        step[:, node] = 1e-6
        slope = (currents(voltages + step) - currents(voltages - step)) / 2e-6

        assert (np.abs(slope - matrix[:, :, node])[:, 1:] <= 1e-6 * largest).all()
