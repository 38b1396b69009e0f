"""Ratings of the parts library against what the oracle computed: a list of stresses, each a value with its limit.

Limits are the entries' own; the rest is common practice as DESIGN.md section 3 states it (a motor stands 1.5 times its voltage, a
lamp 1.2, a coil 1.3; about 1 V backwards on an electrolytic; 1 mA in a pin's protection diode).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from msgspec import Struct

from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Entry,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SupplyKind,
    Switch,
    Zener,
)
from tests.faults.builders import supply_volts, used_pins
from tests.faults.geometry import LIBRARY
from tests.faults.network import Network

AMBIENT = 40.0


class Stress(Struct):
    """``pins``: a voltage between two pins, which counts only if something holds it; ``peak``: it is judged at switch-off too."""

    what: str
    value: float
    limit: float
    pins: tuple[str, ...] | None = None
    peak: bool = False


def stresses(made: Network, v: np.ndarray, heat: bool) -> list[Stress]:
    """Everything that has a limit, in one operating point. ``heat``: whether powers count in this corner."""
    found: list[Stress] = []
    for name, entry in made.wired.entries.items():
        judge = JUDGES.get(type(entry))
        if judge is not None:
            found += [s for s in judge(made, v, name, entry) if s.value > 0.0]
        if heat and isinstance(entry, (Bipolar, Mosfet, Diode, Zener, Regulator, Resistor)):
            found += _heat(made.watts(name, v), name, entry)
    return found


def _heat(watts: float, name: str, entry: Entry) -> Iterator[Stress]:
    limit = entry.power if isinstance(entry, Resistor) else entry.max_power
    if limit:
        yield Stress(f"{name} watts", watts, float(limit))
    if entry.thermal_resistance and entry.max_junction:
        yield Stress(f"{name} junction", watts, (float(entry.max_junction) - AMBIENT) / float(entry.thermal_resistance))


def _volts(made: Network, v: np.ndarray, name: str, plus: str, minus: str) -> float:
    return float(v[made.node(name, plus)] - v[made.node(name, minus)])


def _bipolar(made: Network, v: np.ndarray, name: str, entry: Bipolar) -> Iterator[Stress]:
    sign = 1.0 if entry.polarity == "npn" else -1.0
    yield Stress(f"{name} C-E volts", sign * _volts(made, v, name, "C", "E"), float(entry.vceo), ("C", "E"), True)
    yield Stress(f"{name} E-B volts", sign * _volts(made, v, name, "E", "B"), float(entry.vebo), ("E", "B"), True)
    yield Stress(f"{name} collector amps", abs(made.into(name, v, "C")), float(entry.ic))
    if made.node(name, "B") not in (made.node(name, "C"), made.node(name, "E")):
        yield Stress(f"{name} base amps", abs(made.into(name, v, "B")), float(entry.ib or entry.ic))


def _mosfet(made: Network, v: np.ndarray, name: str, entry: Mosfet) -> Iterator[Stress]:
    sign = 1.0 if entry.polarity == "n" else -1.0
    yield Stress(f"{name} D-S volts", sign * _volts(made, v, name, "D", "S"), float(entry.vds), ("D", "S"),
                 peak=entry.avalanche_energy is None)
    yield Stress(f"{name} G-S volts", abs(_volts(made, v, name, "G", "S")), float(entry.vgs), ("G", "S"), True)
    yield Stress(f"{name} drain amps", abs(made.into(name, v, "D")), float(entry.id))


def _diode(made: Network, v: np.ndarray, name: str, entry: Diode) -> Iterator[Stress]:
    yield Stress(f"{name} amps", made.into(name, v, "A"), float(entry.current))
    yield Stress(f"{name} K-A volts", _volts(made, v, name, "K", "A"), float(entry.vrrm), ("K", "A"), True)


def _led(made: Network, v: np.ndarray, name: str, entry: Led) -> Iterator[Stress]:
    yield Stress(f"{name} amps", made.into(name, v, "A"), float(entry.current))
    yield Stress(f"{name} K-A volts", _volts(made, v, name, "K", "A"), float(entry.reverse_voltage), ("K", "A"), True)


def _led_group(made: Network, v: np.ndarray, name: str, entry: LedGroup) -> Iterator[Stress]:
    from tests.faults.builders import fitted

    for member in entry.members:
        like = LIBRARY.entries[member.like]
        assert isinstance(like, Led)
        volts = _volts(made, v, name, member.anode, member.cathode)
        yield Stress(f"{name} {member.name} amps", fitted(like.forward)(volts), float(like.current))
        yield Stress(f"{name} {member.name} K-A volts", -volts, float(like.reverse_voltage), (member.cathode, member.anode))


def _capacitor(made: Network, v: np.ndarray, name: str, entry: Capacitor) -> Iterator[Stress]:
    across = _volts(made, v, name, *entry.pins)
    if entry.voltage:
        yield Stress(f"{name} volts", across if entry.polarised else abs(across), float(entry.voltage), entry.pins)
    if entry.polarised:
        yield Stress(f"{name} reverse volts", -across, float(entry.reverse_voltage or 1.0), entry.pins)


def _pot(made: Network, v: np.ndarray, name: str, entry: Potentiometer) -> Iterator[Stress]:
    most = float(entry.wiper_current or (entry.power / (entry.ohms or 10e3)) ** 0.5)
    ohms, turned = float(entry.ohms or 10e3), float(made.setting.controls[(name,)])
    for pin, part in (("1", turned), ("3", 1.0 - turned)):
        yield Stress(f"{name}.{pin} amps", abs(_volts(made, v, name, pin, "W")) / max(ohms * part, 1.0), most)


def _switch(made: Network, v: np.ndarray, name: str, entry: Switch) -> Iterator[Stress]:
    position = made.setting.controls.get((name,), entry.positions[0])
    for contact in entry.contacts:
        if position in contact.when:
            amps = abs(_volts(made, v, name, *contact.pins)) / 0.02
            yield Stress(f"{name} contact amps", amps, float(entry.current))


def _load(made: Network, v: np.ndarray, name: str, entry: Load) -> Iterator[Stress]:
    times = 1.2 if entry.type == "lamp" else 1.5
    limit = float(entry.voltage_max or (times * entry.voltage if entry.voltage else 0.0))
    if limit:
        yield Stress(f"{name} volts", abs(_volts(made, v, name, *entry.pins[:2])), limit, entry.pins[:2])


def _relay(made: Network, v: np.ndarray, name: str, entry: Relay) -> Iterator[Stress]:
    if entry.voltage:
        yield Stress(f"{name} coil volts", abs(_volts(made, v, name, "A1", "A2")), 1.3 * float(entry.voltage), ("A1", "A2"))


def _supply(made: Network, v: np.ndarray, name: str, entry: SupplyKind) -> Iterator[Stress]:
    """Shorted: less than a quarter of its voltage is left. Fed backwards: more than 50 mA go in."""
    left = _volts(made, v, name, "+", "-") / supply_volts(entry, made.setting.high)
    yield Stress(f"{name} shorted", 1.0 - left, 0.75 / 1.15)
    yield Stress(f"{name} fed backwards", made.into(name, v, "+"), 0.05)


def _regulator(made: Network, v: np.ndarray, name: str, entry: Regulator) -> Iterator[Stress]:
    yield Stress(f"{name} IN volts", _volts(made, v, name, "IN", "GND"), float(entry.vin_max), ("IN", "GND"))
    yield Stress(f"{name} reversed", _volts(made, v, name, "GND", "IN"), 0.6, ("GND", "IN"))
    yield Stress(f"{name} OUT above IN", _volts(made, v, name, "OUT", "IN"), 0.55, ("OUT", "IN"))
    yield Stress(f"{name} OUT amps", abs(made.into(name, v, "OUT")), float(entry.current))


def _chip(made: Network, v: np.ndarray, name: str, entry: Chip) -> Iterator[Stress]:
    if entry.supply is None or entry.ground is None:
        return
    yield Stress(f"{name} supply reversed", _volts(made, v, name, entry.ground, entry.supply), 0.55, (entry.ground, entry.supply))
    if entry.supply_absolute:
        yield Stress(f"{name} supply volts", _volts(made, v, name, entry.supply, entry.ground), float(entry.supply_absolute),
                     (entry.supply, entry.ground))


def _controller(made: Network, v: np.ndarray, name: str, entry: Controller) -> Iterator[Stress]:
    logic = "3V3" if entry.logic < 4.0 else "5V"
    total = 0.0
    for pin in used_pins(made.wired, name, entry):
        amps = float(made.leaving(f"{name} {pin}", v)[made.node(name, pin)])
        if made.node(name, pin) in (made.node(name, logic), made.node(name, "GND")):
            state = made.setting.controls.get((name, pin), "input")
            tied = logic if made.node(name, pin) == made.node(name, logic) else "GND"
            amps = float(entry.logic) / float(entry.pin_ohms) if (state, tied) in (("high", "GND"), ("low", logic)) else 0.0
        total += abs(amps)
        yield Stress(f"{name}.{pin} amps", abs(amps), float(entry.pin_absolute))
        above, below = _volts(made, v, name, pin, logic), _volts(made, v, name, "GND", pin)
        if max(above, below) > 0.3:
            yield Stress(f"{name}.{pin} clamp amps", abs(amps), 1e-3)
    yield Stress(f"{name} pins together", total, float(entry.total_current))
    for own, pin, limit in ((f"{name} usb", "5V", entry.usb_current), (f"{name} aux", "3V3", entry.aux_current)):
        out = made.leaving(own, v)
        yield Stress(f"{name}.{pin} amps", -float(out[made.node(name, pin)]), float(limit))
        yield Stress(f"{name}.{pin} fed backwards", float(out[made.node(name, pin)]), 0.05)
        if made.node(name, pin) == made.node(name, "GND"):
            yield Stress(f"{name}.{pin} amps", 10.0, float(limit))


JUDGES: dict[type[Any], Callable[..., Iterator[Stress]]] = {
    Bipolar: _bipolar, Mosfet: _mosfet, Diode: _diode, Led: _led, LedGroup: _led_group, Capacitor: _capacitor,
    Potentiometer: _pot, Switch: _switch, Load: _load, Relay: _relay, SupplyKind: _supply, Regulator: _regulator,
    Controller: _controller, Chip: _chip,
}
