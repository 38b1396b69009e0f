"""Short ways to write small circuits for the tests: one call an element, one member a stack."""

from __future__ import annotations

from typing import Any

import numpy as np

from checker.physics import (
    Bipolars,
    Channels,
    Conductances,
    Drivers,
    Elements,
    Forced,
    Junctions,
    Solution,
    Sources,
    Stack,
    Status,
    Transfers,
    solve,
)

SILICON: dict[str, float] = {"saturation": 1e-14, "slope": 0.02585, "ohms": 0.5}
RED_LED: dict[str, float] = {"saturation": 1e-18, "slope": 0.05, "ohms": 3.0, "breakdown": 5.0}
NPN: dict[str, float] = {"saturation": 1e-14, "slope": 0.02585, "gain": 200.0, "reverse_gain": 4.0, "knee": 0.5}
AMPLIFIER: dict[str, float] = {
    "gain": 1e5,
    "headroom_high": 1.5,
    "headroom_low": 0.05,
    "siemens": 0.02,
    "source_limit": 0.02,
    "sink_limit": 0.02,
}


def element(kind: type[Elements], nodes: tuple[int, ...], **values: float) -> Elements:
    """One element in one member; parameters not given are those of padding."""
    chosen: Any = {name: np.array([[values.pop(name, usual)]]) for name, usual in kind.HARMLESS.items()}
    assert not values, f"{kind.__name__} has no {', '.join(values)}"
    return kind(np.array([[nodes]]), **chosen)


def resistor(one: int, other: int, ohms: float) -> Elements:
    return element(Conductances, (one, other), siemens=1.0 / ohms)


def source(plus: int, volts: float, ohms: float = 0.1, most: float = np.inf, minus: int = 0) -> Elements:
    return element(Sources, (plus, minus), volts=volts, ohms=ohms, most=most)


def forced(leaves: int, enters: int, amps: float) -> Elements:
    return element(Forced, (leaves, enters), amps=amps)


def junction(anode: int, cathode: int, **values: float) -> Elements:
    return element(Junctions, (anode, cathode), **(SILICON | values))


def bipolar(collector: int, base: int, emitter: int, **values: float) -> Elements:
    return element(Bipolars, (collector, base, emitter), **(NPN | values))


def channel(drain: int, gate: int, origin: int, **values: float) -> Elements:
    return element(Channels, (drain, gate, origin), **values)


def transfer(sensed_plus: int, sensed_minus: int, leaves: int, enters: int, siemens: float) -> Elements:
    return element(Transfers, (sensed_plus, sensed_minus, leaves, enters), siemens=siemens)


def driver(out: int, high: int, low: int, plus: int, minus: int, **values: float) -> Elements:
    return element(Drivers, (out, high, low, plus, minus), **values)


def circuit(*elements: Elements) -> Stack:
    """A stack of one member; nodes are counted from the elements."""
    nodes = 1 + max(int(one.nodes.max()) for one in elements)
    by_kind: dict[type[Elements], list[Elements]] = {}
    for one in elements:
        by_kind.setdefault(type(one), []).append(one)
    return Stack.of(nodes, 1, *(_side_by_side(kind, ones) for kind, ones in by_kind.items()))


def _side_by_side(kind: type[Elements], ones: list[Elements]) -> Elements:
    values: Any = {name: np.concatenate([getattr(one, name) for one in ones], axis=1) for name in kind.HARMLESS}
    return kind(np.concatenate([one.nodes for one in ones], axis=1), **values)


def solved(stack: Stack) -> Solution:
    """The solution, which must have converged for every member."""
    solution = solve(stack)
    assert (solution.status == Status.CONVERGED).all()
    return solution


def volts(stack: Stack, member: int = 0) -> list[float]:
    """Node voltages of one member."""
    voltages: list[float] = solved(stack).voltages[member].tolist()
    return voltages
