"""Candidates that put a resistor into a wire: before an LED, a base, a pin that gives too much; in place of a wire at a button.

Input: the circuit, its operating points and a finding; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, free_name
from checker.fixes.segments import one_for_each
from checker.operating.operate import Operating
from checker.rules.base import Found
from checker.seating.boards import Strip
from grammar import show_quantity
from grammar.syntax_tree import Hole, Pin, Point, Wire
from parts_library.markings import nearest_preferred
from parts_library.schema import Bipolar, Chip, Controller, Led, LedGroup, Load, Relay, Stepper, Switch, Zener

LED_DROP, BASE_DROP = 2.0, 0.8
USUAL_LED_AMPS, USUAL_BASE_AMPS = 0.01, 0.015


def series_resistors(circuit: Circuit, operating: Operating, found: Found) -> Iterator[Candidate]:
    """A resistor put into a wire that leads to the part."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    if part is None or not isinstance(part.entry, Bipolar | Led | LedGroup | Controller | Chip | Switch | Zener):
        return
    key = part.name.lower()
    if isinstance(part.entry, Switch) and not any(_is_read(circuit, circuit.pin_net[key, pin]) for pin in part.pins):
        return
    pins = [pin for pin in part.pins if circuit.place_of[key, pin] in found.points] or list(part.pins)
    if isinstance(part.entry, Bipolar):
        pins = ["B"]
    if isinstance(part.entry, Controller):
        pins = [point.split(".")[-1] for point in found.points if "." in point]
    pins = [pin for pin in pins if (key, pin) in circuit.pin_net and not _drives_load(circuit, key, pin)
            and not feeds(part, pin)]
    if isinstance(part.entry, LedGroup):
        yield from one_for_each(circuit, part, _driven(circuit, key, part), _spelt(_series_values(operating, part)[0]))
    for number, ohms in enumerate(_series_values(operating, part)):
        for pin in pins:
            net = circuit.pin_net[key, pin]
            for candidate in _into_wires(circuit, net, part, ohms, _watts(operating, ohms, net)):
                yield structs.replace(candidate, effort=candidate.effort + 0.01 * number)


