"""Circuits solved at given points: one stack for all, no state left out.

Input: circuits, each with its points; output: for each the volts of its nodes and nets, the amps into its pins, and which
points converged.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from msgspec import Struct, structs
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.models import netlist_of
from checker.operating.netlist import Netlist
from checker.operating.points import Floats, Point
from checker.physics import Solution, Stack, Status, solve, stacked, terminal_currents

LIMIT_IN_SIGHT = 0.9
"""Share of a source's limit from which it is solved as limited: the limit sets in softly."""


class Solved(Struct, frozen=True, eq=False):
    """One circuit at its points: volts by node (P, N) and by net (P, nets), amps by pin (P, pins), converged (P,)."""

    netlist: Netlist
    nodes: Floats
    nets: Floats
    amps: Floats
    fine: NDArray[np.bool_]


def solve_at(circuits: Sequence[Circuit], jobs: Sequence[Sequence[Point]], starts: Sequence[Floats] | None = None,
             attach: Callable[[Netlist, int], None] | None = None, quick: bool = False) -> list[Solved]:
    """Each circuit at the points of its job and at no others, all in one stack; no state is left out as contradictory.
    ``starts`` are node voltages to start from; ``attach`` may add elements to the netlist of the circuit with that number,
    as an instrument does; ``quick`` gives up what is hard to solve."""
    netlists: list[Netlist] = []
    stacks: list[Stack] = []
    owners = []
    for number, (circuit, job) in enumerate(zip(circuits, jobs, strict=True)):
        netlist = netlist_of(circuit, job)
        if attach is not None:
            attach(netlist, number)
        stack, owner = netlist.finished()
        netlists.append(netlist)
        stacks.append(stack)
        owners.append(owner)
    whole = stacked(stacks)
    start = None
    if starts is not None:
        start = np.zeros((whole.members, whole.nodes))
        row = 0
        for given in starts:
            if len(given):
                start[row:row + len(given), :given.shape[1]] = given
            row += len(given)
    solution = _solve_with_limits(whole, start, quick)
    currents = terminal_currents(whole, solution.voltages)
    results = []
    row = 0
    for netlist, owner, job in zip(netlists, owners, jobs, strict=True):
        rows = slice(row, row + len(job))
        amps = np.zeros((len(job), len(netlist.pins) + 1))
        for kind, pins in owner.items():
            flow = getattr(currents, kind)[rows, :len(pins)]
            for number, terminals in enumerate(pins):
                for terminal, pin in enumerate(terminals):
                    if pin >= 0:
                        amps[:, pin] += flow[:, number, terminal]
        nodes = solution.voltages[rows, :netlist.size]
        results.append(Solved(netlist, nodes, _by_net(netlist, nodes), amps, solution.status[rows] == Status.CONVERGED))
        row += len(job)
    return results


def _solve_with_limits(stack: Stack, start: Floats | None, quick: bool) -> Solution:
    """The operating points. Electronic limits make a source a hard thing to solve and are reached in few points: all are
    solved without, and again with them only those whose sources give more."""
    sources = stack.sources
    if not np.isfinite(sources.most).any():
        return solve(stack, start, quick)
    unlimited = structs.replace(stack, sources=structs.replace(sources, most=np.full_like(sources.most, np.inf)))
    solution = solve(unlimited, start, quick)
    rows = np.arange(stack.members)[:, None]
    across = solution.voltages[rows, sources.nodes[..., 0]] - solution.voltages[rows, sources.nodes[..., 1]]
    over = np.flatnonzero(((sources.volts - across) / sources.ohms > sources.most * LIMIT_IN_SIGHT).any(axis=1))
    if len(over):
        again = solve(stack.take(over), solution.voltages[over], quick)
        solution.voltages[over], solution.status[over] = again.voltages, again.status
        solution.iterations[over] += again.iterations
    return solution


def _by_net(netlist: Netlist, nodes: Floats) -> Floats:
    """Volts by net (P, nets); a net without any element stays at 0."""
    volts = np.zeros((len(nodes), len(netlist.circuit.members)))
    for net, node in netlist.net_nodes.items():
        volts[:, net] = nodes[:, node]
    return volts
