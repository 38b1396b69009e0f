"""A first pairing that grows from what is surely the same.

Input: two forms as one coloured graph. Output: a pairing of blocks and nets that need not be the best. Vertices whose
surroundings are alike to some depth and like no others are paired first, the deepest first; every pair makes its
neighbours candidates, and the candidate with the most neighbours paired comes next.
"""

from __future__ import annotations

from heapq import heappop, heappush

from msgspec import Struct

from checker.comparing.pairing import Pair
from checker.comparing.vertices import Vertices

DEPTH = 6
"""How far surroundings are compared: far enough to tell most parts apart, and local enough to survive a difference."""

MOST_CANDIDATES = 400
"""Pairs of parts that become candidates because two nets were paired; of wider nets only those alike to some depth."""


class Grown(Struct):
    """What is paired so far, in both directions, by vertex."""

    to: dict[int, int]
    back: dict[int, int]


def depths(vertices: Vertices) -> list[list[int]]:
    """The colours of all vertices at each depth, shallow first."""
    numbers: dict[object, int] = {}
    levels = [[numbers.setdefault(colour, len(numbers)) for colour in vertices.colour]]
    for _ in range(DEPTH):
        seen: dict[object, int] = {}
        before = levels[-1]
        levels.append([seen.setdefault((before[v], tuple(sorted((label, before[o]) for label, o in edges))), len(seen))
                       for v, edges in enumerate(vertices.edges)])
    return levels


class Growth:
    """Grows a pairing; see ``grow``."""

    def __init__(self, pair: Pair, vertices: Vertices) -> None:
        self.pair, self.vertices = pair, vertices
        self.levels = depths(vertices)
        self.grown = Grown({}, {})
        self.heap: list[tuple[float, int, int]] = []

    def grow(self) -> dict[int, int]:
        """The vertex of the given list for each of the reference that was paired."""
        for level in range(DEPTH, 0, -1):
            for one, other in self._alone_alike(level):
                self._offer(one, other, level / DEPTH)
        while True:
            while self.heap:
                _, one, other = heappop(self.heap)
                self._take(one, other)
            following = self._next_of_equals()
            if following is None:
                return self.grown.to
            self._take(*following)

    def _alone_alike(self, level: int) -> list[tuple[int, int]]:
        """Vertices that have their colour at this depth alone on their side."""
        sides: dict[int, tuple[list[int], list[int]]] = {}
        for vertex, colour in enumerate(self.levels[level]):
            sides.setdefault(colour, ([], []))[vertex >= self.vertices.border].append(vertex)
        return [(ours[0], theirs[0]) for ours, theirs in sides.values() if len(ours) == len(theirs) == 1]

    def alike_to(self, one: int, other: int) -> int:
        """To which depth two vertices have the same surroundings; -1 where they differ themselves."""
        return next((level for level in range(DEPTH, -1, -1) if self.levels[level][one] == self.levels[level][other]), -1)

    def _offer(self, one: int, other: int, bonus: float = 0.0) -> None:
        if one in self.grown.to or other in self.grown.back:
            return
        around = {theirs for _, theirs in self.vertices.edges[other]}
        ours = self.vertices.neighbours(one)
        kept = sum(self.grown.to.get(vertex) in around for vertex in ours)
        lost = sum(vertex in self.grown.to and self.grown.to[vertex] not in around for vertex in ours)
        most = max(len(ours), len(around), 1)
        score = 2.0 * (kept - lost) / most + 0.1 * self.alike_to(one, other) + bonus
        if self._is_block(one) and self.pair.same_name(self.vertices.block_of[one], self.vertices.block_of[other]):
            score += 0.01
        heappush(self.heap, (-score, one, other))

    def _is_block(self, vertex: int) -> bool:
        return vertex in self.vertices.block_of

    def _fits(self, one: int, other: int) -> bool:
        if one in self.grown.to or other in self.grown.back or self._is_block(one) != self._is_block(other):
            return False
        if not self._is_block(one):
            return True
        ours, theirs = self.vertices.block_of[one], self.vertices.block_of[other]
        return self.pair.may_pair(ours, theirs)

    def _take(self, one: int, other: int) -> None:
        """Pair two vertices and offer what is around them."""
        if not self._fits(one, other):
            return
        self.grown.to[one], self.grown.back[other] = other, one
        by_label: dict[str, tuple[list[int], list[int]]] = {}
        for side, vertex in enumerate((one, other)):
            for label, neighbour in self.vertices.edges[vertex]:
                if neighbour not in (self.grown.to, self.grown.back)[side]:
                    by_label.setdefault(label, ([], []))[side].append(neighbour)
        for ours, theirs in by_label.values():
            wide = len(ours) * len(theirs) > MOST_CANDIDATES
            for mine in dict.fromkeys(ours):
                for yours in dict.fromkeys(theirs):
                    if self._fits(mine, yours) and (not wide or self.alike_to(mine, yours) > 1):
                        self._offer(mine, yours)

    def _next_of_equals(self) -> tuple[int, int] | None:
        """Of blocks that nothing tells apart, a pair of equal names if there is one."""
        for level in range(DEPTH, -1, -1):
            sides: dict[int, tuple[list[int], list[int]]] = {}
            for vertex in self.vertices.block_of:
                side = vertex >= self.vertices.border
                if vertex not in (self.grown.to, self.grown.back)[side]:
                    sides.setdefault(self.levels[level][vertex], ([], []))[side].append(vertex)
            for ours, theirs in sides.values():
                if ours and theirs:
                    names = {self._name(vertex): vertex for vertex in theirs}
                    same = next((vertex for vertex in ours if self._name(vertex) in names), None)
                    pair = (ours[0], theirs[0]) if same is None else (same, names[self._name(same)])
                    return pair
        return None

    def _name(self, vertex: int) -> tuple[str, str]:
        form = self.pair.reference if vertex < self.vertices.border else self.pair.given
        block = form.blocks[self.vertices.block_of[vertex]]
        return block.key, block.unit
