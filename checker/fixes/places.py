"""Free places on the board: the holes, rows and names that a fix can use."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

from checker.circuit.model import Circuit, Lead
from checker.seating.boards import COLUMNS, BoardPlan, RailPiece, Strip, name_of
from checker.seating.seat import all_points
from grammar.syntax_tree import Hole, Part, PlacedIn


def board_prefix(circuit: Circuit, board: str) -> str:
    """What stands before a hole where there are several boards: "LOGIC:"."""
    if len(circuit.reading.plans) < 2 or board not in circuit.bench.boards:
        return ""
    name = circuit.bench.boards[board].name
    return f"{name}:" if name else ""


_latest: list[tuple[Circuit, frozenset[str]]] = []


def _taken_in(circuit: Circuit) -> frozenset[str]:
    """The holes that a lead or leg is in; worked out once for the circuit that fixes are being sought for."""
    if not _latest or _latest[0][0] is not circuit:
        taken = {name_of(p).lower() for p in all_points(circuit.bench) if isinstance(p, Hole)}
        for seat in circuit.reading.seats.values():
            taken.update(name_of(spot).lower() for spot in seat.legs.values())
        _latest[:] = [(circuit, frozenset(taken))]
    return _latest[0][1]


class Places:
    """What is taken on the boards of one circuit."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.taken = set(_taken_in(circuit))
        self._given: set[str] = set()

    @property
    def plan(self) -> BoardPlan | None:
        """The board that additions go on: the first one."""
        return next(iter(self.circuit.reading.plans.values()), None)

    def free_in(self, strip: Strip) -> str | None:
        """A free hole of a strip; the hole counts as taken afterwards."""
        prefix = board_prefix(self.circuit, strip.board)
        for column in COLUMNS[:5] if strip.half == "a" else COLUMNS[5:]:
            hole = f"{prefix}{column}{strip.row}"
            if hole.lower() not in self.taken:
                self.taken.add(hole.lower())
                return hole
        return None

    def free_strip(self, near: Strip, within: int = 8) -> Strip | None:
        """A strip in which nothing stands, as near as possible on the same side of the channel, else across it."""
        used = {c for c in self.circuit.net_of if isinstance(c, Strip)}
        plan = self.circuit.reading.plans.get(near.board)
        rows = plan.rows if plan is not None else 30
        for half in (near.half, "f" if near.half == "a" else "a"):
            for distance in range(0 if half != near.half else 2, rows):
                for row in (near.row + distance, near.row - distance):
                    strip = Strip(near.board, row, half)
                    if 1 <= row <= rows and strip not in used and str(strip) not in self._given \
                            and (half == near.half or distance <= within):
                        self._given.add(str(strip))
                        return strip
        return None

    def spot_in_net(self, net: int) -> str | None:
        """A way to write a connection to a net: a free hole of one of its strips, a rail, or a pin by name."""
        members = self.circuit.members[net]
        for conductor in members:
            if isinstance(conductor, Strip) and (hole := self.free_in(conductor)) is not None:
                return hole
        for conductor in members:
            if isinstance(conductor, RailPiece):
                return self.rail_spot(conductor)
        for conductor in members:
            if isinstance(conductor, Lead) and conductor.part in self.circuit.bench.parts:
                return f"{self.circuit.bench.parts[conductor.part].name}.{conductor.pin}"
        return None

    def rail_spot(self, rail: RailPiece) -> str:
        """A hole of a rail, on the right piece where the rail is split."""
        plan = self.circuit.reading.plans.get(rail.board)
        prefix = board_prefix(self.circuit, rail.board)
        row = plan.rows - 1 if plan is not None and rail.piece else 2
        return f"{prefix}{rail.side}{rail.sign}{row}"


def free_name(circuit: Circuit, letters: str) -> str:
    """The next unused name with these letters: R2 after R1."""
    return next(free_names(circuit, letters))


def free_names(circuit: Circuit, letters: str) -> Iterator[str]:
    """All unused names with these letters, from 1 on."""
    names = (f"{letters}{number}" for number in count(1))
    return (name for name in names if name.lower() not in circuit.bench.parts)


def holes_of(part: Part) -> tuple[Hole, ...]:
    """The holes that ``in`` gives a part."""
    if not isinstance(part.place, PlacedIn):
        return ()
    return tuple(point for point in part.place.points if isinstance(point, Hole))
