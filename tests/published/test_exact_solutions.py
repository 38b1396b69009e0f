"""The report agrees to 1e-6 with exact solutions and with independent ones, from the text to the JSON.

Resistor networks: effective resistance of a graph (Klein and Randic 1993, as networkx computes it) and exact nodal
analysis in rational numbers (sympy). One diode: the Lambert W function (Banwell and Jayakumar, Electronics Letters 36,
2000). Transistors, zener and MOSFET: their equations written out below, with other unknowns than the tool has, solved by
scipy. The parameters are the ones that the tool fits to the datasheet points of its library.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from typing import Any

import networkx as nx
import numpy as np
import pytest
import sympy
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, root
from scipy.spatial import Delaunay
from scipy.special import lambertw

from checker import check
from checker.operating.fit import JunctionModel, bipolar_model, channel_model, junction_from
from checker.report import json_format
from checker.report.page import Page
from parts_library import load_library
from parts_library.schema import Bipolar, Diode, Led, Mosfet, Zener

# Inside of every supply, ohms: written in the list, so that the independent solution has it too.
INSIDE = 0.5
ENTRIES = load_library(None).entries


def states_of(lines: str, phase: str = "steady") -> list[dict[str, Any]]:
    """The states of the JSON report on a list."""
    states = json.loads(json_format.render([check(lines)], Page()))["states"]
    return [state for state in states if state["phase"] == phase]


def entry_of(name: str) -> Any:
    return next(entry for entry in ENTRIES.values() if entry.name.lower() == name.lower())


def solved(equations: Callable[[Any], list[float]], start: list[float]) -> Any:
    """A root of the equations; what is none is refused."""
    solution = root(equations, start, method="hybr", options={"xtol": 1e-14})
    assert np.abs(equations(solution.x)).max() < 1e-10, solution
    return solution.x


# ── resistor networks ─────────────────────────────────────────────────────────────────────────────────────────────


def planar_network(nodes: int, chance: random.Random) -> nx.Graph:
    """A triangulation of random points, some edges left out where it stays in one piece."""
    points = np.array([(chance.random(), chance.random()) for _ in range(nodes)])
    graph = nx.Graph((int(a), int(b)) for corner in Delaunay(points).simplices for a, b in zip(corner, np.roll(corner, 1)))
    for edge in chance.sample(sorted(graph.edges), nodes // 2):
        graph.remove_edge(*edge)
        if not nx.is_connected(graph):
            graph.add_edge(*edge)
    return graph


def tangled_network(nodes: int, chance: random.Random) -> nx.Graph:
    """A random graph that no flat board could hold without crossings."""
    while True:
        graph = nx.gnm_random_graph(nodes, 3 * nodes, seed=chance.randrange(10**9))
        if nx.is_connected(graph) and not nx.check_planarity(graph)[0]:
            return graph


def with_resistors(graph: nx.Graph, chance: random.Random) -> nx.Graph:
    """The network with its edges named R1, R2 … and given whole ohms over three decades."""
    for number, (one, other) in enumerate(sorted(graph.edges), 1):
        graph.edges[one, other].update(name=f"R{number}", ohms=chance.choice([10, 100, 1000]) * chance.randint(10, 99))
    return graph


def network_list(graph: nx.Graph, volts: int) -> str:
    """The network as a connection list: nodes are @n0, @n1 …, the supply is on the first and the last."""
    lines = [f"supply B1 {volts}V {INSIDE}ohm", "wire B1.+ to @n0", f"wire B1.- to @n{max(graph.nodes)}"]
    for one, other, edge in graph.edges(data=True):
        one, other = sorted((one, other))
        name = edge["name"]
        lines += [f"part {name} resistor {edge['ohms']}ohm 5W", f"wire {name}.1 to @n{one}", f"wire {name}.2 to @n{other}"]
    return "\n".join(lines) + "\n"


NETWORKS = [(kind, nodes) for kind, sizes in ((planar_network, range(3, 13)), (tangled_network, range(6, 13))) for nodes in sizes]


def network(kind: Callable[[int, random.Random], nx.Graph], nodes: int) -> nx.Graph:
    chance = random.Random(f"{kind.__name__} {nodes}")
    return with_resistors(kind(nodes, chance), chance)


@pytest.mark.parametrize(("kind", "nodes"), NETWORKS)
def test_a_network_has_the_effective_resistance_of_its_graph(kind: Callable[..., nx.Graph], nodes: int) -> None:
    graph = network(kind, nodes)
    expected = nx.resistance_distance(graph, 0, max(graph.nodes), weight="ohms", invert_weight=True)

    (state,) = states_of(network_list(graph, 5))

    assert -(state["voltages"]["B1.+"] - state["voltages"]["B1.-"]) / state["currents"]["B1"] == pytest.approx(expected, rel=1e-6)


def exact_potentials(graph: nx.Graph, volts: int) -> dict[int, float]:
    """Nodal analysis in rational numbers; the last node is at 0, the supply drives the first through its inside."""
    last = max(graph.nodes)
    free = [node for node in sorted(graph.nodes) if node != last]
    place = {node: number for number, node in enumerate(free)}
    matrix, right = sympy.zeros(len(free), len(free)), sympy.zeros(len(free), 1)
    for one, other, edge in graph.edges(data=True):
        siemens = sympy.Rational(1, edge["ohms"])
        for near, far in ((one, other), (other, one)):
            if near != last:
                matrix[place[near], place[near]] += siemens
                if far != last:
                    matrix[place[near], place[far]] -= siemens
    inside = 1 / sympy.Rational(str(INSIDE))
    matrix[place[0], place[0]] += inside
    right[place[0]] = volts * inside
    return {**{node: float(value) for node, value in zip(free, matrix.LUsolve(right))}, last: 0.0}


@pytest.mark.parametrize(("kind", "nodes"), NETWORKS[::2])
def test_every_node_of_a_network_is_where_exact_arithmetic_puts_it(kind: Callable[..., nx.Graph], nodes: int) -> None:
    graph = network(kind, nodes)
    potentials = exact_potentials(graph, 5)

    (state,) = states_of(network_list(graph, 5))
    ground = state["voltages"]["B1.-"]
    found = {edge["name"]: (state["voltages"][f"{edge['name']}.1"] - ground, state["currents"][edge["name"]])
             for _, _, edge in graph.edges(data=True)}

    for one, other, edge in graph.edges(data=True):
        low, high = sorted((one, other))
        through = (potentials[low] - potentials[high]) / edge["ohms"]
        assert found[edge["name"]] == pytest.approx((potentials[low], through), rel=1e-6, abs=1e-9)


# ── one diode and a resistor ──────────────────────────────────────────────────────────────────────────────────────


def diode_amps(model: JunctionModel, volts: float, ohms: float) -> float:
    """i = (n V_T / R) W((I_s R / n V_T) exp((V + I_s R) / n V_T)) - I_s, R being all resistance in the loop."""
    whole = ohms + INSIDE + model.ohms
    exponent = np.log(model.saturation * whole / model.slope) + (volts + model.saturation * whole) / model.slope
    if exponent < 500.0:
        omega = float(lambertw(np.exp(exponent)).real)
    else:
        # exp would overflow: the defining equation w + ln w = exponent instead
        omega = float(brentq(lambda w: w + np.log(w) - exponent, 1.0, exponent, xtol=1e-12, rtol=1e-14))
    return omega * model.slope / whole - model.saturation


@pytest.mark.parametrize("ohms", [10, 470, 22_000, 1_000_000])
@pytest.mark.parametrize("volts", [0.5, 1.5, 5, 12, 24])
@pytest.mark.parametrize("name", ["1N4148", "1N4001", "1N5819", "led red", "led blue"])
def test_a_diode_and_a_resistor_obey_the_lambert_function(name: str, volts: float, ohms: int) -> None:
    entry = entry_of(name)
    assert isinstance(entry, Diode | Led)
    model = junction_from(entry.forward, most_emission=8.0 if isinstance(entry, Led) else 4.0)
    expected = diode_amps(model, volts, ohms)

    (state,) = states_of(f"""
