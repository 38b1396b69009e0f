"""Every rating of every part as a quantity at each point beside its limit.

One generator a kind of part. It says what is computed and what the library's limit is; whether the limit is passed, and
in which points that counts, is the rules' business. A severity is damage where the limit is an absolute maximum.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from msgspec import Struct, structs

from checker.bench.model import BenchPart
from checker.operating.chips import logic_pin
from checker.operating.corners import AMBIENT
from checker.operating.latching import main_pins
from checker.operating.models import relay_ohms
from checker.operating.points import Floats
from checker.rules.case import Case, Mask
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Fuse,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    Stepper,
    Switch,
    Thyristor,
    Zener,
)

MOTOR_OVERVOLTAGE = 1.5
"""Times its rated voltage that a motor or solenoid stands for long where the list says nothing: from memory, small
brushed motors are sold for ranges such as 3-6 V and 6-12 V, so half as much again does no harm."""

LAMP_OVERVOLTAGE = 1.2
"""The same for a lamp: its life falls with about the twelfth power of the voltage (IES Lighting Handbook, from memory)."""

COIL_OVERVOLTAGE = 1.3
"""The same for a relay's coil: 110 to 130 % at 23 °C is what relay datasheets allow continuously."""

ELECTROLYTIC_REVERSE = 1.0
"""Volts that an aluminium electrolytic stands the wrong way round: makers' application guides allow about 1 V."""

TRIPS = 2.0
"""Times its hold current at which a polymer fuse trips for sure (makers' data sheets, from memory); between the two it may."""

REGULATOR_REVERSE = 0.5
"""Volts by which a regulator's output may stand above its input: a diode drop, above which current runs back through the
pass transistor (makers' application notes ask for a diode from output to input where that can happen, from memory)."""

LEAST_EXCESS = 0.1
"""Volts by which a pin may stand above its supply where a datasheet says "the supply": less is a drop in a wire."""

LEAST_REVERSE = 0.5
"""Volts the wrong way round at a supply pin from which it counts as reversed: below, no junction conducts."""

AUX_OVERVOLTAGE = 1.1
"""Times its voltage that a 3.3 V rail stands: 3.6 V is the absolute maximum of most 3.3 V chips (datasheets)."""


class Rating(Struct, frozen=True):
    """A quantity at each point against its limit. ``kind``: voltage, reverse, current, power, junction, pin, clamp, supply,
    surge (once, when something is switched), range (what it is specified for); ``pins`` of the part it concerns; ``of`` names
    it in reports."""

    kind: str
    key: str
    of: str
    quantity: str
    unit: str
    values: Floats
    limit: float
    pins: tuple[str, ...]
    severity: str = "damage"


def ratings_of(case: Case) -> tuple[Rating, ...]:
    """All ratings of all parts; made once a case."""
    if "ratings" not in case.kept:
        case.kept["ratings"] = tuple(_made(case))
    kept: tuple[Rating, ...] = case.kept["ratings"]
    return kept


def _made(case: Case) -> Iterator[Rating]:
    for key, part in case.parts():
        source = _SOURCES.get(type(part.entry))
        if source is not None:
            yield from source(case, key, part)


def _voltage(case: Case, key: str, plus: str, minus: str, limit: float, kind: str = "voltage") -> Rating:
    return Rating(kind, key, f"{case.name(key)} {plus}-{minus}", "voltage", "V", case.volts(key, plus, minus),
                  float(limit), (plus, minus))


def _range(case: Case, key: str, plus: str, minus: str, most: float) -> Iterator[Rating]:
    """The highest supply voltage in which a part is specified: above it a note."""
    yield structs.replace(_voltage(case, key, plus, minus, most, kind="range"), severity="note")


def _current(case: Case, key: str, pin: str, limit: float, of: str = "") -> Rating:
    return Rating("current", key, of or case.pin_name(key, pin), "current", "A", np.abs(case.amps(key, pin)),
                  float(limit), (pin,))


def _heat(case: Case, key: str, part: BenchPart, limit: float | None = None) -> Iterator[Rating]:
    """Power against the rating at 25 °C; where the junction's limit is passed below it, the junction."""
    entry = part.entry
    assert entry is not None
    most = limit if limit is not None else entry.max_power
    power = case.power(key)
    if most is not None:
        yield Rating("power", key, case.name(key), "power", "W", power, float(most), part.pins)
    if entry.thermal_resistance is not None and entry.max_junction is not None:
        yield Rating("junction", key, case.name(key), "temperature", "degC",
                     AMBIENT + power * float(entry.thermal_resistance), float(entry.max_junction), part.pins)


