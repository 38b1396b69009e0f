"""Operating points: every circuit in every state and corner, and at the switching-off of its coils.

Input is a list of circuits (readings of one list, or of several); output one ``Operating`` each. All circuits are solved
as one stack, in three rounds: nominal states, from which contradictory ones are dropped; all corners, started from the
nominal solution; and for every coil the moments in which it can be switched off.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.consistent import agreements, consistent
from checker.operating.corners import BY_NAME, NOMINAL, corners_for
from checker.operating.models import add_part, coil_henries
from checker.operating.netlist import Netlist
from checker.operating.points import Floats, Point, Points, State
from checker.operating.variables import StatePlan, combined, plan_states
from checker.physics import Solution, Stack, Status, solve, stacked, terminal_currents
from parts_library.schema import Capacitor, Inductor, Load, Relay, Stepper

MOST_POINTS = 6000
"""Points that are solved in one stack: enough for numpy to be quick, little enough for a small machine's memory."""

MOST_BEFORE = 48
"""States from which a coil's switching off is looked at: those with the most current."""

LIMIT_IN_SIGHT = 0.9
"""Share of a source's limit from which it is solved as limited: the limit sets in softly."""

LEAST_COIL_AMPS = 1e-4
"""A coil that carries less is not switched off worth looking at."""


@dataclass(frozen=True, eq=False)
class Operating:
    """The solved points of one circuit. ``volts`` (P, nets) by net number, ``amps`` (P, pins) into the part at each pin,
    ``converged`` (P,); ``pins`` maps (part key, pin) to its column of ``amps``."""

    circuit: Circuit
    plan: StatePlan
    points: tuple[Point, ...]
    volts: Floats
    amps: Floats
    converged: NDArray[np.bool_]
    pins: dict[tuple[str, str], int]
    masks: dict[str, NDArray[np.bool_]] = field(default_factory=dict)

    def volts_at(self, part: str, pin: str) -> Floats:
        """Volts of a pin from the reference, at each point."""
        return self.volts[:, self.circuit.pin_net[part, pin]]

    def amps_into(self, part: str, pin: str) -> Floats:
        """Amps into a part at a pin, at each point."""
        return self.amps[:, self.pins[part, pin]]

    def mask(self, name: str) -> NDArray[np.bool_]:
        """Points by kind: "steady" (reset included), "switch-off", "nominal" (steady, nominal corner, not reset),
        "running" (steady, not reset, motors running), "heat" (steady points whose heat counts)."""
        if name not in self.masks:
            self.masks[name] = np.array([_MASKS[name](point) for point in self.points], dtype=np.bool_)
        return self.masks[name]


_MASKS: dict[str, Callable[[Point], bool]] = {
    "steady": lambda point: point.phase != "switch-off",
    "switch-off": lambda point: point.phase == "switch-off",
    "nominal": lambda point: point.phase == "steady" and point.corner is NOMINAL,
    "running": lambda point: point.phase == "steady" and not point.corner.stalled,
    "heat": lambda point: point.phase != "switch-off" and point.corner.heat,
    "weak": lambda point: point.phase == "steady" and point.corner.name == "supply-low",
}


@dataclass
class _Work:
    """One circuit on its way: its plan, then the points solved so far with their node voltages."""

    circuit: Circuit
    plan: StatePlan
    points: list[Point] = field(default_factory=list)
    nets: list[Floats] = field(default_factory=list)
    amps: list[Floats] = field(default_factory=list)
    converged: list[NDArray[np.bool_]] = field(default_factory=list)
    nominal: dict[int, Floats] = field(default_factory=dict)
    states: list[tuple[State, str]] = field(default_factory=list)


@dataclass(frozen=True, eq=False)
class _Solved:
    """One circuit at its points: volts by node (P, N) and by net (P, nets), amps by pin (P, pins), converged (P,)."""

    netlist: Netlist
    nodes: Floats
    nets: Floats
    amps: Floats
    fine: NDArray[np.bool_]