supply B1 {volts}V {INSIDE}ohm
part R1 {ohms}ohm 100W
part D1 {name}
wire B1.+ to R1.1
wire R1.2 to D1.A
wire D1.K to B1.-
""")

    # a leakage of 1 pS from every node to ground is part of the tool's model: picoamps
    assert state["currents"]["D1"] == pytest.approx(expected, rel=1e-6, abs=3e-11)


# ── transistors ───────────────────────────────────────────────────────────────────────────────────────────────────


class EbersMoll:
    """The transport model of an NPN, its two junction currents as unknowns: a forward and a reverse flow, in logarithms,
    from which voltages follow. Base charge q = (1 + sqrt(1 + 4 F / knee)) / 2 (Gummel and Poon 1970, without Early effect)."""

    def __init__(self, name: str) -> None:
        entry = entry_of(name)
        assert isinstance(entry, Bipolar)
        self.model = bipolar_model(entry)

    def at(self, forward_log: float, reverse_log: float) -> tuple[float, float, float, float]:
        """Collector and base current into the legs, base-emitter and base-collector voltage at the legs."""
        model = self.model
        forward, reverse = np.exp(forward_log), np.exp(reverse_log)
        charge = (1 + np.sqrt(1 + 4 * (forward - model.saturation) / model.knee)) / 2
        collector = (forward - reverse) / charge - (reverse - model.saturation) / model.reverse_gain[1]
        base = (forward - model.saturation) / model.gain[1] + (reverse - model.saturation) / model.reverse_gain[1]
        across_emitter = model.slope * (forward_log - np.log(model.saturation)) + base * model.base_ohms
        across_collector = model.slope * (reverse_log - np.log(model.saturation)) + base * model.base_ohms
        across_collector -= collector * model.collector_ohms
        return collector, base, across_emitter, across_collector

    def guess(self, collector: float, base: float) -> list[float]:
        """The flows that give these currents where the base charge is one; the reverse one is small if they cannot."""
        gain, reverse_gain = self.model.gain[1], self.model.reverse_gain[1]
        reverse = (base - collector / gain) / (1 / reverse_gain + (1 + 1 / reverse_gain) / gain)
        reverse = max(reverse, 1e-6 * collector)
        return [float(np.log(collector + reverse * (1 + 1 / reverse_gain))), float(np.log(reverse))]


@pytest.mark.parametrize("name", ["PN2222A", "2N3904", "BC547", "BC337", "TIP31", "BD139"])
@pytest.mark.parametrize(
    ("volts", "load", "base_ohms"), [(5, 220, 4700), (5, 1000, 22_000), (9, 470, 100_000), (12, 2200, 10_000)])
def test_a_transistor_switch_is_where_ebers_and_moll_put_it(name: str, volts: int, load: int, base_ohms: int) -> None:
    transistor = EbersMoll(name)

    def equations(flows: Any) -> list[float]:
        collector, base, across_emitter, across_collector = transistor.at(*flows)
        rail = volts - INSIDE * (collector + base)
        return [rail - base_ohms * base - across_emitter, rail - load * collector - (across_emitter - across_collector)]

    flows = solved(equations, transistor.guess(volts / load, (volts - 0.7) / base_ohms))
    collector, base, across_emitter, across_collector = transistor.at(*flows)

    (state,) = states_of(f"""