def before_bases(circuit: Circuit, operating: Operating, found: Found) -> Iterator[Candidate]:
    """For a transistor that sheds too much: a resistor before each base that hangs straight on its collector."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    if part is None or not isinstance(part.entry, Bipolar):
        return
    net = circuit.pin_net[part.name.lower(), "C"]
    for key, pin in circuit.pins_on[net]:
        other = circuit.part(key)
        if pin == "B" and isinstance(other.entry, Bipolar) and other is not part:
            for ohms in _series_values(operating, other):
                for candidate in _into_wires(circuit, net, other, ohms, _watts(operating, ohms, net)):
                    yield structs.replace(candidate, parts=(other.name, part.name), effort=candidate.effort - 1.0)


def is_zener(circuit: Circuit, found: Found) -> bool:
    """True where a finding is about a zener diode: what it sheds is for a resistor before it to limit."""
    part = circuit.bench.part(found.parts[0]) if found.parts else None
    return part is not None and isinstance(part.entry, Zener)


def _driven(circuit: Circuit, key: str, part: BenchPart) -> list[str]:
    """The pins of a group of LEDs that something is on, its common ones left out."""
    entry = part.entry
    assert isinstance(entry, LedGroup)
    common = {pin for pin in part.pins if pin.upper().startswith("COM")}
    return [pin for pin in part.pins if pin not in common and len(circuit.pins_on[circuit.pin_net[key, pin]]) > 1]


def _spelt(ohms: float) -> str:
    return show_quantity(ohms, "ohm").replace(" ", "").replace("Ω", "")


def feeds(part: BenchPart, pin: str) -> bool:
    """A supply or ground pin, or the output of a converter: a resistor there only starves what hangs on it."""
    entry = part.entry
    if isinstance(entry, Chip) and pin.upper().startswith("OUT") and entry.type in ("module", "converter", "reference"):
        return True
    return (isinstance(entry, Controller) and pin in ("5V", "3V3", "GND", "VIN", "RESET")) or (
        isinstance(entry, Chip) and pin in entry.supply_pins)


def _drives_load(circuit: Circuit, key: str, pin: str) -> bool:
    """A motor or coil on the pin: a resistor before it would only starve it."""
    return any(isinstance(circuit.bench.parts[other].entry, Load | Relay | Stepper)
               for other, _ in circuit.pins_on[circuit.pin_net[key, pin]])


def beside_switches(circuit: Circuit) -> Iterator[Candidate]:
    """A 10 kΩ resistor in place of a wire at a button: where a pull resistor was meant, a wire shorts the supply."""
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, Switch):
            nets = {net for pin in part.pins if _is_read(circuit, net := circuit.pin_net[key, pin])}
            for wire in circuit.bench.wires:
                if len(wire.points) == 2 and all(isinstance(p, Hole) for p in wire.points) and any(
                        net_at(circuit, p) in nets for p in wire.points):
                    yield _instead(circuit, wire, free_name(circuit, "R"), "10k", part)


def _is_read(circuit: Circuit, net: int) -> bool:
    """True for a net with a pin that reads: of a controller or a chip, none of their supply pins."""
    readers = [(circuit.part(key), pin) for key, pin in circuit.pins_on[net]]
    return any(isinstance(part.entry, Controller | Chip) and getattr(part.entry, "type", "") != "opto" and not feeds(part, pin)
               for part, pin in readers)


def _series_values(operating: Operating, part: BenchPart) -> list[float]:
    """E12 values that bring the current down: for an LED about 10 mA, for a base about 15 mA, at the highest voltage there
    is; then the next decade steps up."""
    highest = float(operating.volts[operating.mask("nominal")].max(initial=0.0)
                    - operating.volts[operating.mask("nominal")].min(initial=0.0)) or 5.0
    drop, amps = (BASE_DROP, USUAL_BASE_AMPS) if isinstance(part.entry, Bipolar | Controller) else (
        LED_DROP, USUAL_LED_AMPS)
    if isinstance(part.entry, Zener):
        drop = float(part.entry.voltage or 0.0)
    wanted = sorted({max((volts - drop) / amps, 100.0) for volts in (min(highest, 5.0), highest)})
    values = [float(nearest_preferred(ohms, "E12")) for ohms in wanted]
    if isinstance(part.entry, Switch):
        return [10_000.0]
    if isinstance(part.entry, Zener):
        # enough for the zener, and little enough for what it guards
        return [*values[::-1], 10_000.0]
    if getattr(part.entry, "type", "") == "opto":
        # nothing but the supply decides
        return values[::-1]
    return list(dict.fromkeys([*values, 1000.0]))


def _watts(operating: Operating, ohms: float, net: int) -> str:
    """The wattage to write behind a value in series with a net: nothing for the usual quarter of a watt. A controller's pin
    gives no more than its own supply."""
    boards = [board for key, pin in operating.circuit.pins_on[net]
              if isinstance(board := operating.circuit.part(key).entry, Controller) and pin in (*board.digital, *board.analog)]
    volts = operating.volts[operating.mask("nominal")]
    over = max(float(board.logic) for board in boards) if boards else float(volts.max(initial=0.0) - volts.min(initial=0.0))
    most = over ** 2 / ohms
    for watts, words in ((0.25, ""), (0.5, " 1/2W"), (1.0, " 1W"), (2.0, " 2W"), (5.0, " 5W")):
        if most <= watts:
            return words
    return " 10W"


def _into_wires(circuit: Circuit, net: int, part: BenchPart, ohms: float, watts: str) -> Iterator[Candidate]:
    name = free_name(circuit, "R")
    value = _spelt(ohms) + watts
    for wire in circuit.bench.wires:
        if len(wire.points) == 2 and net_at(circuit, wire.points[0]) == net and all(
                isinstance(point, Hole) for point in wire.points):
            yield _instead(circuit, wire, name, value, part)
        if any(isinstance(point, Pin) and (its := circuit.bench.part(point.part)) is not None and feeds(its, point.pin.upper())
               for point in wire.points):
            continue
        for index, point in enumerate(wire.points):
            if len(wire.points) == 2 and net_at(circuit, point) == net:
                yield from _split(circuit, wire, index, name, value, part)
            elif isinstance(part.entry, Zener) and net_at(circuit, point) == net and _is_plus(circuit, point):
                yield from _split(circuit, wire, index, name, value, part)


def _is_plus(circuit: Circuit, point: Point) -> bool:
    """True for a supply's plus by name."""
    part = circuit.bench.part(point.part) if isinstance(point, Pin) else None
    return isinstance(point, Pin) and part is not None and part.is_supply and point.pin == "+"


def net_at(circuit: Circuit, point: Point) -> int | None:
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
