"""The model of each kind of part: which elements it adds to the netlist.

One function a kind, all with the same arguments: the netlist, the part's key, its entry. Facts come from the parts
library; constants that stand here say where they are from. ``add_part`` picks the function by the entry's type.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.operating.chips import add_chip, add_controller
from checker.operating.corners import SPREAD
from checker.operating.fit import (
    MARGIN_TO_BREAKDOWN,
    SILICON,
    THERMAL_VOLTAGE,
    BipolarModel,
    JunctionModel,
    bipolar_model,
    channel_model,
    junction_from,
)
from checker.operating.junction_fet import add_jfet
from checker.operating.latching import add_thyristor
from checker.operating.netlist import Netlist
from checker.operating.points import Bools, Floats, Point, Points, where
from parts_library.schema import (
    Amps,
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Contact,
    Controller,
    Diode,
    Forward,
    Fuse,
    Inductor,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    Stepper,
    SupplyKind,
    Switch,
    Thyristor,
    Volts,
    Zener,
)

OPEN_SIEMENS = 1e-9
"""An open contact or a blocking insulation: 1 GΩ, ten times the 100 MΩ that datasheets of small switches guarantee."""

CLOSED_OHMS = 0.05
"""A closed contact: half the 100 mΩ that datasheets of small switches and relays allow."""

ARC_VOLTS = 330.0
"""Where an opening contact sparks over, volts: no gap in air breaks down below some 327 V (Paschen's minimum, handbook value
from memory)."""

LED_SPREAD = 0.1
"""Forward voltage of an LED from sample to sample, ± volts (typical to maximum in datasheets); diodes half of it."""

DEFAULT_HENRIES = 1e-3
"""A winding of which nothing is said: 1 mH, that of a small brushed motor (from memory, 0.2 to 5 mH are measured)."""

FAR_ABOVE = 1000.0
"""An offset that asks a stage for all that its upper rail and headroom allow, volts."""


def netlist_of(circuit: Circuit, points: Sequence[Point]) -> Netlist:
    """The elements of all parts of a circuit at the points, not finished: an instrument may be added."""
    netlist = Netlist(circuit, Points(points))
    for key, part in circuit.bench.parts.items():
        add_part(netlist, key, part)
    return netlist


def add_part(netlist: Netlist, key: str, part: BenchPart) -> None:
    """Adds the elements of one part; a part without entry adds none."""
    model = MODELS.get(type(part.entry))
    if model is not None:
        model(netlist, key, part)


# ── passive parts ─────────────────────────────────────────────────────────────────────────────────────────────────


def _spread_ohms(netlist: Netlist, ohms: float, tolerance: float) -> float | Floats:
    return netlist.points.spread("resistor", ohms * (1 - tolerance), ohms, ohms * (1 + tolerance))


def coil_henries(entry: AnyEntry | None) -> float:
    """Inductance of a part's winding in henries, as the list or the library says."""
    return float(getattr(entry, "inductance", None) or getattr(entry, "henries", None) or DEFAULT_HENRIES)


def _resistor(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Resistor)
    netlist.resistor(key, "1", "2", _spread_ohms(netlist, entry.ohms or 1e-3, entry.tolerance))


def _capacitor(netlist: Netlist, key: str, part: BenchPart) -> None:
    """Open for steady currents. When a coil is switched off it takes the coil's current through the characteristic
    resistance sqrt(L / C) of the two, which lets it peak at I * sqrt(L / C) above what it is charged to."""
    entry = part.entry
    assert isinstance(entry, Capacitor)
    one, other = entry.pins
    henries, volts = netlist.points.ringing(key)
    rings = ~np.isnan(henries) & bool(entry.farads)
    if rings.any():
        ohms = np.sqrt(np.where(rings, henries, 1.0) / float(entry.farads or 1.0))
        netlist.add("sources", key, (one, other), volts=where(rings, volts, 0.0),
                    ohms=where(rings, ohms, 1.0 / OPEN_SIEMENS), most=np.inf)
    else:
        netlist.add("conductances", key, (one, other), siemens=OPEN_SIEMENS)


def _inductor(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Inductor)
    add_coil(netlist, key, 0, "1", "2", float(part.entry.ohms))


