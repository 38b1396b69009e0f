"""Exact sameness: colours are refined until they tell the vertices apart, ties are broken one at a time.

Input: two forms as one graph. Output: which vertex of the given list is which of the reference, or None. The colour of a
vertex is refined by the colours around it (Weisfeiler and Leman, 1968); where equal colours remain, one pair is singled
out and the colours refined again, and taken back if it fails. Refinement only follows what changed, and the number of
attempts is bounded, which the matchers of a general graph library do not offer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec import Struct

from checker.comparing.vertices import Vertices

MOST_ATTEMPTS = 3000
"""Pairs singled out before the search gives up: ten for each part of a very large list."""


class _Colours(Struct):
    """The state of a refinement: a colour for each vertex, and the vertices of each colour."""

    of: list[int]
    members: dict[int, set[int]]
    next_colour: int

    def copy(self) -> _Colours:
        return _Colours(list(self.of), {colour: set(found) for colour, found in self.members.items()}, self.next_colour)


class Isomorphism(Struct, frozen=True):
    """``mapping`` from vertices of the reference to those of the given list, or None; ``bounded`` where None may be
    untrue because the attempts were used up."""

    mapping: dict[int, int] | None
    bounded: bool = False


def isomorphism(vertices: Vertices, prefer: Callable[[int, int], bool]) -> Isomorphism:
    """The mapping that keeps every label and edge; of equals, those that ``prefer`` likes are tried first."""
    colours = _first(vertices)
    if not _refine(vertices, colours, range(len(vertices.edges))):
        return Isomorphism(None)
    stack: list[tuple[_Colours, int, list[int]]] = []
    attempts = 0
    while True:
        tie = _tie(vertices, colours)
        if tie is None:
            return Isomorphism(_mapping(vertices, colours))
        one, others = tie
        stack.append((colours, one, sorted(others, key=lambda other: (not prefer(one, other), other))))
        while stack:
            before, one, others = stack[-1]
            if not others:
                stack.pop()
                continue
            attempts += 1
            if attempts > MOST_ATTEMPTS:
                return Isomorphism(None, bounded=True)
            colours = before.copy() if len(others) > 1 else before
            other = others.pop(0)
            if _single_out(vertices, colours, one, other):
                break
        else:
            return Isomorphism(None)


def _first(vertices: Vertices) -> _Colours:
    numbers: dict[object, int] = {}
    colours = _Colours([numbers.setdefault(colour, len(numbers)) for colour in vertices.colour], {}, len(numbers))
    for vertex, colour in enumerate(colours.of):
        colours.members.setdefault(colour, set()).add(vertex)
    return colours


def _single_out(vertices: Vertices, colours: _Colours, one: int, other: int) -> bool:
    """Give a pair a colour of its own and refine; False where the sides no longer agree."""
    _recolour(colours, {one, other})
    return _refine(vertices, colours, {*vertices.neighbours(one), *vertices.neighbours(other)})


def _recolour(colours: _Colours, vertices: set[int]) -> None:
    for vertex in vertices:
        colours.members[colours.of[vertex]].discard(vertex)
        colours.of[vertex] = colours.next_colour
    colours.members[colours.next_colour] = vertices
    colours.next_colour += 1


def _refine(vertices: Vertices, colours: _Colours, doubtful: Iterable[int]) -> bool:
    """Split colours until every vertex of a colour sees the same around it; False where a colour has more vertices on
    one side than on the other."""
    if not all(_is_balanced(vertices, found) for found in colours.members.values()):
        return False
    doubtful = set(doubtful)
    while doubtful:
        classes: dict[int, set[int]] = {}
        for vertex in doubtful:
            classes.setdefault(colours.of[vertex], set()).add(vertex)
        doubtful = set()
        for colour in sorted(classes):
            for part in _splits(vertices, colours, colour, classes[colour]):
                if not _is_balanced(vertices, part):
                    return False
                _recolour(colours, part)
                doubtful.update(other for vertex in part for other in vertices.neighbours(vertex))
            if not _is_balanced(vertices, colours.members[colour]):
                return False
    return True


def _splits(vertices: Vertices, colours: _Colours, colour: int, doubtful: set[int]) -> list[set[int]]:
    """The vertices of a colour by what they see, without the largest set, which keeps the colour."""
    members = colours.members[colour]
    if len(members) < 2:
        return []
    seen: dict[tuple[tuple[str, int], ...], set[int]] = {}
    sure = next(iter(members - doubtful), None)
    for vertex in doubtful if sure is None else doubtful | {sure}:
        seen.setdefault(_signature(vertices, colours, vertex), set()).add(vertex)
    if len(seen) < 2:
        return []
    if sure is not None:
        seen[_signature(vertices, colours, sure)].update(members - doubtful)
    ordered = sorted(seen.items(), key=lambda item: (-len(item[1]), item[0]))
    return [found for _, found in ordered[1:]]


def _signature(vertices: Vertices, colours: _Colours, vertex: int) -> tuple[tuple[str, int], ...]:
    return tuple(sorted((label, colours.of[other]) for label, other in vertices.edges[vertex]))


def _is_balanced(vertices: Vertices, found: set[int]) -> bool:
    return 2 * sum(vertex < vertices.border for vertex in found) == len(found)


def _tie(vertices: Vertices, colours: _Colours) -> tuple[int, list[int]] | None:
    """A vertex of the reference with all that it may be, from the smallest colour that more than a pair has."""
    tied = [found for found in colours.members.values() if len(found) > 2]
    if not tied:
        return None
    least = min(tied, key=lambda found: (len(found), min(found)))
    return min(least), [vertex for vertex in least if vertex >= vertices.border]


def _mapping(vertices: Vertices, colours: _Colours) -> dict[int, int]:
    return {min(found): max(found) for found in colours.members.values() if found}
