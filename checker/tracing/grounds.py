"""Where the black probe goes: the ground that people use, and one for each part of the circuit that shares no current with it.

A relay's contacts and an optocoupler's two sides have no voltage between them that means anything: each side is measured from its
own minus.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from checker.circuit.model import Circuit, Conductor, Lead
from checker.operating.corners import NOMINAL
from checker.operating.islands import islands_of, powered
from checker.operating.points import Point, State
from checker.tracing.model import Spot


class Grounds(Struct, frozen=True):
    """``black`` holds a spot and its name for each island, the reference first; ``island_of`` the number of the island of each
    net of the list's circuit, where it is not the first."""

    black: tuple[tuple[Conductor, str], ...]
    island_of: dict[int, int]

    def of_net(self, net: int | None) -> tuple[Spot | None, str]:
        """Where the black probe goes for a net: nothing and "" for the reference."""
        number = self.island_of.get(net, 0) if net is not None else 0
        return self.black[number] if number else (None, "")


def grounds_of(circuit: Circuit, states: Sequence[State]) -> Grounds | None:
    """The grounds of a circuit in any of the states; None where nothing feeds it."""
    candidates = _candidates(circuit)
    if not candidates:
        return None
    islands = islands_of(*powered(circuit, [Point(state, NOMINAL) for state in states]))
    number = {net: n for n, nets in enumerate(islands) for net in nets}
    black: list[tuple[Conductor, str]] = []
    order: dict[int, int] = {}
    for key, pin in candidates:
        island = number.get(circuit.pin_net[key, pin], -1)
        if not black or island not in order:
            order[island] = len(black)
            black.append(_spot(circuit, key, pin))
    return Grounds(tuple(black), {net: order[n] for net, n in number.items() if order.get(n, 0)})


def _candidates(circuit: Circuit) -> list[tuple[str, str]]:
    """Controllers' GND, then supplies' minus, the one on which most supplies meet before the others."""
    parts = circuit.bench.parts.items()
    supplies = [(key, "-") for key, part in parts if part.is_supply]
    meeting = {pin: sum(circuit.part(other).is_supply for other, _ in circuit.pins_on[circuit.pin_net[pin]]) for pin in supplies}
    return [*((key, "GND") for key, part in parts if part.is_controller), *sorted(supplies, key=lambda pin: -meeting[pin])]


def _spot(circuit: Circuit, key: str, pin: str) -> tuple[Conductor, str]:
    own = circuit.conductor_of[key, pin]
    boards = [other for _, other, data in circuit.conductors.edges(own, data=True) if "wire" not in data]
    name = f"{circuit.part(key).name}.{pin}" if isinstance(own, Lead) and not boards else circuit.place_of[key, pin]
    return (boards[0] if boards else own), name
