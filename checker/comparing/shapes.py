"""The shape of a part: which of its pins can be exchanged and which cannot.

Input: an entry of the parts library. Output: a ``Shape``: terminals (pins that are one conductor inside the part are one
terminal) and units, the like blocks of which a part may hold several: gates, amplifiers, channels, pins of a controller.
Terminals with the same label may be exchanged freely, units of the same kind too; terminals of the same ``loose`` class
can be exchanged by turning the part, which is a difference.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import networkx as nx
from msgspec import Struct, structs

from parts_library.logic import evaluate, pins_of
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Fuse,
    Inductor,
    Jfet,
    Led,
    Load,
    Mosfet,
    Output,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    SupplyKind,
    Switch,
    Thyristor,
    Zener,
)


class Terminal(Struct, frozen=True):
    """One terminal: its pins, its label, and the class within which turning the part exchanges it ("" for none)."""

    pins: tuple[str, ...]
    label: str
    loose: str = ""


class Unit(Struct, frozen=True):
    """One of several like blocks in a part. ``numbered`` units are not quite alike: which one is used is told."""

    name: str
    kind: str
    terminals: tuple[Terminal, ...]
    numbered: bool = False


class Shape(Struct, frozen=True):
    """The terminals and units of an entry; parts of the same ``group`` can stand in each other's place."""

    group: str
    terminals: tuple[Terminal, ...]
    units: tuple[Unit, ...] = ()


ANY = "end"
"""The label of a terminal without polarity; it agrees with every other label of its class."""

TURNING = {"poles": 0.5, "legs": 0.5, "contacts": 0.5, "track": 0.15, "throws": 0.15}
"""What a terminal in its neighbour's place counts, by class: two of them make one part turned round. A potentiometer or
a change-over switch that is turned round works the other way, no more."""

FEW_LEGS = 3
"""A chip with so few legs in a row is turned round like a transistor."""


def shape_of(entry: AnyEntry) -> Shape:
    """The shape of an entry."""
    if isinstance(entry, Controller):
        return _controller(entry)
    if isinstance(entry, Chip):
        return _chip(entry)
    if isinstance(entry, Switch):
        return _switch(entry)
    return Shape(_group(entry), _terminals(entry))


# ── parts with a few pins ─────────────────────────────────────────────────────────────────────────────────────────


def _group(entry: AnyEntry) -> str:
    if isinstance(entry, Diode | Zener | Led):
        return "diode"
    base = "transistor" if isinstance(entry, Bipolar) else type(entry).__name__.lower()
    many = isinstance(entry, Bipolar | Regulator | Relay) or len(entry.pins) > 3
    return f"{base} {' '.join(sorted(entry.pins))}" if many else base


def _terminals(entry: AnyEntry) -> tuple[Terminal, ...]:
    pins = entry.pins
    if isinstance(entry, Resistor | Inductor | Fuse | SensorResistor):
        return tuple(Terminal((pin,), ANY, "ends") for pin in pins)
    if isinstance(entry, Capacitor | Load):
        polar = entry.polarised if isinstance(entry, Capacitor) else entry.one_way or "+" in pins
        return tuple(Terminal((pin,), pin if polar else ANY, "poles") for pin in pins)
    if isinstance(entry, SupplyKind | Diode | Zener | Led):
        return tuple(Terminal((pin,), pin, "poles") for pin in pins)
    if isinstance(entry, Bipolar | Mosfet | Jfet | Thyristor | Regulator):
        return tuple(Terminal((pin,), pin, "legs") for pin in pins)
    if isinstance(entry, Potentiometer):
        return tuple(Terminal((pin,), pin, "" if pin == "W" else "track") for pin in pins)
    if isinstance(entry, Relay):
        return tuple(_relay_terminal(pin) for pin in pins)
    return _joined(pins, getattr(entry, "joined", ()), "legs" if len(pins) <= FEW_LEGS else "")


