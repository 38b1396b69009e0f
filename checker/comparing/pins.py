"""Pins of a controller, poles of a switch, that are used otherwise than in the reference; what the programs do with a pin.

Input: names for a variant. Output: differences. The program, not the wiring, decides whether they matter.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from checker.comparing.model import Difference
from checker.comparing.naming import Names
from checker.comparing.pairing import OTHER_NUMBER
from checker.sentences.words import listed

OTHER_ROLE = 0.3
"""Another role of a pin: the program's matter, but an input without its pull-up is another circuit."""


def pins_differently_used(names: Names) -> Iterator[Difference]:
    """Another pin of a controller, another pole of a switch, than the reference uses. Pins that are in each other's places
    are one thing to do: none of them can be moved into a pin that is taken."""
    found: dict[str, list[tuple[int, int]]] = {}
    for one, (other, _) in names.pairing.blocks.items():
        if names.reference.blocks[one].parent is None or not names.pair.base(one, other):
            continue
        if not names.given.is_idle(other) and not names.reference.is_idle(one):
            found.setdefault(names.given.blocks[other].key, []).append((one, other))
    for key, moved in found.items():
        part = names.given.circuit.bench.parts[key]
        wanted = {names.given.blocks[other].unit: names.reference.blocks[one].unit for one, other in moved}
        reference = names.reference.name(moved[0][0])
        for ring in rings(wanted):
            say, hand = _pins_in_words(part.name, ring, wanted)
            yield Difference(kind="other-pin", cost=OTHER_NUMBER * len(ring), parts=(part.name,), reference_parts=(reference,),
                             points=tuple(f"{part.name}.{pin}" for pin in ring), span=part.span, say=say, hand=hand)


def _pins_in_words(name: str, ring: list[str], wanted: Mapping[str, str]) -> tuple[str, str]:
    pins = [f"{name}.{pin}" for pin in ring]
    if len(ring) == 1:
        return (f"{pins[0]} is used where the reference has {wanted[ring[0]]}",
                f"move what is at {pins[0]} to {name}.{wanted[ring[0]]}")
    if len(ring) == 2:
        return f"what is at {pins[0]} and at {pins[1]} is exchanged", f"exchange what is at {pins[0]} and at {pins[1]}"
    return (f"what is at {listed(pins)} is in each other's places",
            f"put {', '.join(f'what is at {pin} into {wanted[pin]}' for pin in ring)}")


def rings(wanted: Mapping[str, str]) -> Iterator[list[str]]:
    """The keys in rings, each of which belongs where the next one is; one that is in no ring stands alone."""
    left = dict(wanted)
    while left:
        first = next(iter(left))
        ring = [first]
        while (following := wanted[ring[-1]]) in left and following not in ring:
            ring.append(following)
        if wanted[ring[-1]] != first:
            ring = [first]
        for pin in ring:
            del left[pin]
        yield ring


def roles_of_pins(names: Names) -> Iterator[Difference]:
    """What the programs do with the same pin, where both lists say it."""
    for one, (other, _) in names.pairing.blocks.items():
        a, b = names.reference.blocks[one], names.given.blocks[other]
        if not a.numbered or a.parent is None:
            continue
        ours = names.reference.circuit.bench.role_of(a.key, a.unit)
        theirs = names.given.circuit.bench.role_of(b.key, b.unit)
        if ours and theirs and set(ours) != set(theirs):
            part = names.given.circuit.bench.parts[b.key]
            span = names.given.circuit.bench.roles[b.key, b.unit][1]
            yield Difference(kind="role", cost=OTHER_ROLE, parts=(part.name,), points=(f"{part.name}.{b.unit}",), span=span,
                             say=f"{part.name}.{b.unit} is {_roles_in_words(theirs, ours)}",
                             hand="look at the program: the wiring is not concerned")


_ROLES = {"input": "an input", "output": "an output", "pwm": "a pwm output", "analog": "an analog input",
          "pullup": "its pull-up on"}


def _roles_in_words(theirs: Sequence[str], ours: Sequence[str]) -> str:
    """What a pin is, and what the reference has instead."""
    if "input" in theirs and "input" in ours:
        with_it, without = "with its pull-up on", "without its pull-up"
        return f"an input {with_it if 'pullup' in theirs else without}; the reference has the pull-up " \
               f"{'on' if 'pullup' in ours else 'off'}"
    here, there = (" with ".join(_ROLES.get(role, role) for role in roles) for roles in (theirs, ours))
    return f"{here}; the reference has {there}"
