"""A circuit as it is compared: blocks (parts and the units in them) and nets.

Input: a Circuit. Output: a ``Form``. Holes, jumpers and names of nets are gone; what is left is which terminal of which
block is on which net.
"""

from __future__ import annotations

from collections.abc import Mapping

import networkx as nx
from msgspec import Struct, structs

from checker.circuit.model import Circuit
from checker.comparing.shapes import Shape, Terminal, shape_of
from parts_library.schema import AnyEntry, Switch


class Joint(Struct, frozen=True):
    """A terminal of a block on its net."""

    terminal: Terminal
    net: int


class Block(Struct, frozen=True):
    """A part, or a unit in one. Blocks of the same ``group`` may stand for each other; ``parent`` is the place of the
    unit's part in the form's blocks, None for a part; ``unit`` the unit's name; ``width`` the terminals of a part, those of
    its units with them."""

    key: str
    entry: AnyEntry
    group: str
    joints: tuple[Joint, ...]
    parent: int | None = None
    unit: str = ""
    numbered: bool = False
    width: int = 0


class Form(Struct, frozen=True):
    """``nets`` maps each net to its (block, joint) places; ``children`` each part to its units; ``idle`` are the units of
    which nothing is connected; ``shapes`` the shapes of parts whose alike halves are taken for each other."""

    circuit: Circuit
    blocks: tuple[Block, ...]
    nets: dict[int, tuple[tuple[int, int], ...]]
    children: dict[int, tuple[int, ...]]
    idle: frozenset[int]
    shapes: Mapping[str, Shape] = {}

    def is_alone(self, net: int) -> bool:
        return len(self.nets[net]) < 2

    def is_idle(self, block: int) -> bool:
        """True for a unit of which nothing is connected."""
        return block in self.idle

    def name(self, block: int) -> str:
        return self.circuit.bench.parts[self.blocks[block].key].name


Pins = Mapping[tuple[str, str], int]


def form_of(circuit: Circuit, pin_net: Pins | None = None, shapes: Mapping[str, Shape] | None = None) -> Form:
    """The form of a circuit; ``pin_net`` replaces the nets of its pins (a part thought to be turned), ``shapes`` the shapes of
    some of its parts (halves thought to be exchanged)."""
    shapes = shapes or {}
    net_of = _nets_with_closed_contacts(circuit, pin_net or circuit.pin_net)
    blocks: list[Block] = []
    children: dict[int, tuple[int, ...]] = {}
    for key, part in circuit.bench.parts.items():
        if part.entry is None:
            continue
        shape = shapes.get(key) or shape_of(part.entry)
        place = len(blocks)
        width = len(shape.terminals) + sum(len(unit.terminals) for unit in shape.units)
        blocks.append(structs.replace(_block(key, part.entry, _full_group(shape), shape.terminals, net_of), width=width))
        for unit in shape.units:
            blocks.append(_block(key, part.entry, f"unit {unit.kind}", unit.terminals, net_of, place, unit.name, unit.numbered))
        if shape.units:
            children[place] = tuple(range(place + 1, len(blocks)))
    nets: dict[int, list[tuple[int, int]]] = {}
    for number, block in enumerate(blocks):
        for joint_number, joint in enumerate(block.joints):
            nets.setdefault(joint.net, []).append((number, joint_number))
    idle = frozenset(number for number, block in enumerate(blocks) if block.parent is not None
                     and all(len(nets[joint.net]) < 2 for joint in block.joints))
    return Form(circuit, tuple(blocks), {net: tuple(places) for net, places in nets.items()}, children, idle, shapes)


def pin_nets(form: Form) -> dict[tuple[str, str], int]:
    """The net of each pin in a form."""
    return {(block.key, pin): joint.net for block in form.blocks for joint in block.joints for pin in joint.terminal.pins}


def _block(key: str, entry: AnyEntry, group: str, terminals: tuple[Terminal, ...], net_of: Pins, parent: int | None = None,
           unit: str = "", numbered: bool = False) -> Block:
    joints = tuple(Joint(terminal, net_of[key, terminal.pins[0]]) for terminal in terminals)
    return Block(key, entry, group, joints, parent, unit, numbered)


def _full_group(shape: Shape) -> str:
    """The group with its loose classes and units, so that blocks of a group have terminals for each other's."""
    loose = sorted(terminal.loose or f"={terminal.label}" for terminal in shape.terminals)
    kinds = sorted(unit.kind for unit in shape.units)
    return f"{shape.group} {' '.join(loose)} {' '.join(kinds)}"


def _nets_with_closed_contacts(circuit: Circuit, pin_net: Pins) -> dict[tuple[str, str], int]:
    """The net of each pin, with nets that a part itself always joins taken as one."""
    joined: nx.Graph[int] = nx.Graph()
    joined.add_nodes_from(pin_net.values())
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, Switch):
            joined.add_edges_from((pin_net[key, c.pins[0]], pin_net[key, c.pins[1]])
                                  for c in part.entry.contacts if not c.when)
    one = {net: min(found) for found in nx.connected_components(joined) for net in found}
    return {pin: one[net] for pin, net in pin_net.items()}
