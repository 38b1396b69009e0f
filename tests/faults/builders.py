"""What each kind of part puts between its nets: one builder a kind, a few lines of textbook each.

Input: the part's entry and the setting. Output: elements in the ``Network``. A kind without a builder is not covered.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Forward,
    Fuse,
    Gain,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    SupplyKind,
    Switch,
    Zener,
)
from tests.faults import devices
from tests.faults.geometry import LIBRARY, NotCovered
from tests.faults.nets import Wired
from tests.faults.network import Network, Setting
from tests.faults.solve import solve

CONTACT = 0.02
"""Ohms of a closed contact."""

BRIDGE = 100e3
"""Ohms laid across two pins to see whether something holds the voltage between them."""

SPREAD = 1.05
"""A supply with no figures of its own may be 5 % high (common practice, no source)."""

USB_HIGH = 1.05
"""USB 2.0: 5.25 V at most."""


def network(wired: Wired, setting: Setting) -> Network:
    """The network of one setting."""
    made = Network(wired, setting, max(wired.nets.values(), default=-1) + 1)
    for name, entry in wired.entries.items():
        builder = BUILDERS.get(type(entry))
        if builder is None:
            raise NotCovered(f"no equations for {entry.name}")
        builder(made, name, entry)
    if setting.bridge:
        made.add("", devices.resistor(*setting.bridge, BRIDGE))
    return made


def solved(made: Network) -> np.ndarray:
    """Volts of every node."""
    return solve([element for own in made.own.values() for element in own], made.nodes, _reference(made.wired))


def _reference(wired: Wired) -> int:
    for name, entry in wired.entries.items():
        if isinstance(entry, Controller):
            return wired.nets[name, "GND"]
    for name, entry in wired.entries.items():
        if isinstance(entry, SupplyKind):
            return wired.nets[name, "-"]
    raise NotCovered("no supply")


# ── builders ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _resistor(n: Network, name: str, entry: Resistor) -> None:
    n.add(name, devices.resistor(n.node(name, "1"), n.node(name, "2"), max(float(entry.ohms or 0.0), 1e-2)))


def _sensor(n: Network, name: str, entry: SensorResistor) -> None:
    ohms = {"low": entry.low, "high": entry.high}[n.setting.controls[(name,)]]
    n.add(name, devices.resistor(n.node(name, entry.pins[0]), n.node(name, entry.pins[1]), float(ohms)))


def _pot(n: Network, name: str, entry: Potentiometer) -> None:
    turned = float(n.setting.controls[(name,)])
    ohms = float(entry.ohms or 10e3)
    w = n.node(name, "W")
    n.add(name, devices.resistor(n.node(name, "1"), w, max(ohms * turned, 1.0)))
    n.add(name, devices.resistor(w, n.node(name, "3"), max(ohms * (1.0 - turned), 1.0)))


def fitted(points: tuple[Forward, ...]) -> Callable[[float], float]:
    """A junction through the highest point of a forward characteristic; the lowest gives its series resistance."""
    top = max(points, key=lambda point: point.amps)
    low = min(points, key=lambda point: point.amps)
    if len(points) > 1 and top.amps > low.amps:
        scale = 1.6 * devices.THERMAL * float(np.log(top.amps / low.amps))
        ohms = max((top.volts - low.volts - scale) / (top.amps - low.amps), 0.02 / top.amps)
    else:
        ohms = 0.08 * top.volts / top.amps
    return devices.junction(float(top.volts), float(top.amps), float(min(ohms, 0.4 * top.volts / top.amps)))


def _diode(n: Network, name: str, entry: Diode) -> None:
    a, k = n.node(name, "A"), n.node(name, "K")
    _diode_like(n, name, a, k, fitted(entry.forward))
    n.add(name, devices.between(a, k, devices.breakdown(1.3 * float(entry.vrrm), 5.0)))


def _zener(n: Network, name: str, entry: Zener) -> None:
    a, k = n.node(name, "A"), n.node(name, "K")
    n.add(name, devices.between(a, k, devices.junction(0.75, 0.01, 1.0)))
    at, ohms = float(entry.test_current or 5e-3), float(entry.impedance or 10.0)
    n.add(name, devices.between(a, k, devices.breakdown(float(entry.voltage or 5.1), ohms, at)))


def _led(n: Network, name: str, entry: Led) -> None:
    _diode_like(n, name, n.node(name, "A"), n.node(name, "K"), fitted(entry.forward))


def _diode_like(n: Network, name: str, a: int, k: int, curve: Callable[[float], float]) -> None:
    n.add(name, devices.between(a, k, curve))
    n.add(name, devices.resistor(a, k, devices.OFF_OHMS))


def _led_group(n: Network, name: str, entry: LedGroup) -> None:
    for member in entry.members:
        like = LIBRARY.entries[member.like]
        assert isinstance(like, Led)
        _diode_like(n, name, n.node(name, member.anode), n.node(name, member.cathode), fitted(like.forward))
    for one, other in entry.joined:
        n.add(name, devices.resistor(n.node(name, one), n.node(name, other), CONTACT))


def _bipolar(n: Network, name: str, entry: Bipolar) -> None:
    if "B" not in entry.pins or entry.photo:
        raise NotCovered("a phototransistor")
    sign = 1 if entry.polarity == "npn" else -1
    c, b, e = (n.node(name, pin) for pin in "CBE")
    back = float(entry.reverse_gain.typ) if entry.reverse_gain else 5.0
    stands = (1.25 * float(entry.vebo), 1.3 * float(entry.vceo))
    ohms = 0.15 / float(entry.ic)
    flow = devices.junction(0.70, 0.01, ohms, slope=1.0)
    gain = gain_of(entry)
    if entry.darlington:
        middle, each = n.extra(name, "middle"), gain ** 0.5
        n.add(name, devices.bipolar(c, b, middle, sign, flow, each, back, 1e3, 1e4))
        n.add(name, devices.bipolar(c, middle, e, sign, flow, each, back, *stands))
        n.add(name, devices.resistor(middle, e, 10e3))
        if entry.clamp_diode:
            plus, minus = (e, c) if sign == 1 else (c, e)
            n.add(name, devices.between(plus, minus, devices.junction(0.8, 0.1, 0.1)))
    else:
        n.add(name, devices.bipolar(c, b, e, sign, flow, gain, back, *stands))


def gain_of(entry: Bipolar) -> float:
    """The gain in the middle of the range, in the middle of the currents that the datasheet names."""
    return max(_middle(gain) for gain in entry.gain)


def _middle(gain: Gain) -> float:
    """The typical gain, or one between its ends; half as much again as the least where that is all that is said."""
    if gain.typ:
        return float(gain.typ)
    if gain.min and gain.max:
        return float((gain.min * gain.max) ** 0.5)
    return float(1.6 * gain.min if gain.min else gain.max or 100.0)


def _mosfet(n: Network, name: str, entry: Mosfet) -> None:
    sign = 1 if entry.polarity == "n" else -1
    on = min(entry.on_resistance, key=lambda point: point.vgs)
    ohms, threshold = float(on.ohms or on.ohms_max), float(entry.threshold.typ)
    gain = 1.0 / (2.0 * ohms * max(float(on.vgs) - threshold, 0.5))
    usual = devices.junction(0.8, 0.1 * float(entry.id), 0.3 / float(entry.id))
    body = fitted((entry.body_diode,)) if entry.body_diode else usual
    n.add(name, devices.mosfet(n.node(name, "D"), n.node(name, "G"), n.node(name, "S"), sign, threshold, gain, body,
                               1.25 * float(entry.vds)))


def _capacitor(n: Network, name: str, entry: Capacitor) -> None:
    """Open to direct current."""


def _switch(n: Network, name: str, entry: Switch) -> None:
    position = n.setting.controls.get((name,), entry.positions[0])
    for contact in entry.contacts:
        closed = not contact.when or position in contact.when
        _contact(n, name, contact.pins, closed)


def _contact(n: Network, name: str, pins: tuple[str, str], closed: bool) -> None:
    a, b = n.node(name, pins[0]), n.node(name, pins[1])
    if closed:
        n.add(name, devices.resistor(a, b, CONTACT))
    elif n.setting.forced:
        for one, other in ((a, b), (b, a)):  # an opening contact arcs at some hundred volts
            n.add(name, devices.between(one, other, devices.breakdown(330.0, 50.0)))


def _fuse(n: Network, name: str, entry: Fuse) -> None:
    n.add(name, devices.resistor(n.node(name, "1"), n.node(name, "2"), max(float(entry.ohms), CONTACT)))


def load_ohms(entry: Load, stalled: bool) -> float:
    """Rated voltage over rated current, or over the stall current."""
    if stalled and entry.stall_current and entry.voltage:
        return float(entry.voltage / entry.stall_current)
    if entry.ohms is not None:
        return float(entry.ohms)
    return float((entry.voltage or 5.0) / (entry.current or 0.03))


def _load(n: Network, name: str, entry: Load) -> None:
    a, b = (n.node(name, pin) for pin in entry.pins[:2])
    if name in n.setting.forced:
        n.add(name, devices.current(a, b, n.setting.forced[name]))
        return
    ohms = load_ohms(entry, n.setting.stalled)
    if entry.one_way:
        n.add(name, devices.between(a, b, devices.junction(0.7, 1e-3, ohms)))
    else:
        n.add(name, devices.resistor(a, b, ohms))


def _relay(n: Network, name: str, entry: Relay) -> None:
    a, b = n.node(name, "A1"), n.node(name, "A2")
    if name in n.setting.forced:
        n.add(name, devices.current(a, b, n.setting.forced[name]))
    else:
        n.add(name, devices.resistor(a, b, relay_ohms(entry)))
    position = "pulled-in" if name in n.setting.pulled else "released"
    for contact in entry.contacts:
        _contact(n, name, contact.pins, position in contact.when)


def relay_ohms(entry: Relay) -> float:
    return float(entry.ohms or (entry.voltage or 5.0) / (entry.current or 0.07))


def supply_volts(entry: SupplyKind, high: bool) -> float:
    nominal = float(entry.voltage or 0.0)
    return float(entry.fresh or SPREAD * nominal) if high else nominal


def _supply(n: Network, name: str, entry: SupplyKind) -> None:
    if entry.voltage is None or entry.mains:
        raise NotCovered("a supply without a voltage")
    limit = n.wired.limits.get(name) or (float(entry.limit) if entry.limit and entry.limit_by == "electronics" else 1e3)
    n.add(name, devices.source(n.node(name, "+"), n.node(name, "-"), supply_volts(entry, n.setting.high), float(entry.resistance),
                               limit))


def _regulator(n: Network, name: str, entry: Regulator) -> None:
    if entry.adjustable or entry.negative:
        raise NotCovered("an adjustable or negative regulator")
    n.add(name, devices.regulator(n.node(name, "IN"), n.node(name, "GND"), n.node(name, "OUT"), float(entry.output),
                                  float(entry.dropout), float(entry.limit), float(entry.quiescent)))


def _controller(n: Network, name: str, entry: Controller) -> None:
    """USB feeds the 5V pin; outputs are 25 ohm toward the logic supply or ground; inputs have diodes to both."""
    ground, five = n.node(name, "GND"), n.node(name, "5V")
    high = USB_HIGH if n.setting.high else 1.0
    n.add(f"{name} usb", devices.source(five, ground, 5.0 * high, 0.3, 2.0))
    logic = five
    if entry.logic < 4.0:
        n.add(f"{name} aux", devices.source(n.node(name, "3V3"), ground, float(entry.logic), 0.3, 1.0))
        logic = n.node(name, "3V3")
    else:
        n.add(f"{name} aux", devices.source(n.node(name, "3V3"), ground, float(entry.aux_voltage), 0.5, 0.3))
    clamp = devices.junction(0.7, 0.01, 2.0)
    for pin in used_pins(n.wired, name, entry):
        at, own = n.node(name, pin), f"{name} {pin}"
        state = n.setting.controls.get((name, pin), "input")
        if state == "high":
            n.add(own, devices.resistor(at, logic, float(entry.pin_ohms)))
        elif state == "low":
            n.add(own, devices.resistor(at, ground, float(entry.pin_ohms)))
        elif state == "pullup":
            n.add(own, devices.resistor(at, logic, float(entry.pull_up)))
        n.add(own, devices.between(at, logic, clamp))
        n.add(own, devices.between(ground, at, clamp))


def used_pins(wired: Wired, name: str, entry: Controller) -> list[str]:
    """The digital and analogue pins that something is wired to, or that have a role."""
    return [pin for pin in (*entry.digital, *entry.analog) if (name, pin) in wired.nets]


def _chip(n: Network, name: str, entry: Chip) -> None:
    """Only what a chip does with its supply: it draws its own current, and reversed it is a diode from ground to supply."""
    if entry.supply is None or entry.ground is None:
        return
    plus, minus = n.node(name, entry.supply), n.node(name, entry.ground)
    n.add(name, devices.between(minus, plus, devices.junction(0.7, 0.1, 0.5)))
    n.add(name, devices.resistor(plus, minus, 5.0 / max(float(entry.supply_current or 0.0), 1e-4)))


BUILDERS: dict[type[Any], Callable[..., None]] = {
    Resistor: _resistor, SensorResistor: _sensor, Potentiometer: _pot, Diode: _diode, Zener: _zener, Led: _led,
    LedGroup: _led_group, Bipolar: _bipolar, Mosfet: _mosfet, Capacitor: _capacitor, Switch: _switch, Fuse: _fuse, Load: _load,
    Relay: _relay, SupplyKind: _supply, Regulator: _regulator, Controller: _controller, Chip: _chip,
}