def _relay_terminal(pin: str) -> Terminal:
    if pin in ("A1", "A2"):
        return Terminal((pin,), "coil", "coil")
    return Terminal((pin,), pin, "contacts" if pin in ("NO", "NC") else "")


def _joined(pins: tuple[str, ...], joined: tuple[tuple[str, str], ...], loose: str = "") -> tuple[Terminal, ...]:
    """A terminal for each set of pins that are one conductor inside, labelled by the first of them."""
    graph: nx.Graph[str] = nx.Graph(list(joined))
    graph.add_nodes_from(pins)
    sets = sorted((sorted(found, key=pins.index) for found in nx.connected_components(graph)),
                  key=lambda found: pins.index(found[0]))
    return tuple(Terminal(tuple(found), found[0], loose) for found in sets)


def _switch(entry: Switch) -> Shape:
    terminals = _joined(entry.pins, tuple(contact.pins for contact in entry.contacts if not contact.when))
    of_pin = {pin: terminal for terminal in terminals for pin in terminal.pins}
    poles: nx.Graph[Terminal] = nx.Graph()
    poles.add_nodes_from(terminals)
    poles.add_edges_from((of_pin[c.pins[0]], of_pin[c.pins[1]]) for c in entry.contacts if c.when)
    sets = [sorted(found, key=terminals.index) for found in nx.connected_components(poles)]
    if len(sets) == 1:
        return Shape(f"switch {len(terminals)}", tuple(_switch_terminal(t, len(terminals)) for t in terminals))
    units = tuple(Unit(found[0].pins[0], f"pole {len(found)}", tuple(_switch_terminal(t, len(found)) for t in found), True)
                  for found in sorted(sets, key=lambda found: terminals.index(found[0])))
    return Shape(f"switch of {len(units)}", (), units)


def _switch_terminal(terminal: Terminal, of: int) -> Terminal:
    """Two terminals are alike; of three, all but the common one are throws."""
    if of == 2:
        return Terminal(terminal.pins, ANY, "ends")
    return Terminal(terminal.pins, terminal.label, "" if terminal.label == "COM" else "throws")


# ── controllers and chips ─────────────────────────────────────────────────────────────────────────────────────────


def _controller(entry: Controller) -> Shape:
    signals = (*entry.digital, *entry.analog)
    return Shape("controller", tuple(Terminal((pin,), pin) for pin in entry.pins if pin not in signals),
                 tuple(_pin_unit(pin) for pin in signals))


def _pin_unit(pin: str) -> Unit:
    return Unit(pin, "pin", (Terminal((pin,), "pin"),), numbered=True)


@lru_cache(maxsize=512)
def _chip_shape(group: str, pins: tuple[str, ...], units: tuple[Unit, ...]) -> Shape:
    inside = {pin for unit in units for terminal in unit.terminals for pin in terminal.pins}
    loose = "legs" if len(pins) <= FEW_LEGS else ""
    return Shape(group, tuple(Terminal((pin,), pin, loose) for pin in pins if pin not in inside), units)


def _chip(entry: Chip) -> Shape:
    group = f"chip {' '.join(sorted(entry.pins))}"
    if entry.type == "microcontroller":
        free = tuple(_pin_unit(pin) for output in entry.outputs for pin in output.pins)
        return _chip_shape(group, entry.pins, free)
    for units in (_gates(entry), _amplifiers(entry), _channels(entry)):
        kinds = [unit.kind for unit in units]
        like = tuple(structs.replace(unit, kind=_structure(unit, list(dict.fromkeys(kinds))))
                     for unit in units if kinds.count(unit.kind) > 1)
        pins = [pin for unit in like for terminal in unit.terminals for pin in terminal.pins]
        if like and len(set(pins)) == len(pins) and set(pins) <= set(entry.pins):
            return _chip_shape(group, entry.pins, like)
    return _chip_shape(group, entry.pins, ())