def operate(circuits: Sequence[Circuit], corners: Collection[str] | None = None) -> list[Operating]:
    """The operating points of each circuit, solved together. ``corners`` restricts the corners beside the nominal one by
    name; None looks at all."""
    works = [_Work(circuit, plan_states(circuit)) for circuit in circuits]
    for batch in _batches(works, 8 if corners is None else 1 + len(corners)):
        _solve_nominal(batch)
        _solve_combined([work for work in batch if work.plan.apart])
        _solve_corners(batch, corners)
        _solve_switch_off(batch)
    return [_finished(work) for work in works]


def _batches(works: Sequence[_Work], corners: int) -> Iterator[list[_Work]]:
    """The circuits in batches of at most ``MOST_POINTS`` points, so that memory stays bounded."""
    batch: list[_Work] = []
    points = 0
    for work in works:
        own = corners * (len(work.plan.states) + len(work.plan.resets))
        if batch and points + own > MOST_POINTS:
            yield batch
            batch, points = [], 0
        batch.append(work)
        points += own
    if batch:
        yield batch


# ── rounds ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _solve_nominal(works: Sequence[_Work]) -> None:
    _settle_rest([work for work in works if work.plan.apart and any(v.follows for v in work.plan.variables)])
    jobs = []
    for work in works:
        work.states = [(state, "steady") for state in work.plan.states]
        work.states += [(state, "reset") for state in work.plan.resets]
        jobs.append([Point(state, NOMINAL, phase) for state, phase in work.states])
    for work, job, solved in zip(works, jobs, _solve_jobs(works, jobs), strict=True):
        agreeing = agreements(work.circuit, solved.netlist, work.plan.variables, solved.nodes)
        keep = consistent(agreeing, len(job))
        for phase in ("steady", "reset"):
            of_phase = np.array([point.phase == phase for point in job])
            if of_phase.any() and not keep[of_phase].any():
                keep |= of_phase
        chosen = np.flatnonzero(keep)
        work.states = [work.states[i] for i in chosen]
        work.nominal = {number: solved.nodes[i] for number, i in enumerate(chosen)}
        _record(work, [job[i] for i in chosen], solved.nets[chosen], solved.amps[chosen], solved.fine[chosen])


def _settle_rest(works: Sequence[_Work]) -> None:
    """Where groups are looked at apart, the others are at rest: what the circuit decides has to agree with that rest, such
    as outputs that are switched off for good. Each such variable rests in an option that agrees in some state."""
    if not works:
        return
    jobs = [[Point(state, NOMINAL) for state in work.plan.states] for work in works]
    for work, job, solved in zip(works, jobs, _solve_jobs(works, jobs), strict=True):
        agreeing = agreements(work.circuit, solved.netlist, work.plan.variables, solved.nodes)
        rest = {}
        for variable in work.plan.variables:
            agrees = agreeing.get(variable.name)
            options = [point.state[variable.name] for number, point in enumerate(job) if agrees is None or agrees[number]]
            if agrees is not None and variable.options[0] not in options and options:
                rest[variable.name] = options[0]
        if rest:
            work.plan = plan_states(work.circuit, rest)


def _solve_combined(works: Sequence[_Work]) -> None:
    """Where groups were looked at one by one: all groups in their hungriest state at once, which loads the supplies most."""
    jobs = []
    for work in works:
        states = [state for state, phase in work.states if phase == "steady"]
        state = combined(work.plan.groups, states, _hunger(work, len(states)))
        jobs.append([Point(state, NOMINAL)] if state is not None else [])
    busy = [i for i, job in enumerate(jobs) if job]
    if not busy:
        return
    solved = _solve_jobs([works[i] for i in busy], [jobs[i] for i in busy])
    for i, one in zip(busy, solved, strict=True):
        works[i].nominal[len(works[i].states)] = one.nodes[0]
        works[i].states.append((jobs[i][0].state, "steady"))
        _record(works[i], jobs[i], one.nets, one.amps, one.fine)


