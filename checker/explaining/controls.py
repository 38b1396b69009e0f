"""Controls: the pins that the program drives and the buttons, and whether anything heeds them.

A control is heeded where its change moves a load, a light, a coil or something that is read. Input: a circuit with its
operating points; output: names of controls, such as "u1.d9".
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.operate import Operating
from checker.operating.points import Floats
from checker.operating.variables import stiff_nets
from checker.rules.case import LIGHTS_AND_LOADS
from checker.rules.loads import rated_amps
from parts_library.schema import Bipolar, Chip, Controller, Jfet, Mosfet, Relay, Switch, Thyristor

LEAST_AMPS, LEAST_SHARE = 1e-4, 0.05
"""A load heeds a control that moves its current by a tenth of a milliamp and a twentieth of what it is made for."""

LEAST_VOLTS = 0.2
"""A reader heeds a control that moves its voltage by this much: less is a supply that gives way a little."""

READ_ROLES = {"input", "pullup", "analog"}


def wired_controls(circuit: Circuit) -> dict[str, tuple[str, str]]:
    """Name and (part, a pin) of each control that shares a net with another pin: driven pins without a fixed level, and
    momentary buttons."""
    controls = {}
    for (key, pin), (roles, _) in circuit.bench.roles.items():
        is_driven = set(roles) & {"output", "pwm"} and not set(roles) & {"high", "low"}
        if is_driven and (key, pin) in circuit.pin_net and len(circuit.pins_on[circuit.pin_net[key, pin]]) > 1:
            controls[f"{key}.{pin}".lower()] = key, pin
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, Switch) and part.entry.momentary and all(
                len(circuit.pins_on[circuit.pin_net[key, pin]]) > 1 for pin in part.pins[:1] + part.pins[-1:]):
            controls[key] = key, part.pins[0]
    return controls


def heeded(operating: Operating) -> frozenset[str]:
    """The controls that something heeds in nominal states."""
    at = np.flatnonzero(operating.mask("nominal") & operating.converged)
    states = [_deliberate(operating.circuit, operating.points[i].state) for i in at]
    seen = list(_observed(operating, at))
    return frozenset(name for name in wired_controls(operating.circuit)
                     if any(_moves(operating, states, name, key, values, least) for key, values, least in seen))


def _deliberate(circuit: Circuit, state: dict[str, str]) -> dict[str, str]:
    """What is set from outside: not what a coil or a chip does by itself. Names in lower case."""
    return {name.lower(): option for name, option in state.items()
            if not isinstance(part := circuit.bench.parts.get(name.lower().partition(".")[0]), type(None))
            and not isinstance(part.entry, Relay | Thyristor | Chip)}


def _observed(operating: Operating, at: NDArray[np.intp]) -> Iterator[tuple[str, Floats, float]]:
    """Part, values at the points and the least change that counts: currents of loads, voltages that are read."""
    circuit = operating.circuit
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, LIGHTS_AND_LOADS):
            least = max(LEAST_AMPS, LEAST_SHARE * rated_amps(part))
            for pin in part.load_pins:
                yield key, operating.amps_into(key, pin)[at], least
        elif isinstance(part.entry, Chip):
            ground = part.entry.ground if part.entry.ground in part.pins else None
            for pin in {pin for group in part.entry.inputs for pin in group.pins} | {
                    end for stage in part.entry.amplifiers for end in (stage.plus, stage.minus)}:
                yield key, _volts(operating, key, pin, ground)[at], LEAST_VOLTS
    for (key, pin), (roles, _) in circuit.bench.roles.items():
        if set(roles) & READ_ROLES and isinstance(circuit.bench.parts[key].entry, Controller):
            yield key, _volts(operating, key, pin, "GND")[at], LEAST_VOLTS


def _volts(operating: Operating, key: str, pin: str, ground: str | None) -> Floats:
    if (key, pin) not in operating.circuit.pin_net:
        return np.zeros(len(operating.points))
    volts = operating.volts_at(key, pin)
    return volts - operating.volts_at(key, ground) if ground else volts


def _moves(operating: Operating, states: list[dict[str, str]], name: str, key: str, values: Floats, least: float) -> bool:
    """True where a value differs between two states that differ, among what is near the part, in one control only."""
    near = operating.plan.near.get(key)
    names = None if near is None else {one.lower() for one in near}
    if names is not None and name not in names:
        return False
    first: dict[frozenset[tuple[str, str]], float] = {}
    for state, value in zip(states, values, strict=True):
        rest = frozenset((k, v) for k, v in state.items() if k != name and (names is None or k in names))
        if abs(first.setdefault(rest, float(value)) - float(value)) > least:
            return True
    return False


SWITCHING = (Bipolar, Mosfet, Jfet, Thyristor, Relay, Chip)
"""What a control is usually wired to switch a load by."""


def runs_for_ever(circuit: Circuit, load: str, idle: dict[str, tuple[str, str]]) -> bool:
    """True where a load that is never off was meant to be switched by one of the idle controls: the control reaches the
    load, or reaches no load at all while the load hangs on something that switches."""
    graph = _reaching(circuit)
    reach = [_reached(circuit, graph, name, *where) for name, where in idle.items()]
    if any(load in parts for parts in reach):
        return True
    beside = nx.node_connected_component(graph, load) if load in graph else set()
    is_switched = any(isinstance(node, str) and isinstance(circuit.part(node).entry, SWITCHING) for node in beside)
    return is_switched and any(not any(isinstance(circuit.part(key).entry, LIGHTS_AND_LOADS) for key in parts) for parts in reach)


def _reaching(circuit: Circuit) -> nx.Graph[object]:
    """Parts and the nets that no source holds."""
    graph: nx.Graph[object] = nx.Graph()
    stiff = stiff_nets(circuit)
    for (key, _), net in circuit.pin_net.items():
        part = circuit.part(key)
        if net not in stiff and not part.is_controller and not part.is_supply:
            graph.add_edge(net, key)
    return graph


def _reached(circuit: Circuit, graph: nx.Graph[object], name: str, key: str, pin: str) -> set[str]:
    """The parts that a control reaches without passing a net that a source holds."""
    pins = (pin,) if "." in name else circuit.part(key).pins
    nets = [net for one in pins if (net := circuit.pin_net[key, one]) in graph]
    return {node for net in nets for node in nx.node_connected_component(graph, net) if isinstance(node, str)}
