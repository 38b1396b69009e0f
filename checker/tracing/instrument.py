"""What every hypothesis does in a state, with the meter that is held to it.

Input: circuits and the spot of the black probe. Output: ``Settled``: volts and amps of a circuit in a state, in some corners.
A meter has 10 MΩ: where that changes a voltage (a leg on nothing behind an LED, a battery with no common ground), the circuit
is solved again with the meter on that very spot. All circuits and states of one call are solved as one stack.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from msgspec import Struct, structs

from checker.circuit.model import Circuit
from checker.operating.corners import NOMINAL
from checker.operating.netlist import Netlist
from checker.operating.points import Floats, Point, State
from checker.operating.solving import Solved, solve_at
from checker.tracing.following import settled_states
from checker.tracing.model import Spot

METER_SIEMENS = 1e-7
"""A digital multimeter on volts: 10 MΩ (common practice, no source)."""

APART_SIEMENS = 1e-13
"""A meter that is not held there: less than any leakage."""

SPREADS = ("supply", "skew", "resistor", "gain", "threshold")
"""What differs from board to board, each the same for a whole board: how fresh the supplies are, how the first differs from the
others, and to which side the values of resistors, gains and forward voltages lie."""

BENT = ("gain", "threshold")
"""Spreads whose two ends may move a voltage by unlike amounts: what is saturated with a high gain may not be with a low one."""

CORNERS = (NOMINAL, *(structs.replace(NOMINAL, name=f"{name}-up", say=f"with the {name} at its high end", **{name: 1})
                      for name in SPREADS),
           *(structs.replace(NOMINAL, name=f"{name}-down", say=f"with the {name} at its low end", **{name: -1}) for name in BENT))
"""The nominal point, each spread alone at its upper end, and those of ``BENT`` at their lower ends."""

NOTICED_SHARE, NOTICED_VOLTS = 0.003, 0.002
"""A meter changes a reading that it lowers by more than this."""

MOST_POINTS = 6000
_METER, _SIDES = "~meter", ("red", "black")


class Settled(Struct, frozen=True):
    """A circuit in a state. ``volts`` (corners, nets) from the reference and ``amps`` (corners, pins) with no meter; ``metered``
    volts between two nets with the meter there, where that matters; ``weak`` the nets where it would."""

    circuit: Circuit
    volts: Floats
    amps: Floats
    pins: dict[tuple[str, str], int]
    fine: bool
    weak: frozenset[int]
    metered: dict[tuple[int, int], float]


class _Job(Struct, frozen=True):
    """One circuit and the states in which it is to be solved: its elements are laid out once for all of them."""

    circuit: Circuit
    states: list[State]


def moves_of(values: Floats) -> tuple[float, ...]:
    """By how much each of ``SPREADS`` moves a value at its upper end; ``values`` (corners,). Of two ends that move it by unlike
    amounts the one that moves it more is taken, as if the other were its mirror image."""
    up, down = values[1:len(SPREADS) + 1] - values[0], values[len(SPREADS) + 1:] - values[0]
    moves = up.tolist()
    for name, low in zip(BENT, down.tolist(), strict=True):
        place = SPREADS.index(name)
        moves[place] = max(moves[place], -low, key=abs)
    return tuple(moves)


def net_at(circuit: Circuit, spot: Spot) -> int | None:
    """The net that a probe touches, or None where nothing is connected there."""
    net = circuit.pin_net.get(spot) if isinstance(spot, tuple) else circuit.net_of.get(spot)
    return net if net is not None and circuit.pins_on.get(net) else None


def leg_in_place(circuit: Circuit, spot: Spot, built: Circuit) -> Spot:
    """What a probe touches in ``circuit`` that is held to a pin of ``built``, the circuit of the list: the leg that sits where
    the list has that pin. Of a part that was turned round this is another pin; a leg that sits elsewhere is found there."""
    if not isinstance(spot, tuple) or spot[0] not in circuit.bench.parts:
        return spot
    place = built.place_of.get(spot, "").lower()
    if circuit.place_of.get(spot, "").lower() == place:
        return spot
    same = ((spot[0], pin) for pin in circuit.part(spot[0]).pins if circuit.place_of.get((spot[0], pin), "").lower() == place)
    return next(same, spot)


class Instrument:
    """Solves circuits in states, each once. ``grounds`` are the spots of the black probe, the reference first; ``pairs`` are
    spots between which a reading was taken without any of them."""

    def __init__(self, circuits: Sequence[Circuit], grounds: Sequence[Spot], pairs: Sequence[tuple[Spot, Spot]] = ()) -> None:
        self.circuits = tuple(circuits)
        self.grounds = tuple(grounds)
        self.reference = self.grounds[0]
        sources = sum(part.is_supply or part.is_controller for part in circuits[0].bench.parts.values())
        # a lone source differs from no other: its own spread is counted once
        self.corners = CORNERS if sources > 1 else tuple(NOMINAL if one.skew else one for one in CORNERS)
        self.pairs = list(pairs)
        self._known: dict[tuple[int, str], Settled] = {}

    def net(self, circuit: Circuit, spot: Spot) -> int | None:
        """The net that a probe touches which is held to a spot of the first circuit, the list's own."""
        return net_at(circuit, leg_in_place(circuit, spot, self.circuits[0]))

    def settle(self, numbers: Sequence[int], states: Sequence[State]) -> None:
        """Solve these circuits in these states, those that are not solved yet."""
        wanted = [(n, state) for n in dict.fromkeys(numbers) for state in {_key(state): state for state in states}.values()
                  if (n, _key(state)) not in self._known]
        for few in _stacks(wanted, self.circuits):
            full = settled_states([(self.circuits[n], state) for n, state in few])
            jobs = [_Job(self.circuits[n], [full[i] for i, (other, _) in enumerate(few) if other == n])
                    for n in dict.fromkeys(n for n, _ in few)]
            solved = self._metered(jobs, self._plain(jobs))
            for (n, state), one in zip(few, (one for those in solved for one in those), strict=True):
                self._known[n, _key(state)] = one

    def settled(self, number: int, state: State) -> Settled:
        """One circuit in a state."""
        if (number, _key(state)) not in self._known:
            self.settle([number], [state])
        return self._known[number, _key(state)]

    def _plain(self, jobs: Sequence[_Job]) -> list[list[Settled]]:
        """Without a meter in every corner, and once with one on every net, to see where a meter would be noticed."""
        circuits = [job.circuit for job in jobs]
        apart = solve_at(circuits, [[Point(state, corner) for state in job.states for corner in self.corners] for job in jobs])
        pairs = [self._to_black(circuit) for circuit in circuits]
        loaded = solve_at(_with_meters(circuits, pairs), [[Point(state, NOMINAL) for state in job.states] for job in jobs],
                          attach=_attach(pairs, lambda number: np.full((len(jobs[number].states), len(pairs[number])),
                                                                       METER_SIEMENS)))
        return [[self._first(circuit, one, more, row, [net for net, _ in ends]) for row in range(len(more.nets))]
                for circuit, one, more, ends in zip(circuits, apart, loaded, pairs, strict=True)]

    def _first(self, circuit: Circuit, solved: Solved, loaded: Solved, row: int, nets: list[int]) -> Settled:
        own = slice(row * len(self.corners), (row + 1) * len(self.corners))
        volts, lowered = solved.nets[own], loaded.nets[row]
        black = self._black(circuit)
        if black is not None:
            volts, lowered = volts - volts[:, [black]], lowered - lowered[black]
        noticed = np.abs(volts[0] - lowered) > NOTICED_SHARE * np.abs(volts[0]) + NOTICED_VOLTS
        pins = {pin: number for number, pin in enumerate(circuit.pin_net)}
        return Settled(circuit, volts, solved.amps[own], pins, bool(solved.fine[own].all()),
                       frozenset(net for net in nets if noticed[net]), {})

    def _metered(self, jobs: Sequence[_Job], plain: list[list[Settled]]) -> list[list[Settled]]:
        """Again with the meter on each weak net alone."""
        held = [[(row, pair) for row, one in enumerate(those) for pair in self._weak_pairs(one)] for those in plain]
        busy = [n for n, those in enumerate(held) if those]
        if not busy:
            return plain
        pairs = [list(dict.fromkeys(pair for _, pair in held[n])) for n in busy]
        points = [[Point(jobs[n].states[row], NOMINAL) for row, _ in held[n]] for n in busy]

        def siemens(number: int) -> Floats:
            place = {pair: column for column, pair in enumerate(pairs[number])}
            values = np.full((len(held[busy[number]]), len(place)), APART_SIEMENS)
            for row, (_, pair) in enumerate(held[busy[number]]):
                values[row, place[pair]] = METER_SIEMENS
            return values

        solved = solve_at(_with_meters([jobs[n].circuit for n in busy], pairs), points, attach=_attach(pairs, siemens))
        result = [list(those) for those in plain]
        for n, one in zip(busy, solved, strict=True):
            for row in range(len(result[n])):
                read = {pair: float(one.nets[point, pair[0]] - one.nets[point, pair[1]])
                        for point, (own, pair) in enumerate(held[n]) if own == row}
                result[n][row] = structs.replace(result[n][row], metered=read)
        return result

    def _weak_pairs(self, one: Settled) -> list[tuple[int, int]]:
        blacks = [net for net in (net_at(one.circuit, spot) for spot in self.grounds) if net is not None]
        found = [(net, black) for black in blacks for net in sorted(one.weak) if net != black]
        for first, second in self.pairs:
            nets = self.net(one.circuit, first), self.net(one.circuit, second)
            if nets[0] is not None and nets[1] is not None and nets[0] != nets[1] and one.weak & set(nets):
                found.append((nets[0], nets[1]))
        return list(dict.fromkeys(found))

    def _black(self, circuit: Circuit) -> int | None:
        return net_at(circuit, self.reference)

    def _to_black(self, circuit: Circuit) -> list[tuple[int, int]]:
        black = self._black(circuit)
        return [(net, black) for net, pins in circuit.pins_on.items() if pins and net != black] if black is not None else []


