"""From one reading to its circuit: points become conductors, jumpers join them, nets are what hangs together.

Input is the seated bench and one reading; output a Circuit, and the mishaps of points that lead nowhere. A point that
is not understood leaves the rest of its wire joined, and the net marked uncertain.
"""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
from msgspec import Struct

from checker.bench.mishap import Mishap
from checker.bench.model import Bench, BenchPart
from checker.circuit.meant import meant_by, row_first
from checker.circuit.model import Circuit, Conductor, Jumper, Lead, NamedNode
from checker.seating.boards import name_of
from checker.seating.model import Reading, Seated
from checker.seating.options import is_symmetric
from checker.seating.seat import all_points, plan_for
from grammar.suggestions import nearest
from grammar.syntax_tree import Bare, Hole, Node, Part, Pin, Point, Rail
from parts_library import near_pins, pin_named
from parts_library.schema import Controller


class _Wiring(Struct):
    """What is collected while the statements are gone through."""

    bench: Bench
    reading: Reading
    conductors: nx.MultiGraph[Conductor]
    mishaps: list[Mishap]
    pin_conductor: dict[tuple[str, str], Conductor]
    place_of: dict[tuple[str, str], str]
    touched: set[tuple[str, str]]
    unknown: set[Conductor]
    jumpers: list[Jumper]


def connect(seated: Seated, reading: Reading) -> tuple[Circuit, list[Mishap]]:
    """The circuit of one reading."""
    wiring = _Wiring(bench=seated.bench, reading=reading, conductors=nx.MultiGraph(), mishaps=[], pin_conductor={},
                     place_of={}, touched=set(), unknown=set(), jumpers=[])
    _place_legs(wiring)
    _lay_wires(wiring)
    return _finish(wiring), wiring.mishaps


# ── legs ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _place_legs(wiring: _Wiring) -> None:
    for key, part in wiring.bench.parts.items():
        seat = wiring.reading.seats.get(key)
        for pin in part.pins:
            conductor: Conductor | None = None
            where = f"{part.name}.{pin}"
            if seat is not None and pin in seat.legs:
                conductor = _on_board(wiring, seat.legs[pin])
                where = name_of(seat.legs[pin])
                wiring.touched.add((key, pin))
            wiring.pin_conductor[key, pin] = conductor if conductor is not None else Lead(key, pin)
            wiring.place_of[key, pin] = where
            wiring.conductors.add_node(wiring.pin_conductor[key, pin])
        for one, other in getattr(part.entry, "joined", ()):
            wiring.conductors.add_edge(wiring.pin_conductor[key, one], wiring.pin_conductor[key, other])
        if part.placed and seat is None:
            _mark_unknown_legs(wiring, part)
        if not isinstance(part.statement, Part):
            _place_terminals(wiring, key, part)


def _mark_unknown_legs(wiring: _Wiring, part: BenchPart) -> None:
    place = part.statement.place if isinstance(part.statement, Part) else None
    for point in getattr(place, "points", ()):
        if isinstance(point, Hole | Rail) and (conductor := _on_board(wiring, point)) is not None:
            wiring.conductors.add_node(conductor)
            wiring.unknown.add(conductor)


def _place_terminals(wiring: _Wiring, key: str, part: BenchPart) -> None:
    assert not isinstance(part.statement, Part)
    for pin, point in zip(part.pins or ("+", "-"), part.statement.terminals):
        conductor = _resolve(wiring, point)
        if conductor is None or (key, pin) not in wiring.pin_conductor:
            continue
        wiring.conductors.add_edge(wiring.pin_conductor[key, pin], conductor)
        wiring.place_of[key, pin] = _name(point)
        wiring.touched.add((key, pin))


def _on_board(wiring: _Wiring, spot: Hole | Rail) -> Conductor | None:
    plan = plan_for(wiring.reading.plans, spot)
    if plan is None:
        return None
    return plan.rail_piece(spot) if isinstance(spot, Rail) else plan.strip(spot)


# ── wires ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _lay_wires(wiring: _Wiring) -> None:
    for number, wire in enumerate(wiring.bench.wires):
        ends = [(point, _resolve(wiring, point)) for point in wire.points]
        known = [(point, conductor) for point, conductor in ends if conductor is not None]
        for _, conductor in known:
            wiring.conductors.add_node(conductor)
        if len(known) < len(ends):
            wiring.unknown.update(conductor for _, conductor in known)
        for (one, first), (other, second) in pairwise(known):
            wiring.conductors.add_edge(first, second, wire=number)
            wiring.jumpers.append(Jumper((first, second), (_name(one), _name(other)), wire.span, number))


def _name(point: Point) -> str:
    return name_of(point) if isinstance(point, Hole | Rail) else point.text


def _resolve(wiring: _Wiring, point: Point) -> Conductor | None:
    """The conductor of a point, or None with a mishap."""
    if isinstance(point, Hole | Rail):
        _ask_about_controller_pin(wiring, point)
        return _on_board(wiring, point)
    if isinstance(point, Node):
        return NamedNode(point.name)
    if isinstance(point, Bare):
        return _resolve_bare(wiring, point)
    part = wiring.bench.part(point.part)
    if part is None:
        _unknown_part(wiring, point.part, point)
        return None
    return _resolve_pin(wiring, part, point)


