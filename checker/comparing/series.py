"""Parts in series: two-terminal parts in a row with nothing else between them.

The same current flows through all of them in whatever order they stand, so the order is no difference of the circuit.
Input: a form. Output: its chains. A net that an ``expect`` names is looked at, so it stays.
"""

from __future__ import annotations

from msgspec import Struct

from checker.circuit.build import conductor_at
from checker.comparing.form import Form
from parts_library.schema import SupplyKind


class Chain(Struct, frozen=True):
    """``links`` are (block, joint toward the start, joint toward the end) in order; ``start`` and ``end`` the nets at
    the ends, ``inner`` those between."""

    links: tuple[tuple[int, int, int], ...]
    start: int
    end: int
    inner: tuple[int, ...]

    @property
    def blocks(self) -> tuple[int, ...]:
        return tuple(block for block, _, _ in self.links)

    def outer(self) -> list[tuple[int, int, int]]:
        """(block, joint, net at that end) as if every part spanned the whole chain."""
        return [place for block, first, last in self.links
                for place in ((block, first, self.start), (block, last, self.end))]


def chains_of(form: Form) -> list[Chain]:
    """The chains of at least two parts, each once."""
    watched = _watched(form)
    inner = {net for net, places in form.nets.items() if net not in watched and len(places) == 2
             and places[0][0] != places[1][0] and all(_links(form, block) for block, _ in places)}
    chains, seen = [], set[int]()
    for number in range(len(form.blocks)):
        if number in seen or not _links(form, number):
            continue
        chain = _from(form, number, inner)
        if chain is not None:
            seen.update(chain.blocks)
            if len(chain.links) > 1:
                chains.append(chain)
    return chains


def _links(form: Form, number: int) -> bool:
    block = form.blocks[number]
    return len(block.joints) == 2 and block.parent is None and number not in form.children \
        and not isinstance(block.entry, SupplyKind)


def _from(form: Form, number: int, inner: set[int]) -> Chain | None:
    """The chain that a part is in; None where it closes on itself."""
    first, joint = number, 0
    visited = {number}
    while (net := form.blocks[first].joints[joint].net) in inner:
        first, back = _across(form, net, first)
        joint = 1 - back
        if first in visited:
            return None
        visited.add(first)
    links = [(first, joint, 1 - joint)]
    nets = []
    while (net := form.blocks[links[-1][0]].joints[links[-1][2]].net) in inner:
        block, near = _across(form, net, links[-1][0])
        nets.append(net)
        links.append((block, near, 1 - near))
    return Chain(tuple(links), form.blocks[first].joints[joint].net, net, tuple(nets))


def _across(form: Form, net: int, block: int) -> tuple[int, int]:
    """The other (block, joint) on a net of two."""
    one, other = form.nets[net]
    return other if one[0] == block else one


def _watched(form: Form) -> set[int]:
    """The nets that an expectation names by a hole or a node."""
    circuit = form.circuit
    conductors = [conductor_at(circuit, expect.subject) for expect in circuit.bench.expects]
    return {circuit.net_of[conductor] for conductor in conductors if conductor in circuit.net_of}
