"""Candidates that add something: a resistor, a clamp diode, a ground wire, a bridge between the pieces of a rail."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, board_prefix, free_name
from checker.fixes.segments import one_for_each
from checker.fixes.tying import tied
from checker.fixes.unbridging import unbridged
from checker.operating.chips import logic_pin
from checker.operating.operate import Operating
from checker.rules.base import Found
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, RailPiece, Strip
from grammar import show_quantity
from grammar.syntax_tree import Hole, Pin, Point, Wire
from parts_library.markings import nearest_preferred
from parts_library.schema import Bipolar, Chip, Controller, Diode, Led, LedGroup, Load, Relay, Stepper, SupplyKind, Switch

SERIES_RULES = ("no-current-limit", "too-much-current", "pin-overload", "too-much-voltage")
LED_DROP, BASE_DROP = 2.0, 0.8
USUAL_LED_AMPS, USUAL_BASE_AMPS = 0.01, 0.015


def addings(circuit: Circuit, operating: Operating, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be added against the findings."""
    for one in found:
        if one.rule in SERIES_RULES:
            yield from _series_resistors(circuit, operating, one)
        if one.rule in ("supply-shorted", "supply-overload", "too-much-current", "rails-shorted"):
            yield from _beside_switches(circuit)
        if one.rule == "no-clamp":
            yield from _clamps(circuit, operating, one)
        elif one.rule in ("grounds-not-joined", "no-return-path", "never-conducts"):
            yield from _ground_wires(circuit)
        elif one.rule in ("input-floating", "no-pull-up"):
            yield from tied(circuit, one) if one.case.startswith("open") else _pulls(circuit, one)
        elif one.rule == "part-bridged":
            yield from unbridged(circuit, one)
    yield from _rail_bridges(circuit)


# ── a resistor in series ──────────────────────────────────────────────────────────────────────────────────────────