supply B1 {volts}V {INSIDE}ohm
part R1 {load}ohm 5W
part R2 {base_ohms}ohm
part Q1 {name}
wire B1.+ to R1.1 to R2.1
wire R1.2 to Q1.C
wire R2.2 to Q1.B
wire Q1.E to B1.-
""")

    assert state["currents"]["Q1.C"] == pytest.approx(collector, rel=1e-6)
    assert state["currents"]["Q1.B"] == pytest.approx(base, rel=1e-6)
    assert state["voltages"]["Q1.B"] == pytest.approx(across_emitter, rel=1e-6)
    assert state["voltages"]["Q1.C"] == pytest.approx(across_emitter - across_collector, rel=1e-6)


@pytest.mark.parametrize("name", ["PN2222A", "2N3904", "BC337"])
@pytest.mark.parametrize(
    ("volts", "upper", "lower", "load"), [(5, 1000, 4700, 220), (9, 10_000, 10_000, 1000), (12, 4700, 2200, 470)])
def test_an_emitter_follower_is_where_ebers_and_moll_put_it(name: str, volts: int, upper: int, lower: int, load: int) -> None:
    transistor = EbersMoll(name)

    def equations(unknown: Any) -> list[float]:
        # the collector junction is cut off: no reverse flow
        forward_log, base_volts = unknown
        collector, base, across_emitter, _ = transistor.at(forward_log, -np.inf)
        through_lower = base_volts / lower
        rail = volts - INSIDE * (collector + base + through_lower)
        return [base_volts - across_emitter - load * (collector + base), (rail - base_volts) / upper - through_lower - base]

    forward_log, base_volts = solved(equations, [np.log(0.3 * volts / load), volts * lower / (upper + lower)])
    collector, base, across_emitter, _ = transistor.at(forward_log, -np.inf)

    (state,) = states_of(f"""