def _hunger(work: _Work, states: int) -> list[float]:
    """Amps that all sources give together in each of the first states."""
    pins = {pin: number for number, pin in enumerate(work.circuit.pin_net)}
    total = np.zeros(states)
    for key, part in work.circuit.bench.parts.items():
        for pin in ("+",) if part.is_supply else ("GND",) if part.is_controller else ():
            total += np.abs(work.amps[0][:states, pins[key, pin]])
    return [float(amps) for amps in total]


def _solve_corners(works: Sequence[_Work], only: Collection[str] | None) -> None:
    jobs, starts = [], []
    for work in works:
        corners = [c for c in corners_for(_sources(work.circuit))[1:] if only is None or c.name in only]
        jobs.append([Point(state, corner, phase) for corner in corners for state, phase in work.states])
        starts.append(np.array([work.nominal[i] for _ in corners for i in range(len(work.states))]))
    if not any(jobs):
        return
    for work, job, solved in zip(works, jobs, _solve_jobs(works, jobs, starts), strict=True):
        _record(work, job, solved.nets, solved.amps, solved.fine)


def _sources(circuit: Circuit) -> int:
    return sum(part.is_supply or part.is_controller for part in circuit.bench.parts.values())


def _solve_switch_off(works: Sequence[_Work]) -> None:
    jobs = [_switch_off_points(work) for work in works]
    busy = [i for i, job in enumerate(jobs) if job]
    if not busy:
        return
    solved = _solve_jobs([works[i] for i in busy], [jobs[i] for i in busy])
    for i, one in zip(busy, solved, strict=True):
        _record(works[i], jobs[i], one.nets, one.amps, one.fine)


def _solve_jobs(works: Sequence[_Work], jobs: Sequence[list[Point]],
                starts: Sequence[Floats] | None = None) -> list[_Solved]:
    """Each circuit at its points, all in one stack; ``starts`` are node voltages to start from."""
    netlists: list[Netlist] = []
    stacks: list[Stack] = []
    owners = []
    for work, job in zip(works, jobs, strict=True):
        netlist = Netlist(work.circuit, Points(job))
        for key, part in work.circuit.bench.parts.items():
            add_part(netlist, key, part)
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
    solution = _solve_with_limits(whole, start)
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
        results.append(_Solved(netlist, nodes, _by_net(netlist, nodes), amps, solution.status[rows] == Status.CONVERGED))
        row += len(job)
    return results


def _solve_with_limits(stack: Stack, start: Floats | None) -> Solution:
    """The operating points. Electronic limits make a source a hard thing to solve and are reached in few points: all are
    solved without, and again with them only those whose sources give more."""
    sources = stack.sources
    if not np.isfinite(sources.most).any():
        return solve(stack, start)
    unlimited = replace(stack, sources=replace(sources, most=np.full_like(sources.most, np.inf)))
    solution = solve(unlimited, start)
    rows = np.arange(stack.members)[:, None]
    across = solution.voltages[rows, sources.nodes[..., 0]] - solution.voltages[rows, sources.nodes[..., 1]]
    over = np.flatnonzero(((sources.volts - across) / sources.ohms > sources.most * LIMIT_IN_SIGHT).any(axis=1))
    if len(over):
        again = solve(stack.take(over), solution.voltages[over])
        solution.voltages[over], solution.status[over] = again.voltages, again.status
        solution.iterations[over] += again.iterations
    return solution


def _by_net(netlist: Netlist, nodes: Floats) -> Floats:
    """Volts by net (P, nets); a net without any element stays at 0."""
    volts = np.zeros((len(nodes), len(netlist.circuit.members)))
    for net, node in netlist.net_nodes.items():
        volts[:, net] = nodes[:, node]
    return volts