def _series_resistors(circuit: Circuit, operating: Operating, found: Found) -> Iterator[Candidate]:
    """A resistor put into a wire that leads to the part."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    if part is None or not isinstance(part.entry, Bipolar | Led | LedGroup | Controller | Chip | Switch):
        return
    key = part.name.lower()
    pins = [pin for pin in part.pins if circuit.place_of[key, pin] in found.points] or list(part.pins)
    if isinstance(part.entry, Bipolar):
        pins = ["B"]
    if isinstance(part.entry, Controller):
        pins = [point.split(".")[-1] for point in found.points if "." in point]
    pins = [pin for pin in pins if (key, pin) in circuit.pin_net and not _drives_load(circuit, key, pin)
            and not _feeds(part, pin)]
    if isinstance(part.entry, LedGroup):
        yield from one_for_each(circuit, part, _driven(circuit, key, part), _spelt(_series_values(operating, part)[0]))
    for number, ohms in enumerate(_series_values(operating, part)):
        for pin in pins:
            for candidate in _into_wires(circuit, circuit.pin_net[key, pin], part, ohms, _watts(operating, ohms)):
                yield structs.replace(candidate, effort=candidate.effort + 0.01 * number)


def _driven(circuit: Circuit, key: str, part: BenchPart) -> list[str]:
    """The pins of a group of LEDs that something is on, its common ones left out."""
    entry = part.entry
    assert isinstance(entry, LedGroup)
    common = {pin for pin in part.pins if pin.upper().startswith("COM")}
    return [pin for pin in part.pins if pin not in common and len(circuit.pins_on[circuit.pin_net[key, pin]]) > 1]


def _spelt(ohms: float) -> str:
    return show_quantity(ohms, "ohm").replace(" ", "").replace("Ω", "")


def _feeds(part: BenchPart, pin: str) -> bool:
    """A supply or ground pin, or the output of a converter: a resistor there only starves what hangs on it."""
    entry = part.entry
    if isinstance(entry, Chip) and pin.upper().startswith("OUT") and entry.type in ("module", "converter", "reference"):
        return True
    return (isinstance(entry, Controller) and pin in ("5V", "3V3", "GND", "VIN", "RESET")) or (
        isinstance(entry, Chip) and pin in (entry.supply, entry.ground, *entry.more_supplies, *entry.more_grounds))


def _drives_load(circuit: Circuit, key: str, pin: str) -> bool:
    """A motor or coil on the pin: a resistor before it would only starve it."""
    return any(isinstance(circuit.bench.parts[other].entry, Load | Relay | Stepper)
               for other, _ in circuit.pins_on[circuit.pin_net[key, pin]])


def _beside_switches(circuit: Circuit) -> Iterator[Candidate]:
    """A 10 kΩ resistor in place of a wire at a button: where a pull resistor was meant, a wire shorts the supply."""
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, Switch):
            nets = {circuit.pin_net[key, pin] for pin in part.pins}
            for wire in circuit.bench.wires:
                if len(wire.points) == 2 and all(isinstance(p, Hole) for p in wire.points) and any(
                        _net_of(circuit, p) in nets for p in wire.points):
                    yield _instead(circuit, wire, free_name(circuit, "R"), "10k", part)


def _series_values(operating: Operating, part: BenchPart) -> list[float]:
    """E12 values that bring the current down: for an LED about 10 mA, for a base about 15 mA, at the highest voltage there
    is; then the next decade steps up."""
    highest = float(operating.volts[operating.mask("nominal")].max(initial=0.0)
                    - operating.volts[operating.mask("nominal")].min(initial=0.0)) or 5.0
    drop, amps = (BASE_DROP, USUAL_BASE_AMPS) if isinstance(part.entry, Bipolar | Controller) else (
        LED_DROP, USUAL_LED_AMPS)
    wanted = sorted({max((volts - drop) / amps, 100.0) for volts in (min(highest, 5.0), highest)})
    values = [float(nearest_preferred(ohms, "E12")) for ohms in wanted]
    if isinstance(part.entry, Switch):
        return [10_000.0]
    return list(dict.fromkeys([*values, 1000.0]))


def _watts(operating: Operating, ohms: float) -> str:
    """The wattage to write behind a value: nothing for the usual quarter of a watt."""
    volts = operating.volts[operating.mask("nominal")]
    most = float(volts.max(initial=0.0) - volts.min(initial=0.0)) ** 2 / ohms
    for watts, words in ((0.25, ""), (0.5, " 1/2W"), (1.0, " 1W"), (2.0, " 2W"), (5.0, " 5W")):
        if most <= watts:
            return words
    return " 10W"


def _into_wires(circuit: Circuit, net: int, part: BenchPart, ohms: float, watts: str) -> Iterator[Candidate]:
    name = free_name(circuit, "R")
    value = _spelt(ohms) + watts
    for wire in circuit.bench.wires:
        if len(wire.points) == 2 and _net_of(circuit, wire.points[0]) == net and all(
                isinstance(point, Hole) for point in wire.points):
            yield _instead(circuit, wire, name, value, part)
        if any(isinstance(point, Pin) and (its := circuit.bench.part(point.part)) is not None and _feeds(its, point.pin.upper())
               for point in wire.points):
            continue
        for index, point in enumerate(wire.points):
            if len(wire.points) == 2 and _net_of(circuit, point) == net:
                yield from _split(circuit, wire, index, name, value, part)


def _net_of(circuit: Circuit, point: Point) -> int | None:
    conductor = conductor_at(circuit, point)
    return circuit.net_of.get(conductor) if conductor is not None else None


def _instead(circuit: Circuit, wire: Wire, name: str, value: str, part: BenchPart) -> Candidate:
    """A resistor where a plain wire is."""
    one, other = (point.text for point in wire.points)
    draft = Draft(circuit.bench.tree.lines).replace(wire.span, f"part {name} {value} in {one} {other}")
    return Candidate(say=f"put a resistor {name} ({value}) in place of the wire from {one} to {other}", edits=draft.edits(),
                     effort=2.4, parts=(part.name,), points=(one, other), line=wire.span.line)


def _split(circuit: Circuit, wire: Wire, index: int, name: str, value: str, part: BenchPart) -> Iterator[Candidate]:
    """The wire's end at ``index`` goes to a free row, and a resistor leads on from there."""
    draft = Draft(circuit.bench.tree.lines)
    places = Places(circuit)
    point = wire.points[index]
    conductor = conductor_at(circuit, point)
    if isinstance(conductor, Strip):
        strip = places.free_strip(conductor)
        if strip is None:
            return
        first, second = places.free_in(strip), places.free_in(strip)
        if first is None or second is None:
            return
        draft.replace(point.span, second).add_line(f"part {name} {value} in {point.text} {first}")
        say = f"put {name} ({value}) between {point.text} and {first}, and move the wire from {point.text} to {second}"
    elif isinstance(point, Pin) and not circuit.reading.plans:
        draft.replace(point.span, f"{name}.1").add_line(f"part {name} {value}")
        draft.add_line(f"wire {name}.2 to {point.text}")
        say = f"put {name} ({value}) between {point.text} and that wire"
    else:
        return
    yield Candidate(say=say, edits=draft.edits(), effort=3.0 - 0.05 * (_leads_to_pin(wire)), parts=(part.name,),
                    points=(point.text,), line=wire.span.line)


def _leads_to_pin(wire: Wire) -> int:
    return sum(isinstance(point, Pin) for point in wire.points)