supply B1 {volts}V {INSIDE}ohm
part R1 {upper}ohm
part R2 {lower}ohm
part R3 {load}ohm 5W
part Q1 {name}
wire B1.+ to R1.1 to Q1.C
wire R1.2 to R2.1 to Q1.B
wire Q1.E to R3.1
wire R3.2 to R2.2 to B1.-
""")

    assert state["voltages"]["Q1.B"] == pytest.approx(base_volts, rel=1e-6)
    assert state["voltages"]["Q1.E"] == pytest.approx(base_volts - across_emitter, rel=1e-6)
    assert state["currents"]["Q1.C"] == pytest.approx(collector, rel=1e-6)
    assert state["currents"]["Q1.B"] == pytest.approx(base, rel=1e-6)


@pytest.mark.parametrize(("name", "load", "gate"), [
    ("2N7000", 100, 5), ("2N7000", 47, 10), ("BS170", 220, 3), ("IRLZ44N", 10, 5), ("IRF540N", 22, 10)])
def test_a_mosfet_switch_is_where_the_square_law_puts_it(name: str, load: int, gate: int) -> None:
    """I = K/2 (F(vgs - vt)² - F(vgd - vt)²) with F(x) = s ln(1 + exp(x/s)), s = 60 mV, behind a fixed resistance."""
    entry = entry_of(name)
    assert isinstance(entry, Mosfet)
    model = channel_model(entry)

    def overdrive(volts: float) -> float:
        return 0.06 * float(np.logaddexp(0.0, (volts - model.threshold[1]) / 0.06))

    def drain(inside: float) -> float:
        return 0.5 * model.transconductance[1] * (overdrive(gate) ** 2 - overdrive(gate - inside) ** 2)

    inside = brentq(lambda v: 12 - drain(v) * (load + INSIDE + model.ohms) - v, 0.0, 12.0, xtol=1e-15, rtol=1e-15)

    (state,) = states_of(f"""
