"""Operating points: every circuit in every state and corner, and at the switching-off of its coils.

Input is a list of circuits (readings of one list, or of several); output one ``Operating`` each. All circuits are solved
as one stack, in three rounds: nominal states, of which those count that the circuit can be in; all corners, started from the
nominal solution; and for every coil the moments in which it can be switched off.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.changes import Changes
from checker.operating.consistent import agreements
from checker.operating.corners import BY_NAME, NOMINAL, corners_for
from checker.operating.models import coil_henries
from checker.operating.points import Floats, Point, State
from checker.operating.release import SHARES, lower_points, release_seconds, winding_ohms
from checker.operating.settling import gathered, settled
from checker.operating.solving import Solved, solve_at
from checker.operating.variables import StatePlan, combined, plan_states, stiff_nets
from parts_library.schema import Capacitor, Inductor, Load, Relay, Stepper

MOST_POINTS = 6000
"""Points that are solved in one stack: enough for numpy to be quick, little enough for a small machine's memory."""

RINGS = 0.1
"""Share of a coil's current from which a capacitor that takes it makes it ring instead of fall."""


class Operating(Struct, frozen=True, eq=False):
    """The solved points of one circuit. ``volts`` (P, nets) by net number, ``amps`` (P, pins) into the part at each pin,
    ``converged`` (P,); ``pins`` maps (part key, pin) to its column of ``amps``; ``releases`` gives for some points of
    switching off the seconds until a tenth of the coil's current is left."""

    circuit: Circuit
    plan: StatePlan
    points: tuple[Point, ...]
    volts: Floats
    amps: Floats
    converged: NDArray[np.bool_]
    pins: dict[tuple[str, str], int]
    masks: dict[str, NDArray[np.bool_]] = {}
    releases: dict[int, float] = {}

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


class _Work(Struct, eq=False):
    """One circuit on its way: its plan, then the points solved so far with their node voltages."""

    circuit: Circuit
    plan: StatePlan
    quick: bool = False
    points: list[Point] = []
    nets: list[Floats] = []
    amps: list[Floats] = []
    converged: list[NDArray[np.bool_]] = []
    nominal: dict[int, Floats] = {}
    states: list[tuple[State, str]] = []
    releases: dict[int, float] = {}


def operate(circuits: Sequence[Circuit], corners: Collection[str] | None = None, quick: bool = False) -> list[Operating]:
    """The operating points of each circuit, solved together. ``corners`` restricts the corners beside the nominal one by
    name; None looks at all. ``quick`` is for a first look at many circuits: what is hard to solve is given up."""
    works = [_Work(circuit, plan_states(circuit), quick=quick) for circuit in circuits]
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
    solved = _solve_jobs(works, jobs)
    ends = settled([(work.circuit, work.plan.variables) for work in works], jobs, solved,
                   lambda numbers, more: _solve_jobs([works[number] for number in numbers], more))
    for work, one, (points, spots) in zip(works, solved, ends, strict=True):
        kept = gathered(one, spots)
        work.states = [(point.state, point.phase) for point in points]
        work.nominal = dict(enumerate(kept.nodes))
        _record(work, points, kept)


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
        state = combined(work.plan, states, _hunger(work, len(states)))
        jobs.append([Point(state, NOMINAL)] if state is not None else [])
    busy = [i for i, job in enumerate(jobs) if job]
    if not busy:
        return
    solved = _solve_jobs([works[i] for i in busy], [jobs[i] for i in busy])
    for i, one in zip(busy, solved, strict=True):
        works[i].nominal[len(works[i].states)] = one.nodes[0]
        works[i].states.append((jobs[i][0].state, "steady"))
        _record(works[i], jobs[i], one)


def _hunger(work: _Work, states: int) -> list[list[float]]:
    """For each group the amps that it takes in each of the first states: all that sources give, which serves every group
    where the others are at rest, or else what its own parts carry to and from stiff nets."""
    pins = {pin: number for number, pin in enumerate(work.circuit.pin_net)}
    amps = np.abs(work.amps[0][:states])
    if not work.plan.side_by_side:
        sources = [pins[key, pin] for key, part in work.circuit.bench.parts.items()
                   for pin in (("+",) if part.is_supply else ("GND",) if part.is_controller else ())]
        return [amps[:, sources].sum(axis=1).tolist()] * len(work.plan.groups)
    stiff = stiff_nets(work.circuit)
    owner = {variable.name: number for number, group in enumerate(work.plan.groups) for variable in group}
    columns: list[list[int]] = [[] for _ in work.plan.groups]
    for (key, pin), net in work.circuit.pin_net.items():
        if net in stiff:
            for number in {owner[name] for name in work.plan.near.get(key, ()) if not name.endswith(" USB")}:
                columns[number].append(pins[key, pin])
    return [amps[:, own].sum(axis=1).tolist() for own in columns]