# ── a clamp diode ─────────────────────────────────────────────────────────────────────────────────────────────────


def _clamps(circuit: Circuit, operating: Operating, found: Found) -> Iterator[Candidate]:
    """A diode across the coil with its band at the end that is positive while current flows."""
    part = circuit.bench.part(found.parts[0])
    if part is None:
        return
    key = part.name.lower()
    yield from _common_of_array(circuit, found, key)
    pins = part.load_pins[:2]
    ends = {circuit.pin_net[key, pin] for pin in pins}
    if any(isinstance(other.entry, Diode) and {circuit.pin_net[its, pin] for pin in other.pins} == ends
           for its, other in circuit.bench.parts.items()):
        # the one that is there is the wrong way round
        return
    amps = operating.amps_into(key, pins[0])
    steady = operating.mask("nominal")
    flow = float(amps[steady][abs(amps[steady]).argmax()]) if steady.any() else 1.0
    plus, minus = pins if flow > 0 else (pins[1], pins[0])
    name = free_name(circuit, "D")
    draft = Draft(circuit.bench.tree.lines)
    places = Places(circuit)
    anode = places.spot_in_net(circuit.pin_net[key, minus])
    cathode = places.spot_in_net(circuit.pin_net[key, plus])
    if anode is None or cathode is None or anode == cathode:
        return
    if "." in anode or "." in cathode:
        draft.add_line(f"part {name} 1N4001").add_line(f"wire {name}.A to {anode}")
        draft.add_line(f"wire {name}.K to {cathode}")
        say = f"add a diode {name} (1N4001) across {part.name}: anode to {anode}, band to {cathode}"
    else:
        draft.add_line(f"part {name} 1N4001 in {anode} {cathode} band {cathode}")
        say = f"add a diode {name} (1N4001) across {part.name}: from {anode} to {cathode}, band at {cathode}"
    yield Candidate(say=say, edits=draft.edits(), effort=3.0, parts=(part.name,), line=part.span.line)


def _common_of_array(circuit: Circuit, found: Found, coil: str) -> Iterator[Candidate]:
    """A driver array's COM, which its diodes lead to, joined to the plus of the coil."""
    array = circuit.bench.part(found.parts[1]) if len(found.parts) > 1 else None
    if array is None or not isinstance(array.entry, Chip) or "COM" not in array.pins:
        return
    common = circuit.pin_net[array.name.lower(), "COM"]
    if not circuit.is_alone(common):
        return
    outputs = {net for (key, pin), net in circuit.pin_net.items() if key == array.name.lower()}
    for pin in circuit.bench.parts[coil].pins:
        net = circuit.pin_net[coil, pin]
        if net not in outputs:
            places = Places(circuit)
            one, other = places.spot_in_net(common), places.spot_in_net(net)
            if one is not None and other is not None:
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire red {one} to {other}")
                yield Candidate(say=f"join COM of {array.name} to the coil's plus: a wire from {one} to {other}",
                                edits=draft.edits(), effort=1.5, parts=(array.name,), points=(one, other),
                                line=array.span.line)


# ── grounds, rails, pull resistors ────────────────────────────────────────────────────────────────────────────────


def _ground_wires(circuit: Circuit) -> Iterator[Candidate]:
    """A wire between each controller's ground and each supply's minus that are not yet one net, and between minuses."""
    grounds = [(part, "GND") for part in circuit.bench.parts.values() if isinstance(part.entry, Controller)]
    grounds += [(part, "-") for part in circuit.bench.parts.values() if isinstance(part.entry, SupplyKind)]
    for number, (one, pin) in enumerate(grounds):
        for other, its in grounds[number + 1:]:
            nets = [circuit.pin_net[part.name.lower(), p] for part, p in ((one, pin), (other, its))]
            if nets[0] == nets[1] or _are_apart(circuit, one.name, other.name):
                continue
            places = Places(circuit)
            ends = [f"{one.name}.{pin}" if isinstance(one.entry, Controller) else _ground_spot(places, circuit, one),
                    _ground_spot(places, circuit, other)]
            draft = Draft(circuit.bench.tree.lines).add_line(f"wire black {ends[0]} to {ends[1]}")
            yield Candidate(say=f"join the grounds: a wire from {ends[0]} to {ends[1]}", edits=draft.edits(), effort=2.0,
                            cause="grounds-not-joined", parts=(one.name, other.name), points=tuple(ends),
                            line=one.span.line)


