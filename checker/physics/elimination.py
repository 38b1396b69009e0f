"""The order in which the nodes of one wiring are eliminated, worked out once for all members and iterations.

Breadboards are sparse: most nodes have two or three neighbours, and few (the rails) have many. Nodes that are no
neighbours of each other are eliminated together, those with few neighbours first (minimum degree: Tinney and Walker,
Proceedings of the IEEE 55, 1967), until a small core is left that is dense. So a level is a handful of array operations on
all members, and the work grows with the number of elements, not with the cube of the nodes.

Input: which entries of the matrix can be anything but 0. Output: a `Plan` of places.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from .limits import CORE_NODES, DEGREE_SLACK
from .stack import Ints
from .sums import Sums


class Level(NamedTuple):
    """Nodes that are eliminated together. Slots are places of entries: ``diagonals`` (p,) of the pivots; ``column`` (c,)
    below them, each of pivot ``column_of``; products (t,) of entry ``left`` of the column with slot ``right`` are added up
    (``into``) for ``targets`` (u,). ``row`` (r,) right of the pivots, each of node ``row_node`` and added up (``back``) for
    its pivot, serves the way back."""

    pivots: Ints
    diagonals: Ints
    column: Ints
    column_of: Ints
    left: Ints
    right: Ints
    into: Sums
    targets: Ints
    row: Ints
    row_node: Ints
    back: Sums


class Plan(NamedTuple):
    """``size`` nodes; ``slots`` places in all: first the given entries, then what fills in, then one for the wanted value of
    each node, then a 0. ``core`` (m,) are the nodes left over, ``core_slots`` (m, m) their entries."""

    size: int
    slots: int
    filled: int
    levels: tuple[Level, ...]
    core: Ints
    core_slots: Ints
    work: int


def plan_of(rows: Ints, columns: Ints, size: int) -> Plan:
    """The plan for a matrix of this size with entries at these places, each given once."""
    return _remembered(rows.astype(np.int32).tobytes(), columns.astype(np.int32).tobytes(), size)


@lru_cache(maxsize=64)
def _remembered(rows: bytes, columns: bytes, size: int) -> Plan:
    places = zip(np.frombuffer(rows, np.int32).tolist(), np.frombuffer(columns, np.int32).tolist(), strict=True)
    return _Planning({place: number for number, place in enumerate(places)}, size).plan()


class _Planning:
    """The matrix as a graph while its nodes are eliminated."""

    def __init__(self, slot: dict[tuple[int, int], int], size: int) -> None:
        self.slot, self.size, self.given = slot, size, len(slot)
        self.near: list[set[int]] = [set() for _ in range(size)]
        for one, other in list(slot):
            if one != other:
                self.near[one].add(other)
                self.near[other].add(one)
        self.left = set(range(size))

    def plan(self) -> Plan:
        orders = list(self._orders())
        levels = [self._places(order) for order in orders]
        core = sorted(self.left)
        filled = len(self.slot)
        wanted = filled + np.arange(self.size)
        zero = filled + self.size
        core_slots = [[self.slot.get((one, other), zero) for other in core] for one in core]
        made = tuple(_level(order, places, wanted) for order, places in zip(orders, levels, strict=True))
        work = sum(len(level.left) + 2 * len(level.row) for level in made) + len(core) ** 3
        return Plan(self.size, zero + 1, filled, made, np.array(core, dtype=np.intp),
                    np.array(core_slots, dtype=np.intp).reshape(len(core), len(core)), work)

    def _orders(self) -> Iterator[list[tuple[int, list[int]]]]:
        """Level by level the nodes to eliminate, each with its neighbours at that time."""
        while len(self.left) > CORE_NODES:
            degree = {node: len(self.near[node]) for node in self.left}
            least = min(degree.values())
            if least * 2 >= len(self.left):
                return
            bound = least + DEGREE_SLACK
            chosen: list[int] = []
            blocked: set[int] = set()
            for node in sorted((node for node in self.left if degree[node] <= bound), key=lambda node: (degree[node], node)):
                if node not in blocked:
                    chosen.append(node)
                    blocked |= self.near[node]
            yield [(node, self._removed(node)) for node in chosen]

    def _removed(self, node: int) -> list[int]:
        """Takes a node out; its neighbours become neighbours of each other."""
        around = sorted(self.near[node])
        self.left.discard(node)
        for one in around:
            self.near[one].discard(node)
            self.near[one].update(other for other in around if other != one)
        return around

    def _places(self, order: list[tuple[int, list[int]]]) -> list[tuple[int, list[int], list[int], list[int], list[int]]]:
        """For each pivot: its diagonal's slot, its neighbours, the slots of its column, of its row, of the products."""
        found = []
        for node, around in order:
            column = [self._of(one, node) for one in around]
            row = [self._of(node, one) for one in around]
            products = [self._of(one, other) for one in around for other in around]
            found.append((self._of(node, node), around, column, row, products))
        return found

    def _of(self, row: int, column: int) -> int:
        return self.slot.setdefault((row, column), len(self.slot))


def _level(order: list[tuple[int, list[int]]], places: list[tuple[int, list[int], list[int], list[int], list[int]]],
           wanted: Ints) -> Level:
    column: list[int] = []
    column_of: list[int] = []
    row: list[int] = []
    row_node: list[int] = []
    left: list[int] = []
    right: list[int] = []
    into: list[int] = []
    for number, ((node, around), (_, _, below, beside, products)) in enumerate(zip(order, places, strict=True)):
        first, count = len(column), len(around)
        column.extend(below)
        column_of.extend([number] * count)
        row.extend(beside)
        row_node.extend(around)
        for place in range(count):
            left.extend([first + place] * (count + 1))
            right.extend((*beside, int(wanted[node])))
            into.extend((*products[place * count:(place + 1) * count], int(wanted[around[place]])))
    targets, which = np.unique(_ints(into), return_inverse=True)
    pivots, diagonals = [node for node, _ in order], [place[0] for place in places]
    return Level(_ints(pivots), _ints(diagonals), _ints(column), _ints(column_of), _ints(left), _ints(right),
                 Sums(which.ravel(), len(targets)), targets, _ints(row), _ints(row_node), Sums(_ints(column_of), len(order)))


def _ints(values: list[int]) -> Ints:
    return np.array(values, dtype=np.intp)
