"""Surveys: what is found in each of several versions of a list, all solved as one stack.

A fix is proven by surveying the edited list. Input: texts; output for each the findings, which loads work, and the
circuits with their operating points.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from checker.bench.inventory import lay_out
from checker.bench.mishap import Mishap
from checker.bench.model import Bench
from checker.circuit.build import connect
from checker.circuit.model import Circuit
from checker.judge import judge
from checker.operating.operate import Operating, operate
from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS
from checker.rules.loads import rated_amps
from checker.seating.model import Seated
from checker.seating.seat import seat
from grammar import read
from parts_library import Library


class Survey(Struct, frozen=True):
    """One version of a list: its bench and circuits (one a reading), their operating points, the findings, and the loads
    that work in the list's own reading, by lower-case name, and with ":off" where they can also be
    switched off; ``connected`` counts for each part but sources the nets that it shares with other parts."""

    seated: Seated
    operatings: tuple[Operating, ...]
    found: tuple[Found, ...]
    working: frozenset[str]
    connected: dict[str, int]

    @property
    def bench(self) -> Bench:
        return self.seated.bench


class _Wired(Struct, frozen=True):
    """A list on its way: connected, not yet solved."""

    seated: Seated
    circuits: tuple[Circuit, ...]
    mishaps: tuple[Mishap, ...]


def survey(texts: Sequence[str | bytes], library: Library) -> list[Survey]:
    """The survey of each text."""
    wired = [_wire_up(text, library) for text in texts]
    operatings = operate([circuit for one in wired for circuit in one.circuits])
    surveys = []
    first = 0
    for one in wired:
        own = tuple(operatings[first:first + len(one.circuits)])
        first += len(one.circuits)
        surveys.append(Survey(seated=one.seated, operatings=own, found=tuple(judge(own, one.mishaps)),
                              working=frozenset(_working(own[0])) if own else frozenset(),
                              connected=_connected(own[0].circuit) if own else {}))
    return surveys


def _wire_up(text: str | bytes, library: Library) -> _Wired:
    bench, mishaps = lay_out(read(text), library)
    seated = seat(bench)
    circuits = []
    found = [*mishaps, *seated.mishaps]
    for reading in seated.readings:
        circuit, more = connect(seated, reading)
        circuits.append(circuit)
        if len(circuits) == 1:
            found.extend(more)
    return _Wired(seated=seated, circuits=tuple(circuits), mishaps=tuple(found))


def _connected(circuit: Circuit) -> dict[str, int]:
    nets: dict[str, set[int]] = {}
    for (key, _), net in circuit.pin_net.items():
        part = circuit.part(key)
        if not (part.is_supply or part.is_controller) and any(other != key for other, _ in circuit.pins_on[net]):
            nets.setdefault(key, set()).add(net)
    return {key: len(own) for key, own in nets.items()}


def keeps(before: Survey, after: Survey) -> bool:
    """True where every load that worked still works, can still be switched off, and no part was unplugged."""
    return before.working <= after.working and all(
        after.connected.get(key, 0) >= count for key, count in before.connected.items())


def _working(operating: Operating) -> list[str]:
    """The loads and lights that get at least half of what they need in some nominal state."""
    working = []
    mask = operating.mask("nominal") & operating.converged
    for key, part in operating.circuit.bench.parts.items():
        if isinstance(part.entry, LIGHTS_AND_LOADS):
            pins = ("A1", "A2") if "A1" in part.pins else part.pins
            amps = np.max([np.abs(operating.amps_into(key, pin))[mask] for pin in pins], axis=0)
            if amps.max(initial=0.0) > max(0.5 * rated_amps(part), 1e-4):
                working.append(key)
                if amps.min(initial=np.inf) < max(0.02 * rated_amps(part), 2e-5):
                    working.append(f"{key}:off")
    return working