def _potentiometer(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Potentiometer)
    ohms = entry.ohms or 10_000.0
    position = np.zeros(netlist.points.count)
    for option, share in (("50%", 0.5), ("100%", 1.0)):
        position = where(netlist.points.is_in(part.name, option), share, position)
    # the track ends in a few ohms of metal: a wiper at its stop is no perfect short
    end = max(ohms * 1e-3, 1.0)
    netlist.resistor(key, "1", "W", end + ohms * position)
    netlist.resistor(key, "W", "3", end + ohms * (1.0 - position))


def _sensor_resistor(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, SensorResistor)
    ohms = where(netlist.points.is_in(part.name, entry.low_when), entry.low, entry.ohms)
    ohms = where(netlist.points.is_in(part.name, entry.high_when), entry.high, ohms)
    netlist.resistor(key, entry.pins[0], entry.pins[1], ohms)


def _fuse(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Fuse)
    netlist.resistor(key, "1", "2", float(part.entry.ohms))


def _contacts(netlist: Netlist, key: str, name: str, contacts: tuple[Contact, ...]) -> None:
    for contact in contacts:
        closed: Bools = np.ones(netlist.points.count, dtype=bool)
        if contact.when:
            closed = np.logical_or.reduce([netlist.points.is_in(name, position) for position in contact.when])
        netlist.add("conductances", key, contact.pins, siemens=where(closed, 1 / CLOSED_OHMS, OPEN_SIEMENS))
        if netlist.points.switching and contact.when:
            one, other = contact.pins
            netlist.breakdown(key, one, other, ARC_VOLTS)
            netlist.breakdown(key, other, one, ARC_VOLTS)


def _switch(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Switch)
    _contacts(netlist, key, part.name, part.entry.contacts)


# ── loads ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def add_coil(netlist: Netlist, key: str, coil: int, one: str, other: str, ohms: float | Floats) -> None:
    """A winding between two pins: a resistance, or at switch-off the current that it still forces."""
    forced = netlist.points.forced(key, coil)
    free = np.isnan(forced)
    amps = where(free, 0.0, forced)
    siemens = where(free, 1.0 / np.maximum(ohms, 1e-3), 0.0)
    netlist.add("conductances", key, (one, other), siemens=siemens)
    if not free.all():
        netlist.add("forced", key, (one, other), amps=amps)


def load_ohms(entry: Load) -> tuple[float, float]:
    """Resistance running and at worst (stalled or cold), in ohms."""
    if entry.ohms is not None:
        running = float(entry.ohms)
    elif entry.voltage is not None and entry.current is not None:
        running = entry.voltage / entry.current
    else:
        running = 100.0
    worst = entry.stall_current or entry.inrush_current
    at_worst = entry.voltage / worst if worst and entry.voltage else running
    return running, min(at_worst, running)


def _load(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Load)
    running, worst = load_ohms(entry)
    # a cold filament is warm within milliseconds: what feeds and switches it stands that
    ohms = where(netlist.points.stalled, running if entry.type == "lamp" else worst, running)
    one, other = entry.pins[0], entry.pins[1]
    if entry.one_way:
        netlist.junction(key, one, "inside", 1e-9, THERMAL_VOLTAGE, 0.1, breakdown=60.0)
        one = "inside"
    if entry.inductance:
        add_coil(netlist, key, 0, one, other, ohms)
    else:
        netlist.resistor(key, one, other, ohms)


def relay_ohms(entry: Relay) -> float:
    """Resistance of the coil, from its ohms or its voltage and current."""
    if entry.ohms is not None:
        return float(entry.ohms)
    if entry.voltage is not None and entry.current is not None:
        return entry.voltage / entry.current
    return 70.0


def _relay(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Relay)
    add_coil(netlist, key, 0, "A1", "A2", relay_ohms(part.entry))
    _contacts(netlist, key, part.name, part.entry.contacts)


def _stepper(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Stepper)
    for number, (one, other) in enumerate(part.entry.coils):
        add_coil(netlist, key, number, one, other, float(part.entry.ohms))


# ── junctions ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _shifted_saturation(netlist: Netlist, model: JunctionModel, volts: float) -> float | Floats:
    return netlist.points.spread("threshold", model.shifted(-volts).saturation, model.saturation,
                                 model.shifted(volts).saturation)


def _diode(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Diode)
    model = junction_from(entry.forward)
    netlist.junction(key, "A", "K", _shifted_saturation(netlist, model, LED_SPREAD / 2), model.slope, model.ohms,
                     breakdown=entry.vrrm * MARGIN_TO_BREAKDOWN, breakdown_ohms=max(model.ohms, 0.1))


