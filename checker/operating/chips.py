"""Models of chips, modules and controller boards, from what the library says of their pins.

A chip is its supply current, its inputs with clamp diodes and pulls, its outputs in each of their states, and the
equivalent circuits that its entry holds. A controller board is the same with a feed of its own.
"""

from __future__ import annotations

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.corners import USB_HIGH, USB_LOW
from checker.operating.fit import MARGIN_TO_BREAKDOWN, SILICON, THERMAL_VOLTAGE, junction_from
from checker.operating.netlist import Netlist, Value
from checker.operating.points import Floats, where
from parts_library.schema import Amplifier, Chip, Controller, Element, Input, Output

INPUT_SIEMENS = 1e-9
"""A CMOS input at rest: 1 GΩ (1 µA at most is guaranteed, nanoamps are usual; HC/AVR datasheets' input leakage)."""

USB_OHMS = 0.25
"""Cable, connector and fuse between a computer and a board's 5V pin, ohms: from memory of 0.1-0.5 Ω measured."""

USB_FUSE = 1.0
"""Where a 500 mA polymer fuse on a board gives in for good, amps: trip current of 0.5 A hold types is about 1 A."""

CLAMP_OHMS = 10.0
"""Series resistance of a pin's protection diode: from memory of 5-30 Ω in CMOS input characteristics."""

CHANNEL_CORNER = 0.06
"""Width of the threshold of a channel, volts: about two thermal voltages of weak inversion; an element says its own where a
whole comparator is made of one channel."""

FEED_SIEMENS = 10.0


def _add_input(netlist: Netlist, key: str, entry: Chip, group: Input) -> None:
    supply, ground = group.supply or entry.supply, entry.ground
    for pin in group.pins:
        if (key, pin) not in netlist.circuit.touched:
            continue
        if ground:
            netlist.add("conductances", key, (pin, ground), siemens=1 / group.ohms if group.ohms else INPUT_SIEMENS)
        if group.pull_up and supply:
            netlist.resistor(key, pin, supply, float(group.pull_up))
        if group.pull_down and ground:
            netlist.resistor(key, pin, ground, float(group.pull_down))
        if group.clamped:
            _add_clamps(netlist, key, pin, supply, ground)


def _add_clamps(netlist: Netlist, key: str, pin: str, supply: str | None, ground: str | None) -> None:
    if supply:
        netlist.junction(key, pin, supply, SILICON.saturation, SILICON.slope, CLAMP_OHMS)
    if ground:
        netlist.junction(key, ground, pin, SILICON.saturation, SILICON.slope, CLAMP_OHMS)


def _add_output(netlist: Netlist, key: str, part: BenchPart, entry: Chip, group: Output) -> None:
    supply, ground = group.supply or entry.supply, entry.ground
    if group.set_by:
        _add_current_outputs(netlist, key, part, entry, group)
        return
    # a saturated bipolar stage drives nothing backwards; elsewhere a drop stands for a level that is held
    one_way = entry.type == "driver"
    for pin in group.pins:
        if (key, pin) not in netlist.circuit.touched:
            continue
        name = f"{part.name}.{pin}"
        if supply and group.style != "open-collector":
            _add_half(netlist, key, pin, supply, netlist.points.is_in(name, "high"), group.ohms_high, -group.drop_high, one_way)
        if ground and group.style != "high-side":
            _add_half(netlist, key, pin, ground, netlist.points.is_in(name, "low"), group.ohms_low, group.drop_low, one_way)
        if group.clamped and group.style == "push-pull":
            _add_clamps(netlist, key, pin, supply, ground)


