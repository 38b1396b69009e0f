"""Circuits of parts of the library, wired at random: every point is solved, and what is reported obeys Kirchhoff's law."""

from __future__ import annotations

from functools import cache

import numpy as np

from checker.operating.operate import Operating, operate
from checker.physics.limits import LEAKAGE
from parts_library import load_library
from parts_library.schema import Bipolar, Diode, Jfet, Led, LedGroup, Mosfet, Thyristor, Zener

from .drawn import drawn_circuits

JUNCTIONS_AND_CHANNELS = (Bipolar, Diode, Jfet, Led, LedGroup, Mosfet, Thyristor, Zener)
COUNT = 200


@cache
def hundreds() -> list[Operating]:
    return operate(drawn_circuits(seed=5, count=COUNT, library=load_library(None)))


def test_every_part_drawn_is_known() -> None:
    assert [part.name for one in hundreds() for part in one.circuit.bench.parts.values() if part.entry is None] == []


def test_every_point_of_every_circuit_converges() -> None:
    assert [number for number, one in enumerate(hundreds()) if not one.converged.all()] == []


def test_the_reported_currents_of_a_net_sum_to_nothing() -> None:
    """To a billionth of them, beyond the leakages that hold what floats: of every net, and of some nodes inside parts."""
    for number, one in enumerate(hundreds()):
        flows = np.zeros((len(one.points), max(one.circuit.pin_net.values()) + 1))
        total = np.zeros_like(flows)
        for pin, column in one.pins.items():
            net = one.circuit.pin_net[pin]
            flows[:, net] += one.amps[:, column]
            total[:, net] += np.abs(one.amps[:, column])
        leaked = 10.0 * LEAKAGE * np.abs(one.volts).sum(axis=1, keepdims=True)
        assert (np.abs(flows) <= 1e-9 * total + leaked + 1e-12).all(), number


def test_at_least_half_of_the_circuits_conduct_through_a_junction_or_channel() -> None:
    conducting = [any(np.abs(one.amps[:, one.pins[key, pin]]).max() > 1e-6
                      for key, part in one.circuit.bench.parts.items() if isinstance(part.entry, JUNCTIONS_AND_CHANNELS)
                      for pin in part.pins) for one in hundreds()]

    assert np.mean(conducting) > 0.5