def _bipolar(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Bipolar)
    high, low = ("C", "E") if entry.polarity == "npn" else ("E", "C")
    yield _voltage(case, key, high, low, entry.vceo)
    if "B" in entry.pins:
        base = ("E", "B") if entry.polarity == "npn" else ("B", "E")
        yield _voltage(case, key, *base, entry.vebo, kind="reverse")
        collector = ("C", "B") if entry.polarity == "npn" else ("B", "C")
        yield _voltage(case, key, *collector, entry.vcbo or entry.vceo)
        yield _current(case, key, "B", entry.ib or entry.ic)
    yield _current(case, key, "C", entry.ic)
    yield from _heat(case, key, part)


def _mosfet(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Mosfet)
    drain, source = ("D", "S") if entry.polarity == "n" else ("S", "D")
    yield _voltage(case, key, drain, source, entry.vds)
    yield Rating("voltage", key, f"{part.name} G-S", "voltage", "V", np.abs(case.volts(key, "G", "S")),
                 float(entry.vgs), ("G", "S"))
    yield _current(case, key, "D", entry.id)
    yield from _heat(case, key, part)


def _jfet(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Jfet)
    for end in ("S", "D"):
        yield _voltage(case, key, *((end, "G") if entry.polarity == "n" else ("G", end)), entry.gate_voltage, kind="reverse")
    forward = case.amps(key, "G") * (1.0 if entry.polarity == "n" else -1.0)
    yield Rating("current", key, case.pin_name(key, "G"), "current", "A", forward, float(entry.gate_current), ("G",))
    yield from _heat(case, key, part)


def _thyristor(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Thyristor)
    high, low = main_pins(entry)
    yield Rating("voltage", key, f"{part.name} {high}-{low}", "voltage", "V", np.abs(case.volts(key, high, low)),
                 float(entry.voltage), (high, low))
    if not entry.two_way:
        yield _voltage(case, key, low, "G", entry.gate_reverse, kind="reverse")
    yield _current(case, key, "G", entry.gate_current)
    yield _current(case, key, high, entry.current)
    yield from _heat(case, key, part)


def _diode(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Diode)
    yield _voltage(case, key, "K", "A", entry.vrrm, kind="reverse")
    yield Rating("current", key, part.name, "current", "A", case.amps(key, "A"), float(entry.current), ("A", "K"))
    if entry.surge is not None:
        yield Rating("surge", key, part.name, "current", "A", case.amps(key, "A"), float(entry.surge), ("A", "K"))
    yield from _heat(case, key, part)


