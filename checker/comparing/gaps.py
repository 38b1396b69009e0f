"""What to do about two pieces of a net that are apart: move an end that is beside its row, or put a wire between.

Input: the terminals of the smaller piece, both given nets. Output: the sentence for the hand, and the wire whose end it is.
A wire's end in a strip where nothing else is, and a lone leg, are moved; the legs of a part that goes in as a whole are not.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from checker.circuit.model import Jumper
from checker.comparing.naming import Names
from checker.seating.boards import Strip
from checker.slips.moved import bends

ROWS_AMISS = 3.5
"""Holes by which a lone leg is beside its row at most; farther off a wire was left out: our choice."""

Place = tuple[int, int]


def joining(names: Names, places: Sequence[Place], given: int, main: int | None, wanted: str) -> tuple[str, Jumper | None]:
    """How the piece on the net ``given`` is joined to that on ``main``."""
    if main is None:
        return f"join it to {wanted}", None
    leg, hole, off = _lone_leg(names, places, given, main)
    wire = _nearest_loose_end(names, given, main)
    if wire is not None and (wire[2] < off or leg == "" or _is_as_in_the_reference(names, places[0])):
        jumper, number, _, spot = wire
        end = f"the end in {jumper.ends[number]} (of the wire from {jumper.ends[1 - number]})"
        return f"put {end} into {names.spots.take(spot)}", jumper
    if leg:
        return f"move {leg} to {names.spots.take(hole)}", None
    one, other = names.spots.wire(names.circuit_nets(given), names.circuit_nets(main))
    return (f"join {one} to {other} with a wire" if one and other else f"join it to {wanted}"), None


def is_rigid(names: Names, place: Place) -> bool:
    """True for a leg that cannot be moved by itself: of a chip, of a button across the channel."""
    part = names.given.circuit.bench.parts[names.given.blocks[place[0]].key]
    return part.placed and part.entry is not None and not bends(part)


def _lone_leg(names: Names, places: Sequence[Place], given: int, main: int) -> tuple[str, str, float]:
    """A leg alone in its strip a few rows from where it belongs: in words, the hole for it, how far that is."""
    block, number = places[0]
    if len(places) > 1 or not names.given.is_alone(given) or is_rigid(names, places[0]):
        return "", "", inf
    joint = names.given.blocks[block].joints[number]
    circuit, at = names.given.circuit, names.place(block, joint)
    conductor = circuit.conductor_of[names.given.blocks[block].key, joint.terminal.pins[0]]
    if not isinstance(conductor, Strip) or circuit.conductors.degree(conductor):
        return "", "", inf
    hole, away = names.spots.nearest(names.circuit_nets(main), at)
    here, there = names.spots.where(at), names.spots.where(hole)
    if here is None or there is None or there.on_rail or away > ROWS_AMISS or _half(here.name) != _half(there.name):
        return "", "", inf
    leg = names.leg(block, joint)
    return (leg if at in leg else f"{leg} from {at}"), hole, away


def _half(hole: str) -> bool:
    """On which side of the channel a hole is."""
    return hole.split(":")[-1][0] <= "e"


def _nearest_loose_end(names: Names, given: int, main: int) -> tuple[Jumper, int, float, str] | None:
    """A wire of either net that ends in a strip where nothing else is: the wire, which end, how far from the hole it
    belongs in, that hole."""
    circuit, found = names.given.circuit, []
    held = set(circuit.conductor_of.values())
    ours, theirs = names.circuit_nets(given), names.circuit_nets(main)
    for jumper in circuit.jumpers:
        for number, conductor in enumerate(jumper.conductors):
            net = circuit.net_of.get(conductor)
            loose = isinstance(conductor, Strip) and conductor not in held and circuit.conductors.degree(conductor) == 1
            if loose and (net in ours or net in theirs):
                spot, away = names.spots.nearest(theirs if net in ours else ours, jumper.ends[number])
                found.append((jumper, number, away, spot))
    return min((one for one in found if one[3]), key=lambda one: one[2], default=None)


def _is_as_in_the_reference(names: Names, place: Place) -> bool:
    """True for a leg that is in the very hole in which the reference has it: then it is not the one that was missed."""
    block, number = place
    one = names.back[block]
    ours = names.reference.blocks[one]
    joint = ours.joints[names.pairing.blocks[one][1].index(number)]
    theirs = names.place(block, names.given.blocks[block].joints[number])
    return names.reference.circuit.place_of[ours.key, joint.terminal.pins[0]].lower() == theirs.lower()
