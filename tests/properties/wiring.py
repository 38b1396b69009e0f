"""The same nets by other wires, and parts without polarity the other way round.

Each change is a function (text, chance) -> text; where nothing fits it gives the statements as they were.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import repeat
from random import Random
from typing import Any

import networkx as nx
from msgspec import structs

from grammar.syntax_tree import Hole, Part, Pin, PlacedIn, Point, Rail, Statement, Supply, Wire
from parts_library.schema import Capacitor, Fuse, Inductor, Load, Resistor, SensorResistor, Switch
from tests.properties.holes import covered
from tests.properties.judging import surveyed
from tests.properties.lists import statements_of, written
from tests.properties.points import COLUMNS, Boards, points_in, with_points

# ── other ways of the wires ───────────────────────────────────────────────────────────────────────────────────────


def rerouted(text: str, chance: Random) -> str:
    """The conductors that wires join, joined as a star, as a chain or as any tree. Nets in which a wire ends in an empty strip
    keep their wires, as do those of rails that may be split: there the way is what the list is about."""
    statements = statements_of(text)
    boards = Boards(statements)
    busy = _seated(text)
    wires = [s for s in statements if isinstance(s, Wire)]
    joined: nx.Graph[object] = nx.Graph()
    for wire in wires:
        nx.add_path(joined, [_conductor(point) for point in wire.points])
    taken = {p.text.lower() for p in points_in(statements) if isinstance(p, Hole)} | covered(list(statements))
    taken |= {s.name.text.lower() for s in statements if isinstance(s, Part | Supply)}
    new: list[Statement] = []
    replaced: set[int] = set()
    for members in list(nx.connected_components(joined)):
        own = [wire for wire in wires if _conductor(wire.points[0]) in members]
        points = [point for wire in own for point in wire.points]
        if all(_may_be_rerouted(point, busy, boards) for point in points) and len(members) > 2:
            pairs = _paired(points, set(taken), chance)
            if pairs is not None:
                replaced |= {id(wire) for wire in own}
                new += [Wire(pair, own[0].span) for pair in pairs]
                taken |= {p.text.lower() for pair in pairs for p in pair}
    return written([s for s in statements if id(s) not in replaced] + new)


def _conductor(point: Point) -> object:
    """What the board or the lead joins by itself: a strip, a rail, a pin, a node."""
    if isinstance(point, Hole):
        return (point.board or "").lower(), point.row, point.column in COLUMNS[:5]
    if isinstance(point, Rail):
        return (point.board or "").lower(), point.side, point.sign
    return point.text.lower()


def _seated(text: str) -> set[object]:
    """The strips that a leg or a supply's lead is in."""
    operatings = surveyed(text).operatings
    spots = [spot for o in operatings[:1] for seat in o.circuit.reading.seats.values() for spot in seat.legs.values()]
    ends = [p for s in statements_of(text) if isinstance(s, Supply) for p in s.terminals]
    return {_conductor(point) for point in (*spots, *ends)}


def _may_be_rerouted(point: Point, busy: set[object], boards: Boards) -> bool:
    if isinstance(point, Rail):
        return not boards.may_be_split(point.board)
    return isinstance(point, Pin) or (isinstance(point, Hole) and _conductor(point) in busy)


def _paired(points: list[Point], taken: set[str], chance: Random) -> list[tuple[Point, Point]] | None:
    """Wires that join the conductors of these points as a tree, each end in a hole of its own, or None where the holes do not
    suffice."""
    ends: dict[object, list[Point]] = {}
    for point in points:
        ends.setdefault(_conductor(point), []).append(point)
    conductors = chance.sample(list(ends), len(ends))
    holes = {conductor: _holes_for(of_conductor, taken) for conductor, of_conductor in ends.items()}
    pairs = [(next(holes[conductors[before]], None), next(holes[conductors[after]], None))
             for before, after in _tree(len(conductors), chance)]
    complete = [(one, other) for one, other in pairs if one is not None and other is not None]
    return complete if len(complete) == len(pairs) else None


def _tree(count: int, chance: Random) -> list[tuple[int, int]]:
    """A star, a chain or any tree of so many."""
    shape = chance.choice(("star", "chain", "any"))
    return [({"star": 0, "chain": n - 1}.get(shape, chance.randrange(n)), n) for n in range(1, count)]


def _holes_for(ends: list[Point], taken: set[str]) -> Iterator[Point]:
    """Where the next wires of a conductor may end: where its wires ended, then the other free holes of its strip."""
    first = ends[0]
    if not isinstance(first, Hole):
        yield from repeat(first)
        return
    yield from {end.text.lower(): end for end in ends}.values()
    prefix = f"{first.board}:" if first.board else ""
    for column in COLUMNS[:5] if first.column in COLUMNS[:5] else COLUMNS[5:]:
        text = f"{prefix}{column}{first.row}"
        if text.lower() not in taken:
            taken.add(text.lower())
            yield structs.replace(first, column=column, text=text)


# ── parts without polarity ────────────────────────────────────────────────────────────────────────────────────────


def turned_round(text: str, chance: Random) -> str:
    """Resistors, ceramic capacitors, fuses and coils with their legs exchanged, motors with their leads, buttons by half a
    turn; each by chance, at least one where there is one."""
    statements = statements_of(text)
    parts = [s for s in statements if isinstance(s, Part) and _has_two_like_ends(text, s)]
    chosen = {s.name.text.lower() for s in chance.sample(parts, chance.randint(1, len(parts)))} if parts else set()
    in_holes = {s.name.text.lower() for s in parts if isinstance(s.place, PlacedIn)}
    by_name = chosen - {s.name.text.lower() for s in parts if s.place is not None}

    def lead(one: Any) -> Any:
        exchange = isinstance(one, Pin) and one.part.lower() in by_name and one.pin in ("1", "2")
        return structs.replace(one, pin=str(3 - int(one.pin))) if exchange else one

    def turned(statement: Statement) -> Statement:
        if isinstance(statement, Part) and statement.name.text.lower() in chosen & in_holes:
            assert isinstance(statement.place, PlacedIn)
            return structs.replace(statement, place=structs.replace(statement.place, points=statement.place.points[::-1]))
        return with_points(statement, lead) if isinstance(statement, Wire) else statement

    return written([turned(statement) for statement in statements])


def _has_two_like_ends(text: str, part: Part) -> bool:
    entry = surveyed(text).bench.parts[part.name.text.lower()].entry
    if part.claim is not None or any(
            isinstance(p, Pin) and p.part.lower() == part.name.text.lower() and part.place is not None
            for p in points_in(statements_of(text))):
        return False
    if isinstance(entry, Capacitor):
        return not entry.polarised
    if isinstance(entry, Load):
        return entry.pins == ("1", "2") and not entry.one_way and entry.type in ("motor", "solenoid", "heater")
    if isinstance(entry, Switch):
        return entry.pins == ("1", "2") or (entry.pins == ("1", "2", "3", "4") and isinstance(part.place, PlacedIn))
    return isinstance(entry, Resistor | SensorResistor | Fuse | Inductor) and entry.pins == ("1", "2")