def _record(work: _Work, points: list[Point], nets: Floats, amps: Floats, fine: NDArray[np.bool_]) -> None:
    work.points.extend(points)
    work.nets.append(nets)
    work.amps.append(amps)
    work.converged.append(fine)


def _finished(work: _Work) -> Operating:
    pins = {pin: number for number, pin in enumerate(work.circuit.pin_net)}
    return Operating(circuit=work.circuit, plan=work.plan, points=tuple(work.points), volts=np.concatenate(work.nets),
                     amps=np.concatenate(work.amps), converged=np.concatenate(work.converged), pins=pins)


# ── switching off ─────────────────────────────────────────────────────────────────────────────────────────────────


def coils_of(circuit: Circuit) -> list[tuple[str, int, str, str]]:
    """Every winding: part, number, its two pins."""
    found = []
    for key, part in circuit.bench.parts.items():
        entry = part.entry
        if isinstance(entry, Load) and entry.inductance:
            found.append((key, 0, entry.pins[0], entry.pins[1]))
        elif isinstance(entry, Relay):
            found.append((key, 0, "A1", "A2"))
        elif isinstance(entry, Inductor):
            found.append((key, 0, "1", "2"))
        elif isinstance(entry, Stepper):
            found.extend((key, number, one, other) for number, (one, other) in enumerate(entry.coils))
    return found


def _switch_off_points(work: _Work) -> list[Point]:
    """For each coil and each thing that can switch it off: the state after, with the current from before forced."""
    points = []
    pins = {pin: number for number, pin in enumerate(work.circuit.pin_net)}
    amps, nets = np.concatenate(work.amps), np.concatenate(work.nets)
    decided = {variable.name for variable in work.plan.variables if variable.follows}
    for corner_name in ("nominal", "supply-high", "supply-high-stalled"):
        corner = BY_NAME[corner_name]
        rows = [i for i, point in enumerate(work.points) if point.corner is corner]
        for key, coil, one, _ in coils_of(work.circuit):
            column = amps[:, pins[key, one]]
            for switched, (before, after) in _transitions(work.points, rows, column, decided).items():
                point = work.points[after]
                points.append(Point(
                    point.state, corner, "switch-off", {(key, coil): float(column[before])},
                    coil_henries(work.circuit.part(key).entry), _charged(work, nets[after]), switched))
    return points


def _charged(work: _Work, nets: Floats) -> dict[str, float]:
    """Volts across each capacitor once a state has settled."""
    net = work.circuit.pin_net
    return {key: float(nets[net[key, part.pins[0]]] - nets[net[key, part.pins[1]]])
            for key, part in work.circuit.bench.parts.items() if isinstance(part.entry, Capacitor)}


def _transitions(points: list[Point], rows: list[int], amps: Floats, decided: set[str]) -> dict[str, tuple[int, int]]:
    """What switches a coil off: for each variable (or "reset") the pair of points with the largest loss of current."""
    best: dict[str, tuple[int, int]] = {}
    most: dict[str, float] = {}
    strongest = sorted(rows, key=lambda row: -abs(float(amps[row])))[:MOST_BEFORE]
    for before in strongest:
        if abs(amps[before]) < LEAST_COIL_AMPS:
            break
        for after in rows:
            loss = abs(amps[before]) - abs(amps[after])
            if loss < 0.5 * abs(amps[before]):
                continue
            switched = _single_change(points[before], points[after], decided)
            if switched and loss > most.get(switched, 0.0):
                best[switched], most[switched] = (before, after), loss
    return best


def _single_change(before: Point, after: Point, decided: set[str]) -> str:
    """The one variable in which two states differ, the ones that the circuit decides left aside; "" where none or more.
    All pins of a controller becoming inputs at once is the one change "reset"."""
    different = [name for name, option in before.state.items()
                 if name not in decided and after.state.get(name) != option]
    if len(different) == 1 and before.phase == after.phase:
        return different[0]
    if after.phase == "reset" and before.phase == "steady" and all(after.state[name] == "input" for name in different):
        return "reset"
    return ""