def _add_current_outputs(netlist: Netlist, key: str, part: BenchPart, entry: Chip, group: Output) -> None:
    """Sources of a current that is a multiple of what flows into the pin that sets it; the supply bounds their voltage."""
    assert group.set_by is not None and entry.supply is not None and entry.ground is not None
    ohms = next(float(one.ohms) for one in entry.inputs if group.set_by in one.pins and one.ohms)
    digits = [pin for output in entry.outputs if output.one_at for pin in output.pins if (key, pin) in netlist.circuit.touched]
    for pin in group.pins:
        if (key, pin) not in netlist.circuit.touched:
            continue
        siemens = where(netlist.points.is_in(f"{part.name}.{pin}", "high"), group.times / ohms, 0.0)
        netlist.add("transfers", key, (group.set_by, entry.ground, entry.supply, pin), siemens=siemens)
        netlist.add("transfers", key, (group.set_by, entry.ground, entry.supply, entry.ground),
                    siemens=siemens * max(len(digits) - 1, 0))
        netlist.add("conductances", key, (pin, entry.supply), siemens=INPUT_SIEMENS)
        netlist.junction(key, pin, entry.supply, SILICON.saturation, SILICON.slope, CLAMP_OHMS)


DROP_AMPS, DROP_SLOPE = 0.01, 0.02
"""The current at which a saturated stage has its stated drop beside its resistance, in amps, and how fast that grows with the
current, in volts (common practice, no source)."""

OFF_OHMS = 1e9


def _add_half(netlist: Netlist, key: str, pin: str, rail: str, on: np.ndarray, ohms: float, drop: float, one_way: bool) -> None:
    """One half of an output stage: joined to a rail through ``ohms``, and a drop in volts from the pin to the rail, where it is
    on; ``one_way`` passes current in the direction of its drop only."""
    if drop and one_way:
        ends = (pin, rail) if drop > 0.0 else (rail, pin)
        netlist.junction(key, *ends, DROP_AMPS * np.exp(-abs(drop) / DROP_SLOPE), DROP_SLOPE, where(on, ohms, OFF_OHMS))
        netlist.add("conductances", key, (pin, rail), siemens=INPUT_SIEMENS)
    elif drop:
        netlist.add("sources", key, (pin, rail), volts=where(on, drop, 0.0), ohms=where(on, ohms, OFF_OHMS), most=np.inf)
    else:
        netlist.add("conductances", key, (pin, rail), siemens=where(on, 1 / ohms, INPUT_SIEMENS))


def _add_amplifier(netlist: Netlist, key: str, entry: Chip, stage: Amplifier) -> None:
    if entry.supply is None or entry.ground is None:
        return
    headroom = -100.0 if stage.open_collector else float(stage.headroom_high)
    low = stage.emitter or entry.ground
    netlist.add("drivers", key, (stage.output, entry.supply, low, stage.plus, stage.minus),
                gain=min(stage.gain, 1e5), offset=0.0, headroom_high=headroom,
                headroom_low=float(stage.headroom_low), siemens=0.05,
                source_limit=0.0 if stage.open_collector else _limit(netlist, stage.source, stage.source_most),
                sink_limit=_limit(netlist, stage.sink, stage.sink_most))
    for pin in (stage.plus, stage.minus):
        netlist.add("conductances", key, (pin, entry.ground), siemens=INPUT_SIEMENS)


def _limit(netlist: Netlist, least: float, most: float | None) -> Value:
    """Amps at which an output is limited: what it gives at least where it has to work, at most where it may do harm."""
    high = float(most if most is not None else least)
    return netlist.points.spread("gain", float(least), 0.5 * (float(least) + high), high)