def _zener(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    yield from _heat(case, key, part)


def _led(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Led)
    yield Rating("current", key, part.name, "current", "A", case.amps(key, "A"), float(entry.current), ("A", "K"))
    yield _voltage(case, key, "K", "A", entry.reverse_voltage, kind="reverse")


def _led_group(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, LedGroup)
    anodes = [member.anode for member in entry.members]
    for member in entry.members:
        like = case.bench.library.entries.get(member.like)
        if not isinstance(like, Led):
            continue
        own = member.anode if anodes.count(member.anode) == 1 else member.cathode
        # where both ends are shared, as of a scanned display, an LED carries no more than either of its pins
        amps = np.minimum(np.abs(case.amps(key, member.anode)), np.abs(case.amps(key, member.cathode)))
        yield Rating("current", key, case.pin_name(key, own), "current", "A", amps, float(like.current),
                     (member.anode, member.cathode))
        yield _voltage(case, key, member.cathode, member.anode, like.reverse_voltage, kind="reverse")


def _resistor(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    assert isinstance(part.entry, Resistor)
    yield from _heat(case, key, part, float(part.entry.power))


def _capacitor(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Capacitor)
    plus, minus = entry.pins
    across = case.volts(key, plus, minus)
    if entry.voltage is not None:
        yield Rating("voltage", key, part.name, "voltage", "V", across if entry.polarised else np.abs(across),
                     float(entry.voltage), (plus, minus))
    if entry.polarised:
        yield Rating("reverse", key, part.name, "reverse voltage", "V", -across,
                     float(entry.reverse_voltage or ELECTROLYTIC_REVERSE), (plus, minus))


def _potentiometer(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Potentiometer)
    most = float(entry.wiper_current) if entry.wiper_current else (entry.power / (entry.ohms or 10_000.0)) ** 0.5
    for pin in ("1", "3"):
        yield _current(case, key, pin, most)


def _switch(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Switch)
    for pin in part.pins:
        yield _current(case, key, pin, entry.current)


def _fuse(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Fuse)
    if entry.current is None:
        return
    amps = np.abs(case.amps(key, "1"))
    if entry.resets:
        # it is heat that trips it: what is over in a moment does not
        yield Rating("polyfuse", key, part.name, "current", "A", np.where(case.mask("running"), amps, 0.0),
                     float(entry.current) * TRIPS, part.pins, "fault")
    else:
        yield Rating("fuse", key, part.name, "current", "A", amps, float(entry.current), part.pins, "fault")


def _load(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Load)
    plus, minus = part.pins[:2]
    across = case.volts(key, plus, minus)
    times = LAMP_OVERVOLTAGE if entry.type == "lamp" else MOTOR_OVERVOLTAGE
    most = entry.voltage_max or (times * entry.voltage if entry.voltage else None)
    if most is not None:
        yield Rating("voltage", key, part.name, "voltage", "V", np.abs(across), float(most), part.pins)


def _relay(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Relay)
    rated = entry.voltage or (relay_ohms(entry) * (entry.current or 0.0)) or None
    if rated:
        yield Rating("voltage", key, f"{part.name} coil", "voltage", "V", np.abs(case.volts(key, "A1", "A2")),
                     float(rated) * COIL_OVERVOLTAGE, ("A1", "A2"))
    if entry.contact_current is not None:
        for pin in part.pins:
            if pin not in ("A1", "A2"):
                yield _current(case, key, pin, entry.contact_current)


def _stepper(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Stepper)
    for one, other in entry.coils:
        yield Rating("voltage", key, f"{part.name} {one}-{other}", "voltage", "V",
                     np.abs(case.volts(key, one, other)), float(entry.voltage) * COIL_OVERVOLTAGE, (one, other))


def _regulator(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Regulator)
    ground = "ADJ" if entry.adjustable else "GND"
    plus, minus = ("IN", ground) if not entry.negative else (ground, "IN")
    yield _voltage(case, key, plus, "OUT" if entry.adjustable else minus, entry.vin_max)
    if entry.vin_operating is not None:
        yield from _range(case, key, plus, minus, entry.vin_operating)
    yield _voltage(case, key, minus, plus, 1.0, kind="reverse")
    backwards = ("OUT", "IN") if not entry.negative else ("IN", "OUT")
    yield _voltage(case, key, *backwards, REGULATOR_REVERSE, kind="reverse")
    yield Rating("supply", key, case.pin_name(key, "OUT"), "current", "A", np.abs(case.amps(key, "OUT")),
                 float(entry.current), ("OUT",))
    yield from _heat(case, key, part)


# ── pins ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _clamp(case: Case, key: str, pin: str, supply: str | None, ground: str | None, limit: float,
           where: Mask | bool = True) -> Iterator[Rating]:
    """What a protection diode carries: the current into a pin that stands above its supply, out of one below ground. Of a
    pin that is driven (not ``where``) the output itself takes it."""
    amps = np.where(where, case.amps(key, pin), 0.0)
    if supply is not None:
        above = case.volts(key, pin, supply)
        yield Rating("clamp", key, case.pin_name(key, pin), "current", "A", np.where(above > 0.3, amps, 0.0), limit,
                     (pin, supply))
    if ground is not None:
        below = case.volts(key, ground, pin)
        yield Rating("clamp", key, case.pin_name(key, pin), "current", "A", np.where(below > 0.3, -amps, 0.0), limit,
                     (pin, ground))


def _chip(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Chip)
    supply, ground = entry.supply, entry.ground
    if supply and ground:
        if entry.supply_absolute is not None:
            yield _voltage(case, key, supply, ground, entry.supply_absolute)
        if entry.supply_max is not None:
            yield from _range(case, key, supply, ground, entry.supply_max)
        yield Rating("chip-reversed", key, part.name, "voltage", "V", case.volts(key, ground, supply), 0.5,
                     (ground, supply))
        if entry.total_current is not None:
            yield _current(case, key, ground, entry.total_current)
    for group in entry.inputs:
        for pin in group.pins:
            if (key, pin) in case.circuit.touched:
                if group.voltage_max is not None and ground:
                    yield _voltage(case, key, pin, ground, group.voltage_max)
                if group.clamped:
                    yield from _clamp(case, key, pin, group.supply or supply, ground,
                                      float(group.clamp_current or 0.02))
                elif group.above_supply is not None and supply:
                    yield _voltage(case, key, pin, group.supply or supply, max(group.above_supply, LEAST_EXCESS))
    for output in entry.outputs:
        for pin in output.pins:
            if (key, pin) in case.circuit.touched and output.current is not None:
                yield Rating("pin", key, case.pin_name(key, pin), "current", "A", np.abs(case.amps(key, pin)),
                             float(output.current), (pin,))
            if (key, pin) in case.circuit.touched and output.voltage_max is not None and ground:
                yield _voltage(case, key, pin, ground, output.voltage_max)
    for limit in entry.limits:
        for number in range(1, limit.repeat + 1):
            of = tuple(name.replace("{n}", str(number)) for name in limit.of)
            if all((key, pin) in case.circuit.touched and not case.circuit.is_alone(case.net(key, pin)) for pin in of):
                if limit.quantity == "voltage" and limit.volts is not None and len(of) == 2:
                    yield _voltage(case, key, of[0], of[1], limit.volts)
                elif limit.amps is not None:
                    yield _current(case, key, of[0], limit.amps)
    yield from _heat(case, key, part)


def _controller(case: Case, key: str, part: BenchPart) -> Iterator[Rating]:
    entry = part.entry
    assert isinstance(entry, Controller)
    logic = logic_pin(entry)
    pins = [pin for pin in (*entry.digital, *entry.analog) if (key, pin) in case.circuit.touched]
    total = np.zeros(len(case.operating.points))
    for pin in pins:
        amps = case.amps(key, pin)
        driven = np.array([point.state.get(case.pin_name(key, pin)) in ("high", "low") for point in case.operating.points])
        outside = ((case.volts(key, pin, logic) > 0.3) | (case.volts(key, "GND", pin) > 0.3)) & ~driven
        yield Rating("pin", key, case.pin_name(key, pin), "current", "A", np.where(outside, 0.0, np.abs(amps)),
                     float(entry.pin_absolute), (pin,))
        yield from _clamp(case, key, pin, logic, "GND", float(entry.clamp_current), ~driven)
        total = total + np.abs(amps)
    if len(pins) > 1:
        yield Rating("pins", key, part.name, "current", "A", total, float(entry.total_current), tuple(pins))
    if (key, "VIN") in case.circuit.touched:
        yield _voltage(case, key, "VIN", "GND", entry.vin_absolute)
        yield _voltage(case, key, "GND", "VIN", LEAST_REVERSE, kind="reverse")
    if (key, "RESET") in case.circuit.touched:
        yield _voltage(case, key, "RESET", logic, float(entry.above_supply) + LEAST_EXCESS)
        yield _voltage(case, key, "GND", "RESET", LEAST_REVERSE, kind="reverse")
    yield _voltage(case, key, "5V", "GND", 5.5 if logic == "5V" else 6.0)
    if logic != "5V" or (key, "3V3") in case.circuit.touched:
        yield _voltage(case, key, "3V3", "GND", float(entry.aux_voltage) * AUX_OVERVOLTAGE)
    yield Rating("supply", key, case.pin_name(key, "5V"), "current", "A", -case.amps(key, "5V"),
                 float(max(entry.usb_current, entry.vin_current if (key, "VIN") in case.circuit.touched else 0.0)),
                 ("5V",))
    if (key, "3V3") in case.circuit.touched:
        yield Rating("supply", key, case.pin_name(key, "3V3"), "current", "A", -case.amps(key, "3V3"),
                     float(entry.aux_current), ("3V3",))


_SOURCES: dict[type, Callable[[Case, str, BenchPart], Iterator[Rating]]] = {
    Bipolar: _bipolar, Mosfet: _mosfet, Jfet: _jfet, Thyristor: _thyristor,
    Diode: _diode, Zener: _zener, Led: _led, LedGroup: _led_group,
    Resistor: _resistor, Capacitor: _capacitor, Potentiometer: _potentiometer, Switch: _switch, Fuse: _fuse,
    Load: _load, Relay: _relay, Stepper: _stepper, Regulator: _regulator, Chip: _chip, Controller: _controller,
}