def _solve_corners(works: Sequence[_Work], only: Collection[str] | None) -> None:
    jobs, starts = [], []
    for work in works:
        corners = [c for c in corners_for(_sources(work.circuit))[1:] if only is None or c.name in only]
        jobs.append([Point(state, corner, phase) for corner in corners for state, phase in work.states])
        starts.append(np.array([work.nominal[i] for _ in corners for i in range(len(work.states))]))
    if not any(jobs):
        return
    for work, job, solved in zip(works, jobs, _solve_jobs(works, jobs, starts), strict=True):
        _record(work, job, solved)


def _sources(circuit: Circuit) -> int:
    return sum(part.is_supply or part.is_controller for part in circuit.bench.parts.values())


def _solve_switch_off(works: Sequence[_Work]) -> None:
    jobs = [_switch_off_points(work) for work in works]
    busy = [(work, job) for work, job in zip(works, jobs, strict=True) if job]
    if not busy:
        return
    slow = [_falling(work, job) for work, job in busy]
    # from nothing: the states before and after are both far from where a forced current ends
    solved = _solve_jobs([work for work, _ in busy],
                         [job + [low for number in later for low in lower_points(job[number])]
                          for (_, job), later in zip(busy, slow, strict=True)])
    for (work, job), later, one in zip(busy, slow, solved, strict=True):
        _keep_releases(work, job, later, one)
        _record(work, job, one, np.arange(len(job)))


def _falling(work: _Work, job: list[Point]) -> list[int]:
    """Which points' currents are followed down: of each coil that does not turn, the nominal one with the most current."""
    best: dict[tuple[str, int], int] = {}
    for number, point in enumerate(job):
        coil = next(iter(point.forced))
        if point.corner is NOMINAL and winding_ohms(work.circuit.part(coil[0])) is not None:
            known = best.get(coil)
            if known is None or abs(point.forced[coil]) > abs(job[known].forced[coil]):
                best[coil] = number
    return list(best.values())


def _keep_releases(work: _Work, job: list[Point], later: list[int], solved: Solved) -> None:
    """Seconds of release of those points that were followed down; their lower currents come after the job's points."""
    ends = {(key, coil): (one, other) for key, coil, one, other in coils_of(work.circuit)}
    net = work.circuit.pin_net
    for place, number in enumerate(later):
        (coil, amps), = job[number].forced.items()
        one, other = (solved.nets[:, net[coil[0], pin]] for pin in ends[coil])
        first = len(job) + place * len(SHARES)
        seconds = release_seconds(work.circuit.part(coil[0]), amps, (one - other)[first:first + len(SHARES)])
        rings = any(abs(solved.amps[number, solved.netlist.pins[key, work.circuit.part(key).pins[0]]]) > RINGS * abs(amps)
                    for key in job[number].held)
        if seconds is not None and not rings:
            work.releases[len(work.points) + number] = seconds


def _solve_jobs(works: Sequence[_Work], jobs: Sequence[list[Point]],
                starts: Sequence[Floats] | None = None) -> list[Solved]:
    return solve_at([work.circuit for work in works], jobs, starts,
                    quick=any(work.quick for work in works))


def _record(work: _Work, points: list[Point], solved: Solved, chosen: NDArray[np.intp] | None = None) -> None:
    """Keeps points with their solution, or those ``chosen`` of it."""
    rows = slice(None) if chosen is None else chosen
    work.points.extend(points)
    work.nets.append(solved.nets[rows])
    work.amps.append(solved.amps[rows])
    work.converged.append(solved.fine[rows])


def _finished(work: _Work) -> Operating:
    pins = {pin: number for number, pin in enumerate(work.circuit.pin_net)}
    return Operating(circuit=work.circuit, plan=work.plan, points=tuple(work.points), volts=np.concatenate(work.nets),
                     amps=np.concatenate(work.amps), converged=np.concatenate(work.converged), pins=pins, releases=work.releases)


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
    coils = coils_of(work.circuit)
    if not coils:
        return []
    amps, nets = np.concatenate(work.amps), np.concatenate(work.nets)
    changes = Changes([v.name for v in work.plan.variables if not v.follows], work.points)
    # a motor held still carries no less: in a large list that says enough
    for corner_name in ("nominal", *(() if work.plan.side_by_side else ("supply-high",)), "supply-high-stalled"):
        corner = BY_NAME[corner_name]
        rows = np.array([i for i, point in enumerate(work.points) if point.corner is corner], dtype=np.intp)
        for key, coil, one, _ in coils:
            column = amps[:, pins[key, one]]
            near = work.plan.near.get(key) if work.plan.side_by_side else None
            for switched, (before, after) in changes.switching_off(rows, column, near).items():
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