def _add_element(netlist: Netlist, key: str, element: Element, nodes: tuple[str, ...]) -> None:
    points = netlist.points
    if element.device == "resistor":
        netlist.resistor(key, nodes[0], nodes[1], float(element.ohms or 1e3))
    elif element.device == "diode":
        model = junction_from(element.forward, most_emission=8.0) if element.forward else SILICON
        netlist.junction(key, nodes[0], nodes[1], model.saturation, model.slope, model.ohms,
                         breakdown=float(element.breakdown or np.inf))
    elif element.device in ("npn", "pnp"):
        gain = element.gain
        low, typ, high = (gain.min, gain.typ, gain.max) if gain else (50.0, 150.0, 300.0)
        volts, amps = float(element.volts or 0.68), float(element.amps or 0.01)
        slope = THERMAL_VOLTAGE * (2.0 if volts > 1.0 else 1.0)
        collector = f"{nodes[0]} inside {nodes[1]}"
        netlist.resistor(key, nodes[0], collector, float(element.resistance or 0.5))
        netlist.add("bipolars", key, (collector, nodes[1], nodes[2]), polarity=1.0 if element.device == "npn" else -1.0,
                    saturation=amps * np.exp(-volts / slope), slope=slope, gain=points.spread("gain", low, typ, high),
                    reverse_gain=5.0, knee=np.inf)
    elif element.device in ("nmos", "pmos"):
        threshold = element.threshold
        spread = (threshold.min, threshold.typ, threshold.max) if threshold else (1.0, 2.0, 3.0)
        overdrive = max(5.0 - float(spread[1]), 0.5)
        netlist.add("channels", key, nodes[:3], polarity=1.0 if element.device == "nmos" else -1.0,
                    transconductance=1.0 / (float(element.on_ohms or 1.0) * overdrive),
                    threshold=points.spread("threshold", *(float(v) for v in spread)),
                    slope=float(element.volts or CHANNEL_CORNER))
    elif element.device == "source":
        netlist.add("sources", key, nodes[:2], volts=float(element.volts or 0.0),
                    ohms=float(element.resistance or 1.0), most=np.inf)
    elif element.device == "transfer":
        netlist.add("transfers", key, nodes[:4], siemens=float(element.siemens or 0.0))


def add_chip(netlist: Netlist, key: str, part: BenchPart) -> None:
    """A chip or module at its pins."""
    entry = part.entry
    assert isinstance(entry, Chip)
    if entry.supply and entry.ground:
        nominal = entry.supply_max or entry.supply_min or entry.supply_absolute or 5.0
        if entry.supply_min and entry.supply_max:
            nominal = (entry.supply_min + entry.supply_max) / 2
        current = float(entry.supply_current or 1e-6)
        peak = max(float(entry.supply_peak or 0.0), current)
        netlist.resistor(key, entry.supply, entry.ground, nominal / where(netlist.points.stalled, peak, current))
        # reversed, a chip conducts through its substrate diode
        netlist.junction(key, entry.ground, entry.supply, SILICON.saturation, SILICON.slope, SILICON.ohms)
        for other in entry.more_grounds:
            if other not in entry.separate:
                netlist.resistor(key, other, entry.ground, 0.05)
    for group in entry.inputs:
        _add_input(netlist, key, entry, group)
    for output in entry.outputs:
        _add_output(netlist, key, part, entry, output)
    for stage in entry.amplifiers:
        if (key, stage.output) in netlist.circuit.touched:
            _add_amplifier(netlist, key, entry, stage)
    for made in entry.makes:
        if (key, made.pin) in netlist.circuit.touched and entry.ground:
            netlist.add("drivers", key, (made.pin, made.source, entry.ground, entry.ground, entry.ground), gain=0.0,
                        offset=float(made.volts), headroom_high=float(made.dropout), headroom_low=0.0, siemens=FEED_SIEMENS,
                        source_limit=float(made.current), sink_limit=0.0)
    _add_breakdowns(netlist, key, entry)
    for element in entry.circuit:
        for number in range(1, element.repeat + 1):
            if element.repeat > 1 and not _channel_is_used(netlist, key, entry, number):
                continue
            nodes = tuple(name.replace("{n}", str(number)) for name in element.nodes)
            _add_element(netlist, key, element, nodes)


def _add_breakdowns(netlist: Netlist, key: str, entry: Chip) -> None:
    """Between two pins with a voltage rating a chip breaks down some way above it."""
    for limit in entry.limits:
        for number in range(1, limit.repeat + 1):
            pins = [name.replace("{n}", str(number)) for name in limit.of]
            if limit.volts is not None and len(pins) == 2 and all(
                    len(netlist.circuit.pins_on[netlist.circuit.pin_net[key, pin]]) > 1 for pin in pins):
                netlist.breakdown(key, pins[0], pins[1], limit.volts * MARGIN_TO_BREAKDOWN)