supply B1 12V {INSIDE}ohm
supply B2 {gate}V {INSIDE}ohm
part R1 {load}ohm 50W
part Q1 {name}
wire B1.+ to R1.1
wire R1.2 to Q1.D
wire B2.+ to Q1.G
wire Q1.S to B1.- to B2.-
""")

    assert state["currents"]["Q1.D"] == pytest.approx(drain(inside), rel=1e-6)
    assert state["voltages"]["Q1.D"] == pytest.approx(inside + drain(inside) * model.ohms, rel=1e-6)


# ── zener and coil ────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("name", ["BZX79C5V1", "1N4733A", "BZX55C12", "1N4742A"])
@pytest.mark.parametrize(("volts", "series", "load"), [(18, 470, 10_000), (24, 220, 1000), (30, 1000, 2200)])
def test_a_zener_regulator_is_where_its_curve_and_the_load_line_meet(name: str, volts: int, series: int, load: int) -> None:
    """v = V_Z + r (i - I_Z) + 50 mV ln(i / I_Z): an exponential and the rest of the sheet's impedance, through V_Z at I_Z."""
    entry = entry_of(name)
    assert isinstance(entry, Zener)
    at, slope = float(entry.test_current or 0), 0.05
    rest = max(float(entry.impedance or 0) - slope / at, 0.2)

    def curve(amps: float) -> float:
        return float(entry.voltage or 0) + rest * (amps - at) + slope * float(np.log(amps / at))

    def left_over(amps: float) -> float:
        return (volts - curve(amps)) / (series + INSIDE) - curve(amps) / load - amps

    amps = brentq(left_over, 1e-9, volts / series, xtol=1e-18, rtol=1e-14)

    (state,) = states_of(f"""
supply B1 {volts}V {INSIDE}ohm
part R1 {series}ohm 5W
part R2 {load}ohm 5W
part D1 {name}
wire B1.+ to R1.1
wire R1.2 to D1.K to R2.1
wire D1.A to R2.2 to B1.-
""")

    assert state["voltages"]["D1.K"] - state["voltages"]["D1.A"] == pytest.approx(curve(amps), rel=1e-6)
    assert state["currents"]["D1"] == pytest.approx(-amps, rel=1e-6)


@pytest.mark.parametrize("diode", ["1N4001", "1N4148", "1N5819"])
@pytest.mark.parametrize(("volts", "ohms", "henries"), [(5, 70, "100mH"), (12, 400, "450mH"), (24, 1600, "2H")])
def test_a_coil_dies_through_its_diode_from_the_reported_voltage(diode: str, volts: int, ohms: int, henries: str) -> None:
    """L di/dt = -(R i + v(i)) from the current before; the coil's voltage is highest at the very moment of switching off."""
    entry = entry_of(diode)
    model = junction_from(entry.forward)
    lines = f"""
supply B1 {volts}V {INSIDE}ohm
part S1 button
part K1 relay {volts}V {ohms}ohm {henries}
part D1 {diode}
wire B1.+ to S1.1
wire S1.3 to K1.A1 to D1.K
wire K1.A2 to B1.- to D1.A
"""

    def diode_volts(amps: float) -> float:
        return model.slope * float(np.log1p(max(amps, 0.0) / model.saturation)) + model.ohms * amps

    before = max(state["currents"]["K1.A1"] for state in states_of(lines))
    (state,) = states_of(lines, "switch-off")
    inductance = float(henries.removesuffix("mH")) / 1000 if henries.endswith("mH") else float(henries.removesuffix("H"))
    decay = solve_ivp(lambda _, i: [-(ohms * i[0] + diode_volts(i[0])) / inductance], (0.0, 5 * inductance / ohms), [before],
                      rtol=1e-9, atol=1e-12)
    peak = max(diode_volts(amps) for amps in decay.y[0])
    found = state["voltages"]["D1.A"] - state["voltages"]["D1.K"]

    assert decay.y[0][-1] < 1e-2 * before
    assert found == pytest.approx(peak, rel=1e-3)
    # exact once the arc that the tool puts across every coil (its current at 1000 V) is counted too
    exact = brentq(lambda v: diode_volts(before) - v, 0.0, 2.0, xtol=1e-15)
    assert found == pytest.approx(exact, rel=1e-6)
