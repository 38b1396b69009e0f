"""Where a circuit ends up in a state in which nothing that it decides by itself agrees: at rest elsewhere, or going round.

A setting of what a program or a hand switches is never left out. Where none of its solved states agrees with itself, what
disagrees is moved, as it would move by itself, until all agrees or a position comes again. What goes round (a relay that
opens the way of its own coil, a gate whose output is its input) has no state at rest: the positions that it passes through
are kept, and the points say which things do not stay.

Input: the solved points of each circuit; output: those that count, solved.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np
from msgspec import Struct

from checker.circuit.model import Circuit
from checker.operating.consistent import agreements, consistent, is_decided, wishes
from checker.operating.corners import NOMINAL
from checker.operating.points import Floats, Point, State
from checker.operating.solving import Solved
from checker.operating.variables import Variable
from parts_library.schema import Relay

ROUNDS, MOST_STEPS = 24, 64
"""How often more points are solved, and how many moves are followed: a row of so many gates comes to rest one by one."""

MOST_KEPT = 8
"""Positions of one setting that are kept where it goes round: two things that do not stay have four."""

MOST_WALKS = 512
"""Settings of one circuit that are followed: as many as are ever combined, and bounded for what no person would build."""

Spot: TypeAlias = tuple[Solved, int]
Key: TypeAlias = tuple[str, ...]


class _Known(Struct, eq=False):
    """What is solved of one circuit: a spot for each phase and state, and there what moves next."""

    circuit: Circuit
    variables: tuple[Variable, ...]
    spots: dict[Key, Spot] = {}
    moves: dict[Key, dict[str, str]] = {}

    def key(self, phase: str, state: State) -> Key:
        return (phase, *(state[variable.name] for variable in self.variables))

    def learn(self, points: Sequence[Point], solved: Solved) -> list[bool]:
        """Takes in solved points; which of them agree with themselves."""
        agreeing = agreements(self.circuit, solved.netlist, self.variables, solved.nodes)
        wished = wishes(self.circuit, solved.netlist, self.variables, solved.nodes, agreeing)
        for row, point in enumerate(points):
            key = self.key(point.phase, point.state)
            self.spots.setdefault(key, (solved, row))
            self.moves.setdefault(key, {name: str(to[row]) for name, to in wished.items() if to[row] != point.state[name]})
        return [bool(agrees) for agrees in consistent(agreeing, len(points))]


class _Walk(Struct, eq=False):
    """One setting on its way: where it has been, with the order in which things were moved where they move one by one."""

    known: _Known
    phase: str
    state: State
    path: list[tuple[Key, State]] = []
    marks: list[tuple[Key, tuple[str, ...]]] = []
    one_by_one: bool = False
    recent: tuple[str, ...] = ()
    kept: list[State] | None = None
    restless: tuple[str, ...] = ()

    @property
    def key(self) -> Key:
        return self.known.key(self.phase, self.state)

    def go_on(self) -> None:
        """From a known position to the next, or to the end."""
        moves = self.known.moves[self.key]
        self.path.append((self.key, self.state))
        if not moves:
            self.kept = [self.state]
            return
        mark = (self.key, self.recent)
        if mark in self.marks:
            self._come_again(self.marks.index(mark))
            return
        if len(self.marks) == MOST_STEPS:
            self.go_round(MOST_STEPS // 2)
            return
        self.marks.append(mark)
        # a gate or a thyristor has long moved while a relay's contact is still on its way
        now = [name for name in moves if not _is_slow(self.known, name)] or list(moves)
        if self.one_by_one:
            now = [min(now, key=lambda name: self.recent.index(name) if name in self.recent else -1)]
            self.recent = (*(name for name in self.recent if name != now[0]), now[0])
        self.state = {**self.state, **{name: moves[name] for name in now}}

    def _come_again(self, first: int) -> None:
        """A position comes again: moved one by one, some things may still come to rest, else the walk goes round."""
        if not self.one_by_one and any(len(self.known.moves[key]) > 1 for key, _ in self.path[first:]):
            self.one_by_one, self.path, self.marks = True, [], []
            return
        self.go_round(first)

    def go_round(self, first: int) -> None:
        """Keeps the positions from ``first`` on in which the circuit stays for a moment: those in which the fewest quick
        things are still on their way."""
        passed = dict(self.path[first:])
        hurry = {key: sum(not _is_slow(self.known, name) for name in self.known.moves[key]) for key in passed}
        stays = [state for key, state in passed.items() if hurry[key] == min(hurry.values())]
        changing = [v.name for v in self.known.variables if v.follows and len({state[v.name] for state in passed.values()}) > 1]
        slow = tuple(name for name in changing if _is_slow(self.known, name))
        self.restless, self.kept = slow or tuple(changing), stays[:MOST_KEPT]


def _is_slow(known: _Known, name: str) -> bool:
    part = next(variable.part for variable in known.variables if variable.name == name)
    return isinstance(known.circuit.part(part).entry, Relay)


Solve: TypeAlias = Callable[[Sequence[int], Sequence[list[Point]]], list[Solved]]


def settled(circuits: Sequence[tuple[Circuit, tuple[Variable, ...]]], jobs: Sequence[list[Point]],
            solved: Sequence[Solved], solve: Solve) -> list[tuple[list[Point], list[Spot]]]:
    """For each circuit the points that count, steady ones first, each with where it is solved. ``solve`` solves more points of
    the circuits with these numbers."""
    knowns = [_Known(circuit, variables) for circuit, variables in circuits]
    results: list[dict[Key, tuple[Point, Spot]]] = []
    walks: dict[int, list[_Walk]] = {}
    for number, (known, job, one) in enumerate(zip(knowns, jobs, solved, strict=True)):
        agrees = known.learn(job, one)
        results.append({known.key(point.phase, point.state): (point, (one, row))
                        for row, point in enumerate(job) if agrees[row]})
        walks[number] = _lost(known, job, agrees)
    _follow(walks, solve)
    for number, walked in walks.items():
        for walk in walked:
            for point, spot in _ends(walk):
                results[number].setdefault(walk.known.key(point.phase, point.state), (point, spot))
    return [_in_order(list(result.values())) for result in results]


def _lost(known: _Known, job: Sequence[Point], agrees: Sequence[bool]) -> list[_Walk]:
    """A walk from the first state of each setting that no state agrees with."""
    free = [variable.name for variable in known.variables if not is_decided(known.circuit, variable)]
    first: dict[tuple[str, ...], Point] = {}
    found: set[tuple[str, ...]] = set()
    for point, agree in zip(job, agrees, strict=True):
        setting = (point.phase, *(point.state[name] for name in free))
        first.setdefault(setting, point)
        if agree:
            found.add(setting)
    return [_Walk(known, point.phase, point.state) for setting, point in first.items() if setting not in found][:MOST_WALKS]


def _follow(walks: dict[int, list[_Walk]], solve: Solve) -> None:
    """All walks to their ends, those of all circuits solved together."""
    for _ in range(ROUNDS):
        asked: dict[int, dict[Key, Point]] = {}
        for number, walked in walks.items():
            for walk in walked:
                while walk.kept is None and walk.key in walk.known.moves:
                    walk.go_on()
                if walk.kept is None:
                    asked.setdefault(number, {})[walk.key] = Point(walk.state, NOMINAL, walk.phase)
        if not asked:
            return
        more = solve(list(asked), [list(points.values()) for points in asked.values()])
        for (number, points), one in zip(asked.items(), more, strict=True):
            walks[number][0].known.learn(list(points.values()), one)
    for walk in (walk for walked in walks.values() for walk in walked if walk.kept is None):
        walk.go_round(len(walk.path) // 2)


def _ends(walk: _Walk) -> list[tuple[Point, Spot]]:
    """The positions that a walk ends in, as points."""
    return [(Point(state, NOMINAL, walk.phase, restless=walk.restless), walk.known.spots[walk.known.key(walk.phase, state)])
            for state in walk.kept or ()]


def _in_order(result: list[tuple[Point, Spot]]) -> tuple[list[Point], list[Spot]]:
    """Steady points before those at reset."""
    ordered = sorted(result, key=lambda one: one[0].phase != "steady")
    return [point for point, _ in ordered], [spot for _, spot in ordered]


def gathered(like: Solved, spots: Sequence[Spot]) -> Solved:
    """The solutions at several spots as one; ``like`` gives the netlist."""
    def rows(name: str) -> Floats:
        return np.array([getattr(solved, name)[row] for solved, row in spots])

    return Solved(like.netlist, rows("nodes"), rows("nets"), rows("amps"), rows("fine").astype(np.bool_))
