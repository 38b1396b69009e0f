"""What could be measured with no power: supplies, grounds, isolation, parts, wires. Choosing among these comes later.

Input: a circuit and its spots. Output: candidates, two conductors each, in the order in which a careful person would go.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit, Conductor, Lead
from checker.metering.candidate import Candidate, Kind
from checker.metering.dead import UNPLUGGED, windings_off_board
from checker.metering.feeds import feed_name, feeds
from checker.metering.paths import paths
from checker.metering.spots import Spots
from checker.seating.boards import RailPiece, Strip
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Diode,
    Inductor,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Relay,
    Resistor,
    SensorResistor,
    Switch,
    Zener,
)

ALWAYS = ("supply", "grounds", "apart")


def candidates(circuit: Circuit, spots: Spots) -> list[Candidate]:
    """Everything that could be measured, each pair of conductors once a kind, direction and position."""
    made = [*_supplies(circuit, spots), *_grounds(circuit, spots), *_apart(circuit, spots), *_rails(circuit, spots),
            *_parts(circuit, spots), *paths(circuit, spots), *_wires(circuit, spots)]
    seen: dict[tuple[object, ...], Candidate] = {}
    for one in made:
        if one.red != one.black and spots.of(one.red) and spots.of(one.black):
            seen.setdefault((one.red, one.black, one.kind, one.position), one)
    return list(seen.values())


# ── sources ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _at(circuit: Circuit, spots: Spots, key: str, pin: str) -> Conductor:
    """Where a supply's terminal is met: on the board for a supply, at its printed pin for a controller."""
    if circuit.part(key).is_controller:
        return circuit.conductor_of[key, pin]
    found = spots.of_net(circuit.pin_net[key, pin])
    return found[0] if found is not None else circuit.conductor_of[key, pin]


