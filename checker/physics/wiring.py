"""Which members of a stack share their wiring, and whether that is worth using.

Neighbours in the stack that have the same nodes at the same elements are a run: the operating points of one circuit. Long
runs of large circuits are solved as `shared`, in pieces that fit a processor's cache; all the rest at once as `assemble`'s
mixture.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from msgspec import structs

from .limits import ALWAYS_SHARED, DENSE_CUBED, DENSE_SQUARED, PIECE_NODES, SHARED_NODE, SHARED_RUN
from .stack import Elements, Ints, Stack


def pieces(stack: Stack, members: Ints) -> Iterator[tuple[Ints, bool]]:
    """The members to solve together, each time with whether they share their wiring."""
    mixed = []
    for run in _runs(stack, members):
        nodes = _nodes_of(stack, run[0])
        if shared_is_quicker(nodes, len(run)):
            most = max(PIECE_NODES // nodes, 1)
            yield from ((run[first:first + most], True) for first in range(0, len(run), most))
        else:
            mixed.append(run)
    if mixed:
        yield np.concatenate(mixed), False


def _runs(stack: Stack, members: Ints) -> list[Ints]:
    changes = np.zeros(len(members) - 1, dtype=bool) if len(members) else np.zeros(0, dtype=bool)
    for kind in stack.kinds().values():
        if kind.count and kind.nodes.strides[0]:
            nodes = kind.nodes[members]
            changes |= (nodes[1:] != nodes[:-1]).any(axis=(1, 2))
    return np.split(members, np.flatnonzero(changes) + 1) if len(members) else []


def _nodes_of(stack: Stack, member: int) -> int:
    return 1 + max((int(kind.nodes[member].max()) for kind in stack.kinds().values() if kind.count), default=0)


def shared_is_quicker(nodes: int, members: int) -> bool:
    """Whether an iteration of so many members of one wiring costs less sparse than dense."""
    dense = members * nodes ** 2 * (DENSE_SQUARED + DENSE_CUBED * nodes)
    return nodes >= ALWAYS_SHARED or dense > SHARED_RUN + SHARED_NODE * nodes * members


def trimmed(stack: Stack) -> Stack:
    """Members of one wiring without the padding that others needed."""
    kinds: list[Any] = [_without_padding(kind) for kind in stack.kinds().values()]
    return Stack(_nodes_of(stack, 0), *kinds)


def _without_padding(kind: Elements) -> Elements:
    used = kind.nodes[0].any(axis=1) if kind.members else np.ones(kind.count, dtype=bool)
    if used.all():
        return kind
    return structs.replace(kind, nodes=kind.nodes[:, used], **{name: getattr(kind, name)[:, used] for name in kind.HARMLESS})
