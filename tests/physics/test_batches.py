"""What a batch promises: members do not see each other, each has its own status, padding does nothing."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec import structs

from checker.physics import Conductances, Junctions, Stack, Status, solve, stacked, terminal_currents
from checker.physics.stack import KINDS

from .circuits import AMPLIFIER, bipolar, circuit, driver, forced, junction, resistor, solved, source, transfer
from .senseless import senseless_circuits

LAMP = circuit(source(1, 9.0, ohms=1.7), resistor(1, 2, 330.0), junction(2, 0))
SWITCH = circuit(
    source(1, 9.0),
    source(2, 5.0, ohms=25.0),
    resistor(2, 3, 1e3),
    resistor(1, 4, 100.0),
    bipolar(4, 3, 0),
    junction(4, 1),
)
FOLLOWER = circuit(source(1, 9.0), source(2, 3.0), resistor(3, 0, 1e3), driver(3, 1, 0, 2, 3, **AMPLIFIER))
# Nothing but a negative conductance that takes the leakage away: any voltage would do.
SINGULAR = circuit(transfer(1, 0, 1, 0, siemens=-1e-12))
# A diode less a conductance, plus a current: a convex curve whose lowest point is above 0.
UNSOLVABLE = circuit(junction(1, 0, ohms=0.1), transfer(1, 0, 1, 0, siemens=-2.0), forced(1, 0, 10.0))


def not_a_number(stack: Stack) -> Stack:
    return structs.replace(stack, conductances=structs.replace(stack.conductances, siemens=stack.conductances.siemens * np.nan))


def close(found: np.ndarray, expected: np.ndarray) -> None:
    np.testing.assert_allclose(found, expected, rtol=1e-8, atol=1e-8)


def test_one_batch_can_end_in_every_status() -> None:
    batch = stacked([LAMP, UNSOLVABLE, SINGULAR, not_a_number(LAMP)])

    assert solve(batch).status.tolist() == [Status.CONVERGED, Status.SPENT, Status.SINGULAR, Status.NOT_FINITE]
    assert len(Status) == 4


@pytest.mark.parametrize("bad", [SINGULAR, UNSOLVABLE, not_a_number(LAMP)], ids=["singular", "unsolvable", "NaN"])
def test_a_bad_member_does_not_spoil_its_neighbours(bad: Stack) -> None:
    solution = solve(stacked([LAMP, bad, SWITCH, FOLLOWER]))

    assert solution.status[[0, 2, 3]].tolist() == [Status.CONVERGED] * 3
    for member, alone in ((0, LAMP), (2, SWITCH), (3, FOLLOWER)):
        close(solution.voltages[member, : alone.nodes], solved(alone).voltages[0])


def test_a_member_that_is_not_a_number_has_no_voltages() -> None:
    solution = solve(not_a_number(LAMP))

    assert np.isnan(solution.voltages).all()
    assert np.isnan(solution.residual).all()
    assert solution.iterations.tolist() == [0]


def test_a_batch_gives_what_its_members_give_one_at_a_time() -> None:
    stack = senseless_circuits(seed=5, members=60)
    whole = solve(stack)
    alone = [solve(stack.take([member])) for member in range(stack.members)]

    assert [int(one.status[0]) for one in alone] == whole.status.tolist()
    # A latch may fall either way, so voltages are compared where rounding cannot decide: everything the plain way
    # solves.
    plain = np.flatnonzero(whole.iterations <= 16)
    assert len(plain) > 30
    assert [int(alone[member].iterations[0]) for member in plain] == whole.iterations[plain].tolist()
    for member in plain:
        np.testing.assert_allclose(alone[member].voltages[0], whole.voltages[member], rtol=1e-6, atol=2e-3)


def test_the_order_of_members_does_not_matter() -> None:
    batch = stacked([LAMP, SWITCH, FOLLOWER, LAMP])
    order = [2, 0, 3, 1]
    forward, shuffled = solve(batch), solve(batch.take(order))

    close(shuffled.voltages, forward.voltages[order])
    assert shuffled.iterations.tolist() == forward.iterations[order].tolist()


def test_stacking_pads_with_elements_that_do_nothing() -> None:
    batch = stacked([LAMP, SWITCH])

    assert (batch.nodes, batch.members) == (5, 2)
    assert (batch.bipolars.nodes[0] == 0).all()
    currents = terminal_currents(batch, solved(batch).voltages)
    for name in KINDS:
        nodes = getattr(batch, name).nodes
        padding = (nodes == 0).all(axis=2)
        assert (getattr(currents, name)[padding] == 0.0).all(), name


@pytest.mark.parametrize("name", KINDS)
def test_padding_of_every_kind_is_finite_and_complete(name: str) -> None:
    padding = KINDS[name].padding(3, 2)

    assert padding.finite().all()
    assert set(padding.__struct_fields__) == {"nodes", *padding.HARMLESS}
    assert padding.nodes.shape == (3, 2, padding.TERMINALS)


def test_nothing_cannot_be_stacked() -> None:
    with pytest.raises(ValueError, match="nothing to stack"):
        stacked([])


@pytest.mark.parametrize("stack", [LAMP, SWITCH, FOLLOWER], ids=["lamp", "switch", "follower"])
def test_a_start_at_the_solution_saves_iterations_and_changes_nothing(stack: Stack) -> None:
    first = solved(stack)
    again = solve(stack, start=first.voltages)

    assert again.iterations[0] <= 2 < first.iterations[0]
    close(again.voltages, first.voltages)


def test_a_start_that_is_absurd_does_no_harm() -> None:
    for start in (np.full((1, SWITCH.nodes), 1e3), np.full((1, SWITCH.nodes), np.nan)):
        start[:, 0] = 0.0

        close(solve(SWITCH, start=start).voltages, solved(SWITCH).voltages)


def test_an_island_without_any_connection_rests_at_nothing() -> None:
    stack = circuit(source(1, 5.0), resistor(1, 0, 1e3), resistor(2, 3, 0.05))

    assert solved(stack).voltages[0, 2:].tolist() == [0.0, 0.0]


def test_an_island_with_a_source_of_its_own_has_its_voltage_across() -> None:
    stack = circuit(source(1, 5.0, minus=2, ohms=1.0), resistor(1, 2, 99.0))
    plus, minus = solved(stack).voltages[0, 1:]

    assert plus - minus == pytest.approx(4.95)


def test_a_current_forced_into_an_open_end_sparks_over() -> None:
    assert solved(circuit(forced(0, 1, 0.2))).voltages[0, 1] == pytest.approx(10_000.2)


def test_elements_may_share_one_row_of_nodes_by_broadcasting() -> None:
    members = 3
    nodes = np.broadcast_to(np.array([[[1, 0]]]), (members, 1, 2))
    supply = stacked([circuit(source(1, 5.0, ohms=10.0))] * members).sources
    stack = Stack.of(2, members, supply, Conductances(nodes, np.array([[0.1], [0.2], [0.3]])))

    close(solved(stack).voltages[:, 1], 5.0 / (1.0 + 10.0 * np.array([0.1, 0.2, 0.3])))
    assert Junctions.padding(2, 0).take([1]).members == 1