def _supplies(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    seen = set()
    for key, plus, minus in feeds(circuit):
        nets = (circuit.pin_net[key, plus], circuit.pin_net[key, minus])
        if nets in seen:
            continue
        seen.add(nets)
        name = circuit.part(key).name
        what = f"{name}, plus to minus" if plus == "+" else f"{name}, {plus} to GND"
        yield Candidate(what, _at(circuit, spots, key, plus), _at(circuit, spots, key, minus), "ohms", "supply", key)


def _minus_pins(circuit: Circuit) -> list[tuple[str, str]]:
    return [(key, "GND" if part.is_controller else "-") for key, part in circuit.bench.parts.items()
            if (part.is_controller or part.is_supply)
            and (key, "GND" if part.is_controller else "-") in circuit.touched]


def _grounds(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    """Grounds that the list joins: each with the first one of its net."""
    first: dict[int, tuple[str, str]] = {}
    for key, pin in _minus_pins(circuit):
        net = circuit.pin_net[key, pin]
        other = first.setdefault(net, (key, pin))
        if other != (key, pin):
            what = f"grounds of {circuit.part(other[0]).name} and {circuit.part(key).name}, joined"
            yield Candidate(what, _at(circuit, spots, *other), _at(circuit, spots, key, pin), "ohms", "grounds", key, fixed=True)


def _apart(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    for keep in circuit.bench.keeps:
        ends = [_ground_of(circuit, name.lower()) for name in (keep.one.text, keep.other.text)]
        if None not in ends:
            one, other = (end for end in ends if end is not None)
            yield Candidate(f"{keep.one.text} kept apart from {keep.other.text}", _at(circuit, spots, *one),
                            _at(circuit, spots, *other), "ohms", "apart", fixed=True)


def _ground_of(circuit: Circuit, key: str) -> tuple[str, str] | None:
    part = circuit.bench.parts.get(key)
    if part is None or not part.pins:
        return None
    pin = next((pin for pin in ("GND", "-") if pin in part.pins), part.pins[-1])
    return (key, pin) if (key, pin) in circuit.touched else None


def _rails(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    """Pluses of different supplies, which no wire should join unless the list does."""
    found = list(feeds(circuit))
    for number, (key, plus, _) in enumerate(found):
        for other, its_plus, _ in found[number + 1:]:
            if circuit.pin_net[key, plus] != circuit.pin_net[other, its_plus]:
                yield Candidate(f"plus to plus: {feed_name(circuit, key, plus)} to {feed_name(circuit, other, its_plus)}",
                                _at(circuit, spots, key, plus), _at(circuit, spots, other, its_plus), "ohms", "rails")


# ── parts ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _parts(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    for key, part in circuit.bench.parts.items():
        for one, other, kind, label, position in _pairs(part):
            if all((key, pin) in circuit.touched for pin in (one, other)):
                what = part.name if not label else f"{part.name}, {label}"
                ends = circuit.conductor_of[key, one], circuit.conductor_of[key, other]
                far = _far(circuit, spots, ends[0]), _far(circuit, spots, ends[1])
                for red, black in dict.fromkeys((far, ends)):
                    wired = f"{what}, with its wires" if (red, black) != ends else what
                    candidate = Candidate(wired, red, black, kind, "part", key, position, one_way=_one_way(part))
                    yield candidate
                    if not position[0]:
                        yield candidate.turned
                if kind == "diode":
                    yield from _alone(circuit, key, one, other, what)


def _alone(circuit: Circuit, key: str, one: str, other: str, what: str) -> Iterator[Candidate]:
    """A junction that lies across a winding, with the winding's leads pulled out."""
    nets = {circuit.pin_net[key, one], circuit.pin_net[key, other]}
    for load in windings_off_board(circuit):
        part = circuit.part(load)
        if {circuit.pin_net[load, pin] for pin in part.load_pins} == nets:
            candidate = Candidate(what, circuit.conductor_of[key, one], circuit.conductor_of[key, other], "diode", "part", key,
                                  (part.name, UNPLUGGED), one_way=circuit.part(key).name)
            yield candidate
            yield candidate.turned


def _pairs(part: BenchPart) -> Iterator[tuple[str, str, Kind, str, tuple[str, str]]]:
    """Pins to measure between, the kind of reading, a label, and the position of a switch."""
    entry, rest = part.entry, ("", "")
    if isinstance(entry, Resistor | SensorResistor | Inductor | Load | Capacitor):
        yield entry.pins[0], entry.pins[1], "ohms", "across it" if isinstance(entry, Capacitor) else "", rest
    elif isinstance(entry, Diode | Led | Zener):
        yield "A", "K", "diode", "", rest
    elif isinstance(entry, LedGroup):
        for member in entry.members:
            yield member.anode, member.cathode, "diode", member.name, rest
    elif isinstance(entry, Bipolar):
        base = ("B",) if "B" in entry.pins else ()
        for pin in base:
            yield pin, "E", "diode", "base to emitter", rest
            yield pin, "C", "diode", "base to collector", rest
        yield "C", "E", "diode", "collector to emitter", rest
    elif isinstance(entry, Mosfet):
        yield "S", "D", "diode", "source to drain", rest
        yield "G", "S", "ohms", "gate to source", rest
    elif isinstance(entry, Potentiometer):
        for one, other in (("1", "3"), ("W", "1"), ("W", "3")):
            yield one, other, "ohms", f"{one} to {other}, turned to the middle", rest
    elif isinstance(entry, Relay):
        yield "A1", "A2", "ohms", "coil", rest
        for contact in entry.contacts:
            yield *contact.pins, "ohms", "contact", rest
    elif isinstance(entry, Switch):
        for contact in entry.contacts:
            if contact.when:
                yield *contact.pins, "ohms", "", rest
                yield from ((*contact.pins, "ohms", "", (part.name, option)) for option in entry.positions[1:])
    elif isinstance(entry, Chip) and entry.supply and entry.ground:
        yield entry.ground, entry.supply, "diode", f"{entry.ground} to {entry.supply}", rest


def _one_way(part: BenchPart) -> str:
    """The name of a part that conducts in one direction only."""
    return part.name if isinstance(part.entry, Diode | Led | Zener) else ""


def _far(circuit: Circuit, spots: Spots, conductor: Conductor) -> Conductor:
    """The conductor of the same net that is the farthest away, so that the wires in between are tried too: from a leg on the
    board to a lead or a rail, from a lead to the board."""
    others = [c for c in circuit.members[circuit.net_of[conductor]] if c != conductor and spots.of(c) is not None
              and not _is_lead_of_supply(circuit, c)]
    for kind in (RailPiece, Strip, Lead) if isinstance(conductor, Lead) else (Lead, RailPiece):
        for other in others:
            if isinstance(other, kind):
                return other
    return conductor


# ── wires ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _wires(circuit: Circuit, spots: Spots) -> Iterator[Candidate]:
    """From the handiest conductor of a net to every other one that a part sits on."""
    for net, members in circuit.members.items():
        root = spots.of_net(net)
        if len(members) < 2 or root is None:
            continue
        seated = {circuit.conductor_of[pin]: pin for pin in circuit.pins_on[net]}
        for conductor in members:
            if conductor == root[0] or conductor not in seated or _is_lead_of_supply(circuit, conductor):
                continue
            key, pin = seated[conductor]
            yield Candidate(f"the wire to {circuit.part(key).name}.{pin}", root[0], conductor, "ohms", "wire", key, fixed=True)


def _is_lead_of_supply(circuit: Circuit, conductor: Conductor) -> bool:
    return isinstance(conductor, Lead) and circuit.part(conductor.part).is_supply
