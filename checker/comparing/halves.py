"""Halves of a chip that are alike: gates with an enable in common, which can stand for each other as a whole.

Input: an entry. Output: its shape with two halves in each other's places, once for each two. The halves of an L293D (an enable
and two outputs each) are exchangeable as the gates of a chip are.
"""

from __future__ import annotations

from itertools import combinations

from msgspec import structs

from checker.comparing.shapes import Shape, Unit, shape_of, without_names
from parts_library.logic import pins_of
from parts_library.schema import Chip


def with_halves_exchanged(entry: Chip) -> tuple[Shape, ...]:
    """The shape of a chip with two of its alike parts in each other's places: gates with an enable in common, as the two
    bridges of an L293D. Every terminal keeps its pins and takes the label of its counterpart."""
    shape = shape_of(entry)
    halves: dict[str, list[Unit]] = {}
    for unit in shape.units:
        halves.setdefault(unit.kind, []).append(unit)
    enables = _enables_in_common(entry)
    found = []
    for one, other in combinations(halves, 2):
        pins = tuple(enables.get(frozenset(unit.name for unit in halves[kind]), ()) for kind in (one, other))
        alike = one.split(" ", 1)[1:] == other.split(" ", 1)[1:] and len(halves[one]) == len(halves[other])
        alike = alike and _function(entry, halves[one]) == _function(entry, halves[other])
        if alike and pins[0] and len(pins[0]) == len(pins[1]):
            found.append(_exchanged(shape, {one: other, other: one}, {**dict(zip(*pins)), **dict(zip(*pins[::-1]))}))
    return tuple(found)


def _enables_in_common(entry: Chip) -> dict[frozenset[str], tuple[str, ...]]:
    """The pins that enable a set of outputs and nothing else, by these outputs."""
    enabled: dict[str, set[str]] = {}
    for output in entry.outputs:
        several = len(output.enabled_by) == len(output.pins)
        for number, pin in enumerate(output.pins):
            for expression in output.enabled_by[number:number + 1] if several else output.enabled_by:
                for enable in pins_of(expression):
                    enabled.setdefault(enable, set()).add(pin)
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for enable, outputs in enabled.items():
        found[frozenset(outputs)] = (*found.get(frozenset(outputs), ()), enable)
    return found


def _function(entry: Chip, units: list[Unit]) -> list[str]:
    """What the gates of a half do and when they are enabled, without the names of their pins."""
    names = {unit.name for unit in units}
    done = []
    for output in entry.outputs:
        several = len(output.enabled_by) == len(output.pins)
        for number, follows in enumerate(output.follows):
            if output.pins[number] in names:
                enabled = output.enabled_by[number] if several else "|".join(output.enabled_by)
                done.append(f"{without_names(follows, pins_of(follows))} {without_names(enabled, pins_of(enabled))} "
                            f"{output.style} {output.supply}")
    return sorted(done)


def _exchanged(shape: Shape, kinds: dict[str, str], labels: dict[str, str]) -> Shape:
    units = tuple(structs.replace(unit, kind=kinds.get(unit.kind, unit.kind)) for unit in shape.units)
    return structs.replace(shape, units=units, terminals=tuple(
        structs.replace(terminal, label=labels.get(terminal.label, terminal.label)) for terminal in shape.terminals))