def _channel_is_used(netlist: Netlist, key: str, entry: Chip, number: int) -> bool:
    """True where one of a channel's own pins is wired to something."""
    circuit = netlist.circuit
    names = {name.replace("{n}", str(number)) for element in entry.circuit for name in element.nodes if "{n}" in name}
    return any(len(circuit.pins_on[circuit.pin_net[key, name]]) > 1 for name in names if (key, name) in circuit.pin_net)


# ── controller boards ─────────────────────────────────────────────────────────────────────────────────────────────


def add_controller(netlist: Netlist, key: str, part: BenchPart) -> None:
    """A controller board: its feed, its own current, and each wired pin in each of its states."""
    entry = part.entry
    assert isinstance(entry, Controller)
    _add_feed(netlist, key, part, entry)
    logic = logic_pin(entry)
    netlist.resistor(key, logic, "GND", float(entry.logic) / max(entry.own_current, 1e-4))
    for pin in (*entry.digital, *entry.analog):
        if (key, pin) in netlist.circuit.touched:
            _add_controller_pin(netlist, key, f"{part.name}.{pin}", pin, logic, entry)
    if "RESET" in entry.pins and (key, "RESET") in netlist.circuit.touched:
        netlist.resistor(key, "RESET", logic, 10_000.0)


def logic_pin(entry: Controller) -> str:
    """The pin whose voltage feeds the board's logic."""
    return "5V" if entry.logic > 4.0 else "3V3"


def _add_feed(netlist: Netlist, key: str, part: BenchPart, entry: Controller) -> None:
    power = netlist.circuit.bench.powers.get(key)
    ways = power.ways if power is not None else ("usb",)
    plugged = ~netlist.points.is_in(f"{part.name} USB", "unplugged")
    if not netlist.points.has(f"{part.name} USB"):
        plugged = np.full(netlist.points.count, "usb" in ways)
    sign = netlist.points.source_sign()
    volts: Floats = np.choose(sign + 1, (USB_LOW, 5.0, USB_HIGH)).astype(float)
    netlist.add("sources", key, ("5V", "GND"), volts=where(plugged, volts, 0.0), ohms=where(plugged, USB_OHMS, 1e9),
                most=USB_FUSE)
    if (key, "VIN") in netlist.circuit.touched:
        netlist.add("drivers", key, ("5V", "VIN", "GND", "GND", "GND"), gain=0.0, offset=5.0, headroom_high=1.2,
                    headroom_low=0.0, siemens=FEED_SIEMENS, source_limit=float(entry.vin_current), sink_limit=0.0)
    if (key, "3V3") in netlist.circuit.touched or logic_pin(entry) == "3V3":
        netlist.add("drivers", key, ("3V3", "5V", "GND", "GND", "GND"), gain=0.0, offset=float(entry.aux_voltage),
                    headroom_high=0.3, headroom_low=0.0, siemens=FEED_SIEMENS,
                    source_limit=2.0 * float(entry.aux_current), sink_limit=0.0)
        netlist.add("conductances", key, ("3V3", "GND"), siemens=1e-6)


def _add_controller_pin(netlist: Netlist, key: str, name: str, pin: str, logic: str, entry: Controller) -> None:
    points = netlist.points
    high, low = points.is_in(name, "high"), points.is_in(name, "low")
    siemens = 1.0 / entry.pin_ohms
    netlist.add("conductances", key, (pin, logic),
                siemens=where(high, siemens, where(points.is_in(name, "pullup"), 1 / entry.pull_up, INPUT_SIEMENS)))
    netlist.add("conductances", key, (pin, "GND"), siemens=where(low, siemens, INPUT_SIEMENS))
    _add_clamps(netlist, key, pin, logic, "GND")
