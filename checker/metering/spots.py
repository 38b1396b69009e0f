"""Where probes reach: a free hole of a strip for a bare jumper end, a hole of a rail, a printed pin, a lead.

Probes are thicker than holes, so a strip is met in a free hole of its own; where all five are taken, at a leg in it.
"""

from __future__ import annotations

from checker.circuit.model import Circuit, Conductor, Lead, NamedNode
from checker.fixes.places import Places, board_prefix
from checker.metering.model import Spot
from checker.seating.boards import RailPiece, Strip


class Spots:
    """The spots of one circuit; a conductor has the same spot each time it is asked for."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self._places = Places(circuit)
        self._known: dict[Conductor, Spot | None] = {}
        self._written = {end.lower() for jumper in circuit.jumpers for end in jumper.ends}

    def of(self, conductor: Conductor) -> Spot | None:
        """Where a probe meets a conductor, or None where it cannot."""
        if conductor not in self._known:
            self._known[conductor] = self._find(conductor)
        return self._known[conductor]

    def of_net(self, net: int, apart_from: Conductor | None = None) -> tuple[Conductor, Spot] | None:
        """The handiest conductor of a net and its spot: a rail, then a strip, then a pin."""
        found = [(self._rank(c), number, c) for number, c in enumerate(self.circuit.members[net]) if c != apart_from]
        for _, _, conductor in sorted(found, key=lambda item: item[:2]):
            if (spot := self.of(conductor)) is not None:
                return conductor, spot
        return None

    def _rank(self, conductor: Conductor) -> int:
        if isinstance(conductor, RailPiece):
            return 0
        if isinstance(conductor, Strip):
            return 1
        if isinstance(conductor, Lead):
            return 3 if conductor.part in self.circuit.bench.parts and self.circuit.part(conductor.part).is_supply else 2
        return 4

    def _find(self, conductor: Conductor) -> Spot | None:
        if isinstance(conductor, Strip):
            return self._in_strip(conductor)
        if isinstance(conductor, RailPiece):
            return self._in_rail(conductor)
        if isinstance(conductor, NamedNode):
            return Spot(f"@{conductor.name}", f"the bare joint @{conductor.name}")
        part = self.circuit.part(conductor.part)
        point = f"{part.name}.{conductor.pin}"
        if part.is_supply:
            return Spot(point, f"the end of the wire for {point}")
        return Spot(point, f"pin {point}" if part.is_controller else f"lead {point}")

    def _in_strip(self, strip: Strip) -> Spot | None:
        hole = self._places.free_in(strip)
        if hole is not None:
            return Spot(hole, f"free hole {hole}")
        for (key, pin), conductor in self.circuit.conductor_of.items():
            if conductor == strip:
                place = self.circuit.place_of[key, pin]
                return Spot(place, f"the leg of {self.circuit.part(key).name} in {place}")
        return None

    def _in_rail(self, rail: RailPiece) -> Spot:
        plan = self.circuit.reading.plans.get(rail.board)
        prefix = board_prefix(self.circuit, rail.board)
        rows = plan.rows if plan is not None else 30
        first = rows // 2 + 2 if rail.piece else 3
        for row in range(first, rows + 1):
            point = f"{prefix}{rail.side}{rail.sign}{row}"
            if point.lower() not in self._written:
                return Spot(point, f"rail hole {point}")
        return Spot(f"{prefix}{rail.side}{rail.sign}", f"rail {prefix}{rail.side}{rail.sign}")