def _led(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, Led)
    _add_led(netlist, key, "A", "K", part.entry)


def _add_led(netlist: Netlist, key: str, anode: str, cathode: str, entry: Led) -> None:
    model = junction_from(entry.forward, most_emission=8.0)
    netlist.junction(key, anode, cathode, _shifted_saturation(netlist, model, LED_SPREAD), model.slope, model.ohms,
                     breakdown=entry.reverse_voltage * 6.0, breakdown_ohms=10.0)


def _led_group(netlist: Netlist, key: str, part: BenchPart) -> None:
    assert isinstance(part.entry, LedGroup)
    library = netlist.circuit.bench.library
    for member in part.entry.members:
        like = library.entries.get(member.like)
        if isinstance(like, Led):
            _add_led(netlist, key, member.anode, member.cathode, like)


def _zener(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Zener)
    volts = float(entry.voltage or 5.1)
    at = float(entry.test_current or 0.005)
    slope = 0.05
    ohms = max((entry.impedance or 10.0) - slope / at, 0.2)
    forward = junction_from((Forward(amps=Amps(0.01), volts=Volts(0.75)), Forward(amps=Amps(0.2), volts=Volts(0.9))))
    breakdown = netlist.points.spread("supply", volts * (1 - entry.tolerance), volts, volts * (1 + entry.tolerance))
    netlist.junction(key, "A", "K", forward.saturation, forward.slope, forward.ohms, breakdown=breakdown,
                     breakdown_slope=slope, breakdown_ohms=ohms, breakdown_amps=at)


# ── transistors ───────────────────────────────────────────────────────────────────────────────────────────────────


def _bipolar(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Bipolar)
    model = bipolar_model(entry)
    polarity = 1.0 if entry.polarity == "npn" else -1.0
    netlist.resistor(key, "C", "collector", model.collector_ohms)
    if "B" in entry.pins:
        netlist.resistor(key, "B", "base", model.base_ohms)
    if entry.photo:
        light = where(netlist.points.is_in(part.name, "bright"), PHOTO_AMPS / model.gain[1], 0.0)
        netlist.add("forced", key, ("collector", "base"), amps=light * polarity)
    if entry.darlington:
        _darlington(netlist, key, polarity, model)
    else:
        netlist.add("bipolars", key, ("collector", "base", "E"), polarity=polarity, saturation=model.saturation,
                    slope=model.slope, gain=netlist.points.spread("gain", *model.gain),
                    reverse_gain=netlist.points.spread("gain", *model.reverse_gain), knee=model.knee)

    def breaks(plus: str, minus: str, rating: float, ohms: float) -> None:
        if polarity < 0:
            plus, minus = minus, plus
        netlist.breakdown(key, plus, minus, rating * MARGIN_TO_BREAKDOWN, ohms)

    if not entry.darlington:
        breaks("E", "base", entry.vebo, 5.0)
    breaks("collector", "E", entry.vceo, 1.0)
    breaks("collector", "base", entry.vcbo or entry.vceo, 1.0)
    if entry.clamp_diode:
        ends = ("E", "C") if polarity > 0 else ("C", "E")
        netlist.junction(key, *ends, SILICON.saturation, SILICON.slope, 0.2)


PHOTO_AMPS = 2e-3
"""Collector current of a phototransistor in bright light: from memory, 0.5 to 8 mA at 1 mW/cm² in datasheets."""

DARLINGTON_LEAK = 10_000.0
"""Base-emitter resistance of the second transistor of a Darlington, ohms (datasheets show 60 Ω to 10 kΩ, or none)."""


def _darlington(netlist: Netlist, key: str, polarity: float, model: BipolarModel) -> None:
    """Two transistors: the second one's collector can never come nearer to its emitter than one base-emitter drop."""
    root = tuple(gain ** 0.5 for gain in model.gain)
    for collector, base, emitter in (("collector", "base", "middle"), ("collector", "middle", "E")):
        netlist.add("bipolars", key, (collector, base, emitter), polarity=polarity, saturation=model.saturation,
                    slope=model.slope, gain=netlist.points.spread("gain", *root), reverse_gain=1.0,
                    knee=model.knee if emitter == "E" else np.inf)
    netlist.resistor(key, "middle", "E", DARLINGTON_LEAK)


