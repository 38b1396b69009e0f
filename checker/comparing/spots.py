"""Which free hole stands for a net: the nearest one to where the hand is, on the same board before any other.

Input: the given circuit; nets by number. Output: places as lists write them ("SENSE:c12", "L-5", "U1.GND"), "" where there is
none. A place that was given counts as taken afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist

from msgspec import Struct

from checker.circuit.model import Circuit, Conductor, Lead, NamedNode
from checker.fixes.places import Places, board_prefix
from checker.seating.boards import COLUMNS, RailPiece, Strip, name_of, position
from checker.seating.seat import all_points
from grammar.syntax_tree import Hole, Rail, Span

OTHER_BOARD = 1000.0
"""Holes by which another board is farther than any hole of the same one."""

BODY = 4.0
"""Holes between the two leads of a part that lies on the board: a quarter-watt resistor bends to 10 mm (common
practice, no source)."""

CROWDED, TO_A_RAIL = 20.0, 3.0
"""What counts against two holes that are nearer than a body, and against a lead that goes to a rail."""

_NOWHERE = Span(1, 1, 1, 1)


class Spot(Struct, frozen=True):
    """A free hole: its ``name``, its ``board`` in lower case, ``x`` and ``y`` in holes, whether it is a hole of a rail."""

    name: str
    board: str
    x: float
    y: float
    on_rail: bool = False

    def away(self, other: Spot) -> float:
        """How far two holes are apart, in holes."""
        return dist((self.x, self.y), (other.x, other.y)) + OTHER_BOARD * (self.board != other.board)


class Spots:
    """The free holes of one circuit."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.taken = set(Places(circuit).taken)
        self.taken.update(end.lower() for jumper in circuit.jumpers for end in jumper.ends)
        self.taken.update(place.lower() for place in circuit.place_of.values())
        self.taken.update(name_of(point).lower() for point in all_points(circuit.bench) if isinstance(point, Rail))

    def nearest(self, nets: Sequence[int], to: str) -> tuple[str, float]:
        """The free hole of the nets that is nearest to a place on the board, and how far it is; ("", inf) without either."""
        here = self.where(to)
        free = [] if here is None else [(here.away(spot), spot) for spot in self._free(nets)]
        away, spot = min(free, key=lambda one: one[0], default=(float("inf"), None))
        return (spot.name, away) if spot is not None else ("", away)

    def first(self, nets: Sequence[int]) -> str:
        """A place for a net where nothing is to be near to: a rail, a hole, a pin, a joint."""
        free = sorted(self._free(nets), key=lambda spot: (not spot.on_rail, spot.y < 2))
        return free[0].name if free else self.by_name(nets)

    def by_name(self, nets: Sequence[int]) -> str:
        """A pin or a joint of the nets, for what is not on a board."""
        members = [conductor for net in nets for conductor in self.circuit.members.get(net, ())]
        leads = [f"{self.circuit.bench.parts[one.part].name}.{one.pin}" for one in members
                 if isinstance(one, Lead) and one.part in self.circuit.bench.parts]
        return next(iter([*leads, *(f"@{one.name}" for one in members if isinstance(one, NamedNode))]), "")

    def wire(self, one: Sequence[int], other: Sequence[int]) -> tuple[str, str]:
        """The two ends of a new wire between nets: the nearest free holes, or where there are none what has a name."""
        pairs = [(a.away(b), a, b) for a in self._free(one) for b in self._free(other)]
        if pairs:
            _, a, b = min(pairs, key=lambda pair: pair[0])
            return self.take(a.name), self.take(b.name)
        first = self.by_name(one) or self.first(one)
        return first, self.first(other)

    def leads(self, one: Sequence[int], other: Sequence[int]) -> tuple[str, str]:
        """Two free holes between which the body of a part fits, its leads as short as can be."""
        pairs = [(_fit(a, b), a, b) for a in self._free(one) for b in self._free(other)]
        if pairs:
            _, a, b = min(pairs, key=lambda pair: pair[0])
            return self.take(a.name), self.take(b.name)
        return self.first(one), self.first(other)

    def take(self, name: str) -> str:
        """The place, which counts as taken from here on."""
        self.taken.add(name.lower())
        return name

    def where(self, place: str) -> Spot | None:
        """A place on a board as a spot; None for a pin and for what is on no board."""
        for conductor in self.circuit.net_of:
            for spot in self._holes(conductor):
                if spot.name.lower() == place.lower():
                    return spot
        return None

    def _free(self, nets: Sequence[int]) -> list[Spot]:
        return [spot for net in nets for conductor in self.circuit.members.get(net, ()) for spot in self._holes(conductor)
                if spot.name.lower() not in self.taken]

    def _holes(self, conductor: Conductor) -> Iterator[Spot]:
        """The holes of a strip or a rail, taken or not."""
        if isinstance(conductor, Strip):
            prefix = board_prefix(self.circuit, conductor.board)
            for column in COLUMNS[:5] if conductor.half == "a" else COLUMNS[5:]:
                x, y = position(Hole(column, conductor.row, "", _NOWHERE))
                yield Spot(f"{prefix}{column}{conductor.row}", conductor.board, x, y)
        elif isinstance(conductor, RailPiece):
            plan = self.circuit.reading.plans.get(conductor.board)
            prefix = board_prefix(self.circuit, conductor.board)
            for row in range(1, plan.rows + 1 if plan is not None else 1):
                rail = Rail(conductor.side, conductor.sign, row, "", _NOWHERE)
                if plan is not None and plan.rail_piece(rail) == conductor:
                    x, y = position(rail)
                    yield Spot(f"{prefix}{conductor.side}{conductor.sign}{row}", conductor.board, x, y, on_rail=True)


def _fit(one: Spot, other: Spot) -> float:
    """How badly a part lies in two holes."""
    away = one.away(other)
    return abs(away - BODY) + CROWDED * (away < BODY - 1.0) + TO_A_RAIL * (one.on_rail + other.on_rail)