def _ground_spot(places: Places, circuit: Circuit, part: BenchPart) -> str:
    pin = "GND" if isinstance(part.entry, Controller) else "-"
    net = circuit.pin_net[part.name.lower(), pin]
    for conductor in circuit.members[net]:
        if isinstance(conductor, RailPiece):
            return places.rail_spot(conductor)
    return places.spot_in_net(net) or f"{part.name}.{pin}"


def _are_apart(circuit: Circuit, one: str, other: str) -> bool:
    return any({k.one.text.lower(), k.other.text.lower()} == {one.lower(), other.lower()} for k in circuit.bench.keeps)


def _rail_bridges(circuit: Circuit) -> Iterator[Candidate]:
    """A wire over the gap of each split rail that is used on both sides, one by one and all of them."""
    single = list(_single_bridges(circuit))
    yield from single
    if len(single) > 1:
        draft = Draft(circuit.bench.tree.lines)
        for one in single:
            draft.add_line(one.edits[0].text)
        yield structs.replace(single[0], edits=draft.edits(), effort=1.5, facts={
            "rail": " and ".join(one.facts["rail"] for one in single), "row": single[0].facts["row"]},
            say="bridge the gaps of the rails: " + ", ".join(one.edits[0].text for one in single))


def _single_bridges(circuit: Circuit) -> Iterator[Candidate]:
    for plan in circuit.reading.plans.values():
        if not plan.split:
            continue
        last = LAST_ROW_OF_FIRST_PIECE[plan.size]
        prefix = board_prefix(circuit, plan.name)
        for side in "LR":
            for sign in "+-":
                pieces = [RailPiece(plan.name, side, sign, piece) for piece in (0, 1)]
                if all(piece in circuit.net_of for piece in pieces) and \
                        circuit.net_of[pieces[0]] != circuit.net_of[pieces[1]]:
                    ends = f"{prefix}{side}{sign}{last}", f"{prefix}{side}{sign}{last + 1}"
                    draft = Draft(circuit.bench.tree.lines).add_line(f"wire {ends[0]} to {ends[1]}")
                    board = circuit.bench.boards.get(plan.name)
                    yield Candidate(line=board.span.line if board is not None else 1,
                                    say=f"bridge the gap of rail {side}{sign}: a wire from {ends[0]} to {ends[1]}",
                                    edits=draft.edits(), effort=1.4, cause="rail-gap", points=ends,
                                    facts={"rail": f"{side}{sign}", "row": str(last)})


def _switched_to(circuit: Circuit, key: str, pin: str, rails: list[str]) -> str | None:
    """The rail that a switch joins the pin to: the pull has to go to the other one."""
    net = circuit.pin_net[key, pin]
    for other, its in circuit.pins_on[net]:
        if isinstance(entry := circuit.bench.parts[other].entry, Switch):
            for contact in entry.contacts:
                far = circuit.pin_net[other, contact.pins[0] if contact.pins[1] == its else contact.pins[1]]
                for rail in rails:
                    if contact.when and its in contact.pins and far == circuit.pin_net[key, rail]:
                        return rail
    return None


def _pulls(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """A 10 kΩ (bus: 4.7 kΩ) resistor from a floating pin to the supply or the ground of what reads it."""
    part = circuit.bench.part(found.parts[0])
    point = found.points[0] if found.points else ""
    if part is None or "." not in point:
        return
    key, pin = part.name.lower(), point.split(".", 1)[1]
    entry = part.entry
    rails = [logic_pin(entry), "GND"] if isinstance(entry, Controller) else [p for p in (getattr(entry, "supply", None), getattr(
        entry, "ground", None)) if p]
    if pin == "G":
        rails = ["S"]
    value = "4k7" if found.rule == "no-pull-up" else "10k"
    if found.rule == "no-pull-up":
        rails = rails[:1]
    elif len(rails) == 2 and (side := _switched_to(circuit, key, pin, rails)) is not None:
        rails = [rail for rail in rails if rail != side]
    for rail in rails:
        places = Places(circuit)
        one = places.spot_in_net(circuit.pin_net[key, pin])
        other = places.spot_in_net(circuit.pin_net[key, rail])
        if one is None or other is None:
            continue
        name = free_name(circuit, "R")
        draft = Draft(circuit.bench.tree.lines)
        if "." in one or "." in other:
            draft.add_line(f"part {name} {value}").add_line(f"wire {name}.1 to {one}")
            draft.add_line(f"wire {name}.2 to {other}")
        else:
            draft.add_line(f"part {name} {value} in {one} {other}")
        way = "up" if rail not in ("GND", "S") and rail != getattr(entry, "ground", None) else "down"
        yield Candidate(say=f"add {name} ({value}) from {one} to {other}: it pulls the pin {way}", edits=draft.edits(),
                        effort=3.0, parts=(part.name,), line=part.span.line)
