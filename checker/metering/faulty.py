"""What a meter shows on each faulty board, with power on.

Input: places with their black probes, states, circuits. Output: volts. A meter has 10 MΩ: where a fault leaves a point on
nothing, it is the meter that decides what is shown, so such a reading is solved again with the meter on it.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from checker.circuit.model import Circuit, Conductor
from checker.metering.meter import INPUT_OHMS
from checker.metering.probing import Attachment, probe
from checker.operating.corners import NOMINAL
from checker.operating.islands import powered
from checker.operating.netlist import Netlist
from checker.operating.operate import MOST_POINTS
from checker.operating.points import Point, State
from checker.operating.solving import Solved, solve_at
from checker.physics import Stack
from checker.tracing.following import settled_states

Asked = tuple[Conductor, Conductor, State]
"""Red probe, black probe, state."""

NOTICED_SHARE, NOTICED_VOLTS = 0.02, 0.02
"""What the meter itself may be off: less than that is not worth solving again."""

_METER = "~meter"


def on_faults(asked: Sequence[Asked], states: Sequence[State], circuits: Sequence[Circuit]) -> list[list[float]]:
    """Volts of each reading on each fault, what follows from the circuit as it comes out there; NaN where not computed."""
    settled = iter(settled_states([(circuit, state) for circuit in circuits for state in states]))
    jobs = [[Point(next(settled), NOMINAL) for _ in states] for _ in circuits]
    columns: list[list[float]] = []
    size = max(MOST_POINTS // max(len(states), 1), 1)
    for first in range(0, len(circuits), size):
        columns += _columns(asked, states, circuits[first:first + size], jobs[first:first + size])
    return [list(row) for row in zip(*columns, strict=True)] if columns else [[] for _ in asked]


def _columns(asked: Sequence[Asked], states: Sequence[State], circuits: Sequence[Circuit], jobs: Sequence[list[Point]]
             ) -> list[list[float]]:
    """For each circuit the volts of every reading: with no meter, and where meters would be noticed with that one meter."""
    pairs = list(dict.fromkeys((red, black) for red, black, _ in asked))
    bare, loaded = solve_at(circuits, jobs), _with_all_meters(circuits, jobs, pairs)
    columns, attachments, places = [], [], []
    for number, (plain, metered) in enumerate(zip(bare, loaded, strict=True)):
        columns.append([_value(plain, states.index(state), red, black) for red, black, state in asked])
        stack: Stack | None = None
        nodes: dict[int, int] = {}
        for reading, (red, black, state) in enumerate(asked):
            row, value = states.index(state), columns[-1][reading]
            if abs(_value(metered, row, red, black) - value) > NOTICED_SHARE * abs(value) + NOTICED_VOLTS:
                if stack is None:
                    stack, nodes = powered(circuits[number], jobs[number])
                one, other = (nodes.get(circuits[number].net_of[end]) for end in (red, black))
                if one is None or other is None:
                    # nothing that conducts is there: a meter shows nothing
                    columns[-1][reading] = 0.0
                    continue
                attachments.append(Attachment(stack, row, one, other, 0.0, INPUT_OHMS))
                places.append((number, reading))
    probed = probe(attachments, powered=True)
    for place, (number, reading) in enumerate(places):
        columns[number][reading] = float(probed.volts[place]) if probed.fine[place] else float("nan")
    return columns


def _value(solved: Solved, row: int, red: Conductor, black: Conductor) -> float:
    """Volts from black to red; nothing where either of them hangs loose."""
    nets = [solved.netlist.circuit.net_of.get(end) for end in (red, black)]
    if None in nets:
        return 0.0
    return float(solved.nets[row, nets[0]] - solved.nets[row, nets[1]]) if solved.fine[row] else float("nan")


def _with_all_meters(circuits: Sequence[Circuit], jobs: Sequence[list[Point]], pairs: Sequence[tuple[Conductor, Conductor]]
                     ) -> list[Solved]:
    """All meters at once: where even that changes nothing, one alone does not either."""
    ends = [{(_METER, f"{number}{side}"): circuit.net_of[end] for number, pair in enumerate(pairs)
             for side, end in enumerate(pair) if all(one in circuit.net_of for one in pair)} for circuit in circuits]
    changed = [structs.replace(circuit, pin_net={**circuit.pin_net, **own}) for circuit, own in zip(circuits, ends, strict=True)]

    def attach(netlist: Netlist, number: int) -> None:
        for meter in range(len(pairs)):
            if (_METER, f"{meter}0") in ends[number]:
                netlist.add("conductances", _METER, [f"{meter}0", f"{meter}1"], siemens=1.0 / INPUT_OHMS)

    return solve_at(changed, jobs, attach=attach)