def _mosfet(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Mosfet)
    model = channel_model(entry)
    polarity = 1.0 if entry.polarity == "n" else -1.0
    netlist.resistor(key, "D", "drain", model.ohms)
    netlist.add("channels", key, ("drain", "G", "S"), polarity=polarity,
                transconductance=netlist.points.spread("threshold", *model.transconductance),
                threshold=netlist.points.spread("threshold", *model.threshold), slope=0.06)
    netlist.add("conductances", key, ("G", "S"), siemens=1e-11)
    body = junction_from((entry.body_diode,)) if entry.body_diode is not None else JunctionModel(1e-12, 0.035, 0.02)
    ends = ("S", "D") if polarity > 0 else ("D", "S")
    netlist.junction(key, *ends, body.saturation, body.slope, body.ohms,
                     breakdown=entry.vds * MARGIN_TO_BREAKDOWN, breakdown_ohms=0.5)


# ── sources ───────────────────────────────────────────────────────────────────────────────────────────────────────


def supply_volts(entry: SupplyKind) -> tuple[float, float, float]:
    """Open-circuit volts at their lowest, nominal and highest."""
    nominal = float(entry.voltage or 0.0)
    low = float(entry.spent) if entry.spent is not None else nominal * (1 - SPREAD)
    high = float(entry.fresh) if entry.fresh is not None else nominal * (1 + SPREAD)
    return low, nominal, high


def _supply(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, SupplyKind)
    sign = netlist.points.source_sign()
    volts = np.choose(sign + 1, supply_volts(entry)).astype(float)
    spent = float(entry.spent_resistance or entry.resistance)
    ohms = where(sign < 0, spent, float(entry.resistance))
    # the limit that the list says replaces the usual one of the kind
    most = part.limit or (entry.limit if entry.limit_by == "electronics" else None) or np.inf
    netlist.add("sources", key, ("+", "-"), volts=volts, ohms=ohms, most=float(most))


AWAKE_VOLTS = 1.0
"""Volts at its input from which a regulator takes its own current (common practice, no source)."""


def _regulator(netlist: Netlist, key: str, part: BenchPart) -> None:
    entry = part.entry
    assert isinstance(entry, Regulator)
    low = "ADJ" if entry.adjustable else "GND"
    output = abs(float(entry.output))
    set_to = netlist.points.spread("supply", output * (1 - entry.tolerance), output, output * (1 + entry.tolerance))
    if entry.negative:
        # the mirror image: OUT is held below GND, and the current comes out at IN
        netlist.add("drivers", key, ("OUT", low, "IN", low, low), gain=0.0, offset=FAR_ABOVE, headroom_high=set_to,
                    headroom_low=float(entry.dropout), siemens=20.0, source_limit=0.0, sink_limit=float(entry.limit))
    else:
        netlist.add("drivers", key, ("OUT", "IN", low, low, low), gain=0.0, offset=set_to,
                    headroom_high=float(entry.dropout), headroom_low=0.0, siemens=20.0,
                    source_limit=float(entry.limit), sink_limit=0.0)
    # what it takes for itself is nearly the same at any input
    sink, high = ("IN", low) if entry.negative else (low, "IN")
    netlist.add("drivers", key, (sink, high, sink, sink, sink), gain=0.0, offset=FAR_ABOVE, headroom_high=0.0, headroom_low=0.0,
                siemens=float(entry.quiescent) / AWAKE_VOLTS, source_limit=float(entry.quiescent), sink_limit=0.0)
    diodes = [("OUT", "IN")] + ([] if entry.adjustable else [("GND", "IN"), ("GND", "OUT")])
    for anode, cathode in diodes:
        ends = (cathode, anode) if entry.negative else (anode, cathode)
        netlist.junction(key, *ends, SILICON.saturation, SILICON.slope, 0.5)


MODELS: dict[type, Callable[[Netlist, str, BenchPart], Any]] = {
    Resistor: _resistor, Capacitor: _capacitor, Inductor: _inductor, Potentiometer: _potentiometer,
    SensorResistor: _sensor_resistor, Fuse: _fuse, Switch: _switch, Load: _load, Relay: _relay, Stepper: _stepper,
    Diode: _diode, Led: _led, LedGroup: _led_group, Zener: _zener, Bipolar: _bipolar, Mosfet: _mosfet,
    Jfet: add_jfet, Thyristor: add_thyristor,
    SupplyKind: _supply, Regulator: _regulator, Chip: add_chip, Controller: add_controller,
}
