"""Which state a circuit settles in: what a person sets is set, a relay follows its coil and an output its inputs.

Input: circuits, each with what is set. Output: for each the whole state. Where few ways are possible all are tried; else each
thing that disagrees with what decides it is moved, for some rounds.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from msgspec import Struct

from checker.circuit.model import Circuit
from checker.operating.consistent import agreements, consistent, is_decided
from checker.operating.corners import NOMINAL
from checker.operating.points import Bools, Point, State
from checker.operating.solving import Solved, solve_at
from checker.operating.variables import Variable, variables_of

MOST_WAYS = 16
"""Up to so many ways are all tried."""

ROUNDS = 6
"""Rounds of moving what disagrees: a chain of so many gates comes out; what still disagrees then has no rest at all."""

MOST_POINTS = 6000


class _Open(Struct):
    """A circuit on its way: its variables that follow (each with its options, the wished one first), and its state so far."""

    circuit: Circuit
    variables: tuple[Variable, ...]
    following: tuple[tuple[str, tuple[str, ...]], ...]
    state: State
    settled: bool = False

    def ways(self) -> list[State]:
        """All ways where they are few; else the state so far, and each single thing moved."""
        total = 1
        for _, options in self.following:
            total *= len(options)
        if total <= MOST_WAYS:
            names = [name for name, _ in self.following]
            return [{**self.state, **dict(zip(names, how))} for how in product(*(options for _, options in self.following))]
        moved = [{**self.state, name: option} for name, options in self.following for option in options]
        return [self.state, *(state for state in moved if state != self.state)]


def settable(circuit: Circuit) -> list[Variable]:
    """What a person, or the program, sets: all variables but those that something on the board decides."""
    return [variable for variable in variables_of(circuit) if not is_decided(circuit, variable)]


def settled_states(wanted: Sequence[tuple[Circuit, State]]) -> list[State]:
    """The whole state of each circuit: what is set, the rest at rest, and what follows as it comes out."""
    ones = [_begun(circuit, state) for circuit, state in wanted]
    for _ in range(ROUNDS):
        unsettled = [one for one in ones if not one.settled]
        while unsettled:
            few = _few(unsettled)
            unsettled = unsettled[len(few):]
            jobs = [one.ways() for one in few]
            solved = solve_at([one.circuit for one in few], [[Point(state, NOMINAL) for state in job] for job in jobs])
            for one, job, found in zip(few, jobs, solved, strict=True):
                _move(one, job, found)
    return [one.state for one in ones]


def _begun(circuit: Circuit, state: State) -> _Open:
    variables = tuple(variables_of(circuit))
    whole = {v.name: state[v.name] if state.get(v.name) in v.options else v.options[0] for v in variables}
    following = tuple((v.name, tuple(dict.fromkeys((whole[v.name], *v.options)))) for v in variables if v.follows)
    return _Open(circuit, variables, following, whole, settled=not following)


def _few(ones: Sequence[_Open]) -> Sequence[_Open]:
    points = np.cumsum([len(one.ways()) for one in ones])
    return ones[:max(int(np.searchsorted(points, MOST_POINTS)), 1)]


def _move(one: _Open, ways: Sequence[State], solved: Solved) -> None:
    """The first way in which all agrees; without one, what disagrees takes the first option that does agree."""
    agreeing = agreements(one.circuit, solved.netlist, one.variables, solved.nodes)
    agrees = consistent(agreeing, len(ways))
    if agrees.any():
        one.state, one.settled = ways[int(np.argmax(agrees))], True
        return
    moved = {name: _agreeing_option(one, name, options, ways, agreeing[name])
             for name, options in one.following if name in agreeing}
    changed = {**one.state, **moved}
    one.settled = changed == one.state
    one.state = changed


def _agreeing_option(one: _Open, name: str, options: Sequence[str], ways: Sequence[State], agrees: Bools) -> str:
    now = one.state[name]
    for option in (now, *options):
        state = {**one.state, name: option}
        if any(way == state and agrees[number] for number, way in enumerate(ways)):
            return option
    return now
