"""Laws that hold whatever the circuit: Kirchhoff's, and the conservation of energy. And that every circuit is
solved."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from checker.physics import Solution, Stack, Status, kirchhoff, solve, terminal_currents
from checker.physics.limits import LEAKAGE
from checker.physics.stack import KINDS

from .senseless import senseless_circuits


@cache
def thousands() -> tuple[Stack, Solution]:
    stack = senseless_circuits(seed=11, members=2_000)
    return stack, solve(stack)


def test_two_thousand_senseless_circuits_all_converge() -> None:
    _, solution = thousands()

    assert np.flatnonzero(solution.status != Status.CONVERGED).tolist() == []


def last_place(stack: Stack, voltages: np.ndarray) -> np.ndarray:
    """Amps (B, N) by which Kirchhoff's sums change when each voltage moves by one unit in its last place: doubles cannot do
    better."""
    here, _ = kirchhoff(stack, voltages)
    changes = np.zeros_like(here)
    for node in range(voltages.shape[1]):
        moved = voltages.copy()
        moved[:, node] = np.nextafter(moved[:, node], np.inf)
        changes += np.abs(kirchhoff(stack, moved)[0] - here)
    return changes


def test_the_current_law_holds_at_every_node() -> None:
    """A billionth of the currents there, and a picoampere; the rest is what the rounding of voltages makes of steep curves."""
    stack, solution = thousands()
    missing, total = kirchhoff(stack, solution.voltages)

    ordinary = np.abs(solution.voltages).max(axis=1) < 1000.0
    assert ordinary.mean() > 0.9
    rounding = 4.0 * last_place(stack, solution.voltages)
    assert (np.abs(missing) <= 1e-9 * total + rounding + 1e-12)[ordinary].all()
    assert np.median(np.abs(missing).max(axis=1)) < 1e-13


def test_at_least_half_of_the_circuits_conduct_through_a_junction_or_channel() -> None:
    """More than a microampere through one: a circuit without is solved by any linear solver."""
    stack, solution = thousands()
    currents = terminal_currents(stack, solution.voltages)
    conducts = [(np.abs(getattr(currents, name)) > 1e-6).any(axis=(1, 2)) for name in ("junctions", "bipolars", "channels")]

    assert np.logical_or.reduce(conducts).mean() > 0.5


def test_currents_into_every_element_sum_to_nothing() -> None:
    stack, solution = thousands()
    currents = terminal_currents(stack, solution.voltages)

    for name in KINDS:
        flows = getattr(currents, name)
        np.testing.assert_allclose(flows.sum(axis=2), 0.0, atol=1e-12 + 1e-13 * np.abs(flows).max(initial=0.0))


def power(stack: Stack, solution: Solution, name: str) -> np.ndarray:
    """Watts into each element of a kind (B, n)."""
    member = np.arange(stack.members)[:, None, None]
    at = solution.voltages[member, getattr(stack, name).nodes]
    watts: np.ndarray = (at * getattr(terminal_currents(stack, solution.voltages), name)).sum(axis=2)
    return watts


def test_what_sources_give_the_other_elements_take() -> None:
    stack, solution = thousands()
    by_kind = [power(stack, solution, name) for name in KINDS]
    leaked = LEAKAGE * (solution.voltages**2).sum(axis=1)
    total = leaked + sum(watts.sum(axis=1) for watts in by_kind)
    throughput = sum(np.abs(watts).sum(axis=1) for watts in by_kind)

    ordinary = np.abs(solution.voltages).max(axis=1) < 100.0
    assert (np.abs(total) <= 1e-7 * throughput + 1e-9)[ordinary].all()


@pytest.mark.parametrize("name", ["conductances", "junctions", "bipolars", "channels", "drivers"])
def test_passive_elements_never_give_power(name: str) -> None:
    stack, solution = thousands()
    watts = power(stack, solution, name)
    largest = np.abs(solution.voltages).max(axis=1, keepdims=True)

    assert (watts >= -1e-6 - 1e-8 * largest).all()
