"""A list read, seated and connected, in the short text that the tables are written in."""

from __future__ import annotations

from functools import cache

from msgspec import Struct

from checker.bench.inventory import lay_out
from checker.bench.mishap import Mishap
from checker.circuit.build import connect
from checker.circuit.model import Circuit, NamedNode
from checker.seating.boards import name_of
from checker.seating.model import Seat, Seated
from checker.seating.seat import seat
from grammar import read
from parts_library import load_library


class OnTheBoard(Struct, frozen=True):
    """A list on its board: ``circuits`` one for each reading; ``mishaps`` of all stages, each once."""

    seated: Seated
    circuits: tuple[Circuit, ...]
    mishaps: tuple[Mishap, ...]


@cache
def on_the_board(text: str) -> OnTheBoard:
    bench, early = lay_out(read(text), load_library())
    seated = seat(bench)
    connected = [connect(seated, reading) for reading in seated.readings]
    found = [*early, *seated.mishaps, *(mishap for _, late in connected for mishap in late)]
    once = [mishap for number, mishap in enumerate(found) if mishap not in found[:number]]
    return OnTheBoard(seated, tuple(circuit for circuit, _ in connected), tuple(once))


def mishaps(text: str) -> list[str]:
    """Each mishap as its rule and, where it has one, its case: "bad-value facing-impossible"."""
    return [f"{mishap.rule} {mishap.facts.get('case', '')}".rstrip() for mishap in on_the_board(text).mishaps]


def seats(text: str) -> list[Seat]:
    """The seats of the only placed part, the list's own reading first."""
    found = [reading.seats for reading in on_the_board(text).seated.readings]
    assert all(len(reading) <= 1 for reading in found), "a row of this table has one placed part"
    return [seat for reading in found for seat in reading.values()]


def plain(seat: Seat) -> str:
    """A seat as "B:c11 C:c12 E:c10", pins in alphabetical order."""
    return in_order(" ".join(f"{pin}:{name_of(spot)}" for pin, spot in seat.legs.items()))


def in_order(legs: str) -> str:
    """The words of a seat in alphabetical order, so that rows can give them as they are seen."""
    return " ".join(sorted(legs.split()))


def joined(text: str, one: str, other: str) -> list[bool]:
    """For each reading: whether two points ("a5", "L+12", "Q1.E", "@gate") are one conductor or wired together."""
    probes = [point for point in (one, other) if not _is_pin(point)]
    lines = [text, *(f"wire {point} to @probe{number}" for number, point in enumerate(probes))]
    circuits = on_the_board("\n".join(lines)).circuits
    return [_net(circuit, one, probes) == _net(circuit, other, probes) for circuit in circuits]


def _is_pin(point: str) -> bool:
    return "." in point


def _net(circuit: Circuit, point: str, probes: list[str]) -> int:
    if _is_pin(point):
        part, _, pin = point.partition(".")
        return circuit.pin_net[part.lower(), pin]
    return circuit.net_of[NamedNode(f"probe{probes.index(point)}")]