def _structure(unit: Unit, kinds: list[str]) -> str:
    """The kind of a unit without what it does, which the type of the chip says: a NOR gate can stand for a NAND gate and be
    told as another type. Kinds in one chip stay apart."""
    return f"{kinds.index(unit.kind)} {' '.join(sorted(terminal.label for terminal in unit.terminals))}"


def _gates(entry: Chip) -> list[Unit]:
    """Outputs that follow inputs of their own. An enable of its own is one of the inputs; one for several stays outside and
    tells those that it enables from the rest. No units where a pin is left whose gate is not known."""
    enables = [pin for output in entry.outputs for expression in output.enabled_by for pin in pins_of(expression)]
    units = [_gate(output, number, [pin for pin in enables if enables.count(pin) == 1 and len(output.enabled_by) > 1])
             for output in entry.outputs for number in range(len(output.follows))]
    inside = {pin for unit in units for terminal in unit.terminals for pin in terminal.pins}
    common = {*entry.supply_pins, *entry.unused, *enables}
    return units if set(entry.pins) <= inside | common else []


def _gate(output: Output, number: int, own_enables: list[str]) -> Unit:
    expression = output.follows[number]
    inputs = pins_of(expression)
    several = len(output.enabled_by) == len(output.pins)
    enabled_by = output.enabled_by[number] if several else "|".join(output.enabled_by)
    enables = [pin for pin in pins_of(enabled_by) if pin in own_enables and pin not in inputs]
    terminals = [Terminal((output.pins[number],), "out"), *(Terminal((pin,), "enable") for pin in enables)]
    terminals += [Terminal((one,), label) for one, label in zip(inputs, _input_labels(expression, inputs))]
    kind = f"gate {without_names(expression, inputs)} {without_names(enabled_by, tuple(enables))} {output.style}"
    return Unit(output.pins[number], kind, tuple(terminals))


def without_names(expression: str, inputs: tuple[str, ...]) -> str:
    """A function with numbers for the names of its pins."""
    for number, name in enumerate(inputs):
        expression = expression.replace(name, f"#{number}")
    return expression


@lru_cache(maxsize=512)
def _input_labels(expression: str, inputs: tuple[str, ...]) -> tuple[str, ...]:
    """The same label for all inputs where the function is the same in whatever order they come, else their places. Exchanges of
    neighbours make every order, so these are enough to look at."""
    rows = range(2 ** len(inputs))
    tables = {tuple(evaluate(expression, dict(zip(order, _bits(row, len(inputs)))).__getitem__) & 1 for row in rows)
              for order in _neighbours_exchanged(inputs)}
    return tuple("in" if len(tables) == 1 else f"in{number}" for number in range(len(inputs)))


def _neighbours_exchanged(inputs: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The order itself, and each with two neighbours exchanged."""
    yield inputs
    for place in range(len(inputs) - 1):
        yield (*inputs[:place], inputs[place + 1], inputs[place], *inputs[place + 2:])


def _bits(row: int, count: int) -> list[int]:
    return [-(row >> place & 1) for place in range(count)]


def _amplifiers(entry: Chip) -> list[Unit]:
    return [Unit(one.output, f"amplifier {one.open_collector}", (
        Terminal((one.output,), "out"), Terminal((one.plus,), "in+"), Terminal((one.minus,), "in-")))
        for one in entry.amplifiers]


def _channels(entry: Chip) -> list[Unit]:
    """The channels of an array, whose equivalent circuit repeats over numbered pins: IN1 OUT1, IN2 OUT2 …"""
    most = max((element.repeat for element in entry.circuit), default=1)
    names = sorted({node for element in entry.circuit if element.repeat == most for node in element.nodes if "{n}" in node})
    real = [name for name in names if all(name.replace("{n}", str(n)) in entry.pins for n in range(1, most + 1))]
    if most < 2 or len(real) < 2:
        return []
    return [Unit(real[-1].replace("{n}", str(n)), "channel " + " ".join(real),
                 tuple(Terminal((name.replace("{n}", str(n)),), name) for name in real)) for n in range(1, most + 1)]
