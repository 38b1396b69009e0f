"""Members that share their wiring are solved by elimination in a fixed order: the same answers as with dense matrices."""

from __future__ import annotations

import numpy as np
import pytest

from checker.physics import Conductances, Junctions, Sources, Stack, Status, solve
from checker.physics.assemble import Mixed
from checker.physics.elimination import plan_of
from checker.physics.limits import CORE_NODES
from checker.physics.matrix import solved
from checker.physics.shared import Shared
from checker.physics.sparse import Sparse
from checker.physics.wiring import pieces, trimmed
from tests.physics.senseless import senseless_circuits


def repeated(stack: Stack, member: int, times: int) -> Stack:
    return trimmed(stack.take(np.full(times, member)))


def chain(resistors: int, ohms: float = 100.0, volts: float = 9.0, members: int = 1) -> Stack:
    """A source at node 1 and resistors from node to node down to node 0."""
    ends = [(node, node + 1) for node in range(1, resistors)] + [(resistors, 0)]
    return Stack.of(
        resistors + 1, members,
        Conductances(np.broadcast_to(np.array(ends), (members, resistors, 2)), np.full((members, resistors), 1.0 / ohms)),
        Sources(np.broadcast_to(np.array([(1, 0)]), (members, 1, 2)), np.full((members, 1), volts), np.full((members, 1), 1e-3),
                np.full((members, 1), np.inf)))


@pytest.mark.parametrize("member", range(25))
def test_both_forms_have_the_same_equations(member: int) -> None:
    stack = repeated(senseless_circuits(seed=11, members=25), member, 3)
    dense, sparse = Mixed.of(stack), Shared.of(stack)
    voltages = np.random.default_rng(member).normal(size=(3, stack.nodes))
    voltages[:, 0] = 0.0
    met = dense.controls(voltages)

    np.testing.assert_allclose(sparse.controls(voltages), met, atol=1e-12)
    answers = [(network.residual(voltages, network.respond(met)), network.matrix(voltages, network.respond(met)))
               for network in (dense, sparse)]
    scale = 1e-9 * np.abs(answers[0][1].dense()).max()
    np.testing.assert_allclose(answers[1][0][:, 1:], answers[0][0][:, 1:], rtol=1e-9, atol=scale)
    np.testing.assert_allclose(answers[1][1].dense()[:, 1:, 1:], answers[0][1].dense()[:, 1:, 1:], rtol=1e-9, atol=1e-9 * scale)
    # leakage to node 0 is counted twice
    np.testing.assert_allclose(answers[1][1].sizes()[:, 1:], answers[0][1].sizes()[:, 1:], rtol=1e-6, atol=2e-12)


@pytest.mark.parametrize("member", range(25))
def test_both_forms_have_the_same_linear_solution(member: int) -> None:
    stack = repeated(senseless_circuits(seed=12, members=25), member, 2)
    network = Shared.of(stack)
    voltages = np.zeros((2, stack.nodes))
    matrix = network.matrix(voltages, network.respond(network.start())).held(1e-6)
    wanted = np.random.default_rng(member).normal(size=(2, stack.nodes))

    found, singular = matrix.solved(wanted)
    expected, _ = solved(matrix.dense(), wanted)

    assert isinstance(matrix, Sparse)
    assert not singular.any()
    np.testing.assert_allclose(found, expected, rtol=1e-5, atol=1e-5 * np.abs(expected).max())


@pytest.mark.parametrize("resistors", [10, 60, 500])
def test_a_long_chain_divides_its_voltage_evenly(resistors: int) -> None:
    """Kirchhoff's voltage law: node n of N equal resistors stands at V (N - n + 1) / N."""
    solution = solve(chain(resistors, members=4))

    assert (solution.status == Status.CONVERGED).all()
    expected = 9.0 * np.arange(resistors, 0, -1) / resistors
    np.testing.assert_allclose(solution.voltages[:, 1:], np.tile(expected, (4, 1)), rtol=2e-5)


def test_a_hundred_lamps_on_one_rail_are_each_as_one_alone() -> None:
    lamps = 100

    def street(count: int) -> Stack:
        links = [(1, 2 + lamp) for lamp in range(count)]
        return Stack.of(
            2 + count, 1,
            Conductances(np.array([links]), np.full((1, count), 1.0 / 330.0)),
            Sources(np.array([[(1, 0)]]), np.array([[5.0]]), np.array([[1e-4]]), np.array([[np.inf]])),
            Junctions(np.array([[(2 + lamp, 0) for lamp in range(count)]]), np.full((1, count), 1e-18), np.full((1, count), 0.05),
                      np.full((1, count), 3.0), np.full((1, count), 5.0), np.full((1, count), 0.05), np.full((1, count), 10.0),
                      np.full((1, count), 1e-3)))

    one, many = solve(street(1)), solve(street(lamps))

    assert [shares for _, shares in pieces(street(lamps), np.array([0]))] == [True]
    assert [shares for _, shares in pieces(street(1), np.array([0]))] == [False]
    np.testing.assert_allclose(many.voltages[0, 2:], one.voltages[0, 2], rtol=1e-4)


@pytest.mark.parametrize("resistors", [100, 200, 400])
def test_the_work_grows_with_the_nodes_and_not_with_their_cube(resistors: int) -> None:
    network = Shared.of(chain(resistors))
    plan = network.layout.pattern.plan

    assert plan.work < 15 * resistors
    assert len(plan.levels) <= np.log2(resistors) + 2
    assert len(plan.core) <= CORE_NODES


def test_a_plan_is_kept() -> None:
    rows, columns = np.array([0, 0, 1, 1]), np.array([0, 1, 0, 1])

    assert plan_of(rows, columns, 2) is plan_of(rows.copy(), columns.copy(), 2)


def test_an_empty_pivot_is_left_to_dense_pivoting() -> None:
    """A gyrator: each node's current depends on the other's voltage only, so that no node can be eliminated by itself; only
    leakage is on the diagonal."""
    stack = trimmed(chain(8, members=1))
    pattern = Shared.of(stack).layout.pattern
    entries = np.zeros((len(pattern.rows), 1))
    entries[(pattern.rows + 1) == pattern.columns] = 1.0
    entries[pattern.rows == (pattern.columns + 1)] = -1.0
    matrix = Sparse(pattern, entries)
    wanted = np.arange(9.0)[None]

    found, singular = matrix.solved(wanted)

    assert not singular.any()
    np.testing.assert_allclose((matrix.dense()[0] @ found[0])[1:], wanted[0, 1:], atol=1e-12)