def _resolve_pin(wiring: _Wiring, part: BenchPart, point: Pin) -> Conductor | None:
    if part.entry is None:
        return None
    pin = pin_named(part.entry, point.pin)
    if pin is None:
        near = near_pins(part.entry, point.pin)
        wiring.mishaps.append(Mishap(
            rule="unknown-point", severity="fault", span=point.span, parts=(part.name,), points=(point.text,),
            facts={"case": "no-such-pin", "pin": point.pin, "pins": " ".join(part.pins),
                   "suggestion": f"{part.name}.{near[0]}" if near else ""}))
        return None
    key = part.name.lower()
    wiring.touched.add((key, pin))
    if key in wiring.reading.seats and not is_symmetric(part.entry):
        wiring.mishaps.append(Mishap(
            rule="ambiguous-point", severity="look", span=point.span, parts=(part.name,), points=(point.text,),
            facts={"case": "pin-of-placed-part", "pin": pin, "hole": wiring.place_of[key, pin]}))
    return wiring.pin_conductor[key, pin]


def _resolve_bare(wiring: _Wiring, point: Bare) -> Conductor | None:
    part = wiring.bench.part(point.text)
    if part is not None and part.entry is None:
        return None
    if part is not None:
        wiring.mishaps.append(Mishap(
            rule="unknown-point", severity="fault", span=point.span, parts=(part.name,),
            facts={"case": "which-pin", "name": part.name, "pins": " ".join(part.pins), "hole": row_first(point.text)}))
        return None
    wiring.mishaps.append(Mishap(
        rule="unknown-point", severity="fault", span=point.span,
        facts={"case": "bare-word", "name": point.text, "offered": " ".join(meant_by(wiring.bench, point.text)[:3])}))
    return None


def _unknown_part(wiring: _Wiring, name: str, point: Point) -> None:
    near = nearest(name, [part.name for part in wiring.bench.parts.values()])
    wiring.mishaps.append(Mishap(rule="unknown-point", severity="fault", span=point.span,
                                 facts={"case": "no-such-part", "name": name, "offered": " ".join(near)}))


def _ask_about_controller_pin(wiring: _Wiring, point: Hole | Rail) -> None:
    """Ask where a hole reads like a controller's pin: ``wire D9 to a16``."""
    if isinstance(point, Rail) or point.board or not point.text[:1].isalpha():
        return
    for part in wiring.bench.controllers():
        is_pin = isinstance(part.entry, Controller) and point.text.upper() in part.entry.pins
        if is_pin and _reads_like_pin(wiring, point):
            wiring.mishaps.append(Mishap(
                rule="ambiguous-point", severity="look", span=point.span, parts=(part.name,),
                points=(name_of(point),),
                facts={"case": "hole-or-pin", "hole": name_of(point), "pin": f"{part.name}.{point.text.upper()}"}))
            return


def conductor_at(circuit: Circuit, point: Point) -> Conductor | None:
    """The conductor that a point of the list means in a finished circuit, or None."""
    if isinstance(point, Hole | Rail):
        plan = plan_for(circuit.reading.plans, point)
        if plan is None:
            return None
        return plan.rail_piece(point) if isinstance(point, Rail) else plan.strip(point)
    if isinstance(point, Node):
        return NamedNode(point.name)
    if isinstance(point, Pin):
        part = circuit.bench.part(point.part)
        pin = pin_named(part.entry, point.pin) if part is not None and part.entry is not None else None
        return circuit.conductor_of.get((point.part.lower(), pin)) if pin is not None else None
    return None


def _reads_like_pin(wiring: _Wiring, hole: Hole) -> bool:
    """True where a hole is written like a pin among holes written otherwise, or where nothing else is in its strip."""
    others = [p.text for p in all_points(wiring.bench) if isinstance(p, Hole) and p.span != hole.span]
    capitals = sum(text[:1].isupper() for text in others)
    if hole.text[:1].isupper() and capitals * 2 < len(others):
        return True
    strip = _on_board(wiring, hole)
    legs = {c for (key, pin), c in wiring.pin_conductor.items() if key in wiring.reading.seats}
    mates = [p for p in all_points(wiring.bench) if isinstance(p, Hole) and p.span != hole.span
             and _on_board(wiring, p) == strip]
    return strip not in legs and not mates


# ── nets ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _finish(wiring: _Wiring) -> Circuit:
    net_of: dict[Conductor, int] = {}
    members: dict[int, tuple[Conductor, ...]] = {}
    for number, component in enumerate(nx.connected_components(wiring.conductors)):
        members[number] = tuple(sorted(component, key=repr))
        for conductor in component:
            net_of[conductor] = number
    pin_net = {pin: net_of[conductor] for pin, conductor in wiring.pin_conductor.items()}
    for jumper in wiring.jumpers:
        _touch_leads(wiring, jumper)
    graph: nx.MultiGraph[tuple[str, str | int]] = nx.MultiGraph()
    pins_on: dict[int, list[tuple[str, str]]] = {number: [] for number in members}
    for (part, pin), net in pin_net.items():
        graph.add_edge(("part", part), ("net", net), pin=pin)
        pins_on[net].append((part, pin))
    return Circuit(
        bench=wiring.bench, reading=wiring.reading, conductors=wiring.conductors, graph=graph, net_of=net_of,
        pin_net=pin_net, pins_on={net: tuple(pins) for net, pins in pins_on.items()}, members=members,
        jumpers=tuple(wiring.jumpers), place_of=wiring.place_of,
        conductor_of=wiring.pin_conductor, touched=frozenset(wiring.touched),
        uncertain=frozenset(net_of[c] for c in wiring.unknown if c in net_of))


def _touch_leads(wiring: _Wiring, jumper: Jumper) -> None:
    for conductor in jumper.conductors:
        if isinstance(conductor, Lead):
            wiring.touched.add((conductor.part, conductor.pin))