# ── the meter in the netlist ──────────────────────────────────────────────────────────────────────────────────────


def _with_meters(circuits: Sequence[Circuit], pairs: Sequence[Sequence[tuple[int, int]]]) -> list[Circuit]:
    """The circuits with two pins of a meter for each pair of nets."""
    changed = []
    for circuit, those in zip(circuits, pairs, strict=True):
        ends = {(_METER, f"{side}{number}"): net for number, pair in enumerate(those) for side, net in zip(_SIDES, pair)}
        changed.append(structs.replace(circuit, pin_net={**circuit.pin_net, **ends}))
    return changed


def _attach(pairs: Sequence[Sequence[tuple[int, int]]],
            siemens: Callable[[int], Floats]) -> Callable[[Netlist, int], None]:
    """Adds the meters of each circuit: ``siemens`` gives for the circuit of that number a row for each point (P, meters)."""
    def attach(netlist: Netlist, number: int) -> None:
        values = siemens(number)
        for meter in range(len(pairs[number])):
            netlist.add("conductances", _METER, [f"{side}{meter}" for side in _SIDES], siemens=values[:, meter])
    return attach


def _key(state: State) -> str:
    return repr(sorted(state.items()))


def _stacks(wanted: list[tuple[int, State]], circuits: Sequence[Circuit]) -> Iterator[list[tuple[int, State]]]:
    """So many at a time that memory stays bounded."""
    few: list[tuple[int, State]] = []
    points = 0
    for number, state in wanted:
        own = len(CORNERS) + 1 + len(circuits[number].members)
        if few and points + own > MOST_POINTS:
            yield few
            few, points = [], 0
        few.append((number, state))
        points += own
    if few:
        yield few
