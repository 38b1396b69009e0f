"""What is connected otherwise: terminals on another net, nets that are joined or apart.

Input: names for a variant. Output: a difference for each pair of nets that have terminals in common and do not stand for
each other. Where one jumper makes the difference, it is that jumper which is told.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
from msgspec import Struct, structs

from checker.circuit.model import Circuit, Conductor, Jumper, Lead, NamedNode
from checker.comparing.exchanging import Told
from checker.comparing.form import Joint
from checker.comparing.gaps import is_rigid, joining
from checker.comparing.model import Difference
from checker.comparing.naming import Names
from checker.comparing.pairing import weight
from checker.sentences.words import listed

MOST_NAMED = 3
"""Terminals named in a sentence; of more only the first are."""

Place = tuple[int, int]


class Misplaced(Struct, frozen=True):
    """Terminals of one net of the reference that are together on a given net: (block, joint) of the given list.
    ``main`` is the given net that stands for the reference's, ``owner`` the net of the reference that the given net they
    are on stands for."""

    net: int
    given: int
    places: tuple[Place, ...]
    main: int | None
    owner: int | None


def net_differences(names: Names) -> Iterator[Told]:
    """One difference for each misplaced bundle of terminals."""
    for one in _misplaced(names):
        if one.owner is not None and one.main is None:
            yield Told(_merged(names, one, one.owner), joined=frozenset({one.net, one.owner}), ends=_ends(names, one, one.owner))
        elif one.owner is None:
            nets = {one.given, one.main} if one.main is not None else {one.given}
            yield Told(_apart(names, one), apart=frozenset(nets))
        else:
            yield Told(_moved(names, one), swap=(one.net, one.owner) if len(one.places) == 1 and one.owner is not None else ())


def _misplaced(names: Names) -> list[Misplaced]:
    nets = names.pairing.nets
    owners = {other: one for one, other in nets.items()}
    found: dict[tuple[int, int], list[Place]] = {}
    for one, (other, match) in names.pairing.blocks.items():
        for joint, place in zip(names.reference.blocks[one].joints, match):
            given = names.given.blocks[other].joints[place].net
            if nets.get(joint.net) != given:
                found.setdefault((joint.net, given), []).append((other, place))
    return [Misplaced(net, given, tuple(places), nets.get(net), owners.get(given))
            for (net, given), places in found.items()]


# ── each kind ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _moved(names: Names, one: Misplaced) -> Difference:
    """They are on a net that stands for another."""
    there = names.given_net(one.given, set(one.places))
    jumper = _only_jumper(names, one.given, one.places)
    it, goes = ("it", "goes") if len(one.places) == 1 else ("them", "go")
    if names.reference.is_alone(one.net):
        say = f"{_named(names, one)} {goes} to {there}; in the reference nothing is joined to {it}"
        hand = _take_out(jumper) if jumper else f"take {_legs(names, one)} away from there"
    else:
        wanted = names.given_net(one.main) if one.main is not None else ""
        if names.reference.is_alone(one.net) or not wanted or wanted == "nothing":
            wanted = names.reference_net(one.net, names.back[one.places[0][0]])
        say = f"{_named(names, one)} {goes} to {there}; the reference has {it} at {_shortened(wanted, there)}"
        if jumper and len(one.places) > 1:
            say = f"the wire from {jumper.ends[0]} to {jumper.ends[1]} joins {_pins(names, one.places)[0]} to {there}; " \
                  f"the reference joins it to {wanted}"
        hand = _move_jumper(names, jumper, one) if jumper else _move_legs(names, one, wanted)
    return _difference(names, "moved", one, say, hand, jumper)


def _merged(names: Names, one: Misplaced, owner: int) -> Difference:
    """Two nets of the reference are one here."""
    jumper = _only_jumper(names, one.given, one.places)
    bridged = _bridged(names, one, owner)
    if bridged:
        say = f"{bridged} is bridged: both its ends are joined"
        strip = _strip(names, one)
        hand = f"move one leg of {bridged} out of {strip}" if strip else f"take the ends of {bridged} apart"
        hand = _take_out(jumper) if jumper else hand
        return structs.replace(_difference(names, "bridged", one, say, hand, jumper), parts=(bridged,))
    joined = listed([*_pins(names, one.places), names.given_net(one.given, set(one.places))])
    say = f"{joined} are joined; the reference has them apart"
    if len(one.places) > 1:
        say = f"{_named(names, one)} are joined to {names.given_net(one.given, set(one.places))}; the reference has them apart"
    strip = _strip(names, one)
    hand = _out_of(names, one, strip) if strip else \
        f"take {listed(_pins(names, one.places))} apart from {names.given_net(one.given, set(one.places))}"
    return _difference(names, "merged", one, say, _take_out(jumper) if jumper else hand, jumper)


def _bridged(names: Names, one: Misplaced, owner: int) -> str:
    """The name of a part whose two ends are these two nets, or ""."""
    for block, number in one.places:
        joints = names.given.blocks[block].joints
        reference = names.reference.blocks[names.back[block]]
        if len(joints) == 2 and joints[1 - number].net == one.given and {j.net for j in reference.joints} == {one.net, owner}:
            return names.given.name(block)
    return ""


def _apart(names: Names, one: Misplaced) -> Difference:
    """A net of the reference is in two pieces here."""
    said = _named(names, one)
    wanted = names.reference_net(one.net, names.back[one.places[0][0]])
    own = {_pin(names, place) for place in one.places}
    if wanted in own:
        wanted = names.given_net(one.main, None) if one.main is not None else wanted
    say = f"{said} {'is' if len(one.places) == 1 else 'are'} not joined to {wanted}"
    hand, jumper = joining(names, one.places, one.given, one.main, wanted)
    return _difference(names, "open" if names.given.is_alone(one.given) else "split", one, say, hand, jumper)


def _difference(names: Names, kind: str, one: Misplaced, say: str, hand: str, jumper: Jumper | None) -> Difference:
    blocks = list(dict.fromkeys(block for block, _ in one.places))
    circuit = names.given.circuit
    part = circuit.bench.parts[names.given.blocks[blocks[0]].key]
    points = jumper.ends if jumper else tuple(names.place(*_joint(names, place)) for place in one.places)
    return Difference(
        kind=kind, cost=weight(len(one.places)), say=say, hand=hand, points=tuple(dict.fromkeys(points)),
        parts=tuple(dict.fromkeys(names.given.name(block) for block in blocks)),
        reference_parts=tuple(dict.fromkeys(names.reference.name(names.back[block]) for block in blocks)),
        span=jumper.span if jumper else part.span)


# ── words ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _joint(names: Names, place: Place) -> tuple[int, Joint]:
    return place[0], names.given.blocks[place[0]].joints[place[1]]


def _pin(names: Names, place: Place) -> str:
    return names.pin(names.given, *_joint(names, place))


def _pins(names: Names, places: tuple[Place, ...]) -> list[str]:
    """The terminals in words, those that say most first."""
    return [_pin(names, place) for place in sorted(places, key=lambda place: (names.rank(place[0]), place))]


def _named(names: Names, one: Misplaced) -> str:
    pins = _pins(names, one.places)
    return listed(pins) if len(pins) <= MOST_NAMED else f"{listed(pins[:MOST_NAMED - 1])} with {len(pins) - MOST_NAMED + 1} more"


def _legs(names: Names, one: Misplaced) -> str:
    """The legs to move, with the holes that they are in."""
    legs = []
    for place in one.places:
        leg, hole = names.leg(*_joint(names, place)), names.place(*_joint(names, place))
        legs.append(leg if hole in leg else f"{leg} from {hole}" if "." not in hole else leg)
    return listed(legs)


def _move_legs(names: Names, one: Misplaced, wanted: str) -> str:
    """The legs to where they belong. A leg that goes in with all others of its part stays, and what it is with goes."""
    strip = _strip(names, one)
    if strip and all(is_rigid(names, place) for place in one.places):
        return f"take what else is in {strip} out of it, and join {listed(_pins(names, one.places))} to {wanted}"
    return f"move {_legs(names, one)} to {names.spot(one.main, names.place(*_joint(names, one.places[0]))) or wanted}"


def _out_of(names: Names, one: Misplaced, strip: str) -> str:
    if all(is_rigid(names, place) for place in one.places):
        return f"take what else is in {strip} out of it: only {listed(_pins(names, one.places))} belongs there"
    return f"move {_legs(names, one)} out of {strip}"


def _shortened(wanted: str, there: str) -> str:
    """ "Q1's base" after "Q1's collector" is "the base"."""
    owner = wanted.split("'s ")[0]
    return f"the {wanted.removeprefix(owner + chr(39) + 's ')}" if "'s " in wanted and there.startswith(owner + "'s ") else wanted


def _strip(names: Names, one: Misplaced) -> str:
    """The strip that the first of the terminals shares with others of its net, or ""."""
    rest = {c for place in names.given.nets[one.given] if place not in one.places for c in _conductors(names, place)}
    shared = [c for c in _conductors(names, one.places[0]) if c in rest and not isinstance(c, Lead | NamedNode)]
    return str(shared[0]) if shared else ""


# ── the jumper that does it ───────────────────────────────────────────────────────────────────────────────────────


def _only_jumper(names: Names, net: int, places: tuple[Place, ...]) -> Jumper | None:
    """The jumper that alone holds these terminals to the rest of their net, or None."""
    circuit = names.given.circuit
    ours = {c for place in places for c in _conductors(names, place)}
    rest = {c for place in names.given.nets[net] if place not in places for c in _conductors(names, place)}
    if not ours or not rest or ours & rest:
        return None
    for jumper in circuit.jumpers:
        if circuit.net_of.get(jumper.conductors[0]) == circuit.net_of.get(next(iter(ours))) \
                and _separates(circuit, jumper, ours, rest):
            return jumper
    return None


def _conductors(names: Names, place: Place) -> list[Conductor]:
    block, number = place
    key = names.given.blocks[block].key
    return [names.given.circuit.conductor_of[key, pin] for pin in names.given.blocks[block].joints[number].terminal.pins]


def _separates(circuit: Circuit, jumper: Jumper, ours: set[Conductor], rest: set[Conductor]) -> bool:
    one, other = jumper.conductors
    if one == other or circuit.conductors.number_of_edges(one, other) > 1:
        return False
    side = _side(circuit, jumper)
    return (ours <= side and not rest & side) or (rest <= side and not ours & side)


def _side(circuit: Circuit, jumper: Jumper) -> set[Conductor]:
    """What is still joined to the first end of a jumper without it."""
    graph = nx.Graph(circuit.conductors.subgraph(circuit.members[circuit.net_of[jumper.conductors[0]]]))
    graph.remove_edge(*jumper.conductors)
    return set(nx.node_connected_component(graph, jumper.conductors[0]))


def _ends(names: Names, one: Misplaced, owner: int) -> dict[int, str]:
    """Of a wire that alone joins two nets of the reference, which of its ends is on which of them."""
    jumper = _only_jumper(names, one.given, one.places)
    if jumper is None:
        return {}
    first = _conductors(names, one.places[0])[0] in _side(names.given.circuit, jumper)
    return {one.net: jumper.ends[0 if first else 1], owner: jumper.ends[1 if first else 0]}


def _take_out(jumper: Jumper) -> str:
    return f"take out the wire from {jumper.ends[0]} to {jumper.ends[1]}"


def _move_jumper(names: Names, jumper: Jumper, one: Misplaced) -> str:
    """The end of the jumper away from the terminals goes elsewhere."""
    far = 1 if _conductors(names, one.places[0])[0] in _side(names.given.circuit, jumper) else 0
    end = f"the end in {jumper.ends[far]} (of the wire from {jumper.ends[1 - far]})"
    spot = names.spot(one.main, jumper.ends[far])
    return f"put {end} into {spot}" if spot else f"move {end} elsewhere"
