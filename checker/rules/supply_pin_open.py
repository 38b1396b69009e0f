"""A chip or regulator whose supply or ground leg reaches nothing."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Capacitor, Chip, Controller, Led, LedGroup, Regulator, Resistor


def find(case: Case) -> Iterator[Found]:
    """Chips, modules and regulators in use whose supply or ground pin no source reaches, or only a signal pin."""
    for key, part in case.parts(Chip, Regulator):
        if not case.is_used(key):
            continue
        for pin in _supply_pins(part):
            net = case.net(key, pin)
            reached = _is_set if pin == "ADJ" else _is_fed
            if net not in case.circuit.uncertain and (case.circuit.is_alone(net) or not reached(case, key, net)):
                yield _open(case, key, pin)
            elif (signal := _signal_instead(case, key, net)) is not None:
                yield from _on_a_signal(case, key, pin, signal)
    yield from _boards_without_power(case)


def _open(case: Case, key: str, pin: str) -> Found:
    part, net = case.bench.parts[key], case.net(key, pin)
    beside = sorted({case.bench.parts[other].name for other, _ in case.pins_on(net)} - {part.name})
    facts = {"pin": pin, **({"beside": " and ".join(beside)} if beside else {})}
    return Found(rule="supply-pin-open", severity="fault", span=part.span, case="open", parts=(part.name,),
                 points=(case.where(key, pin),), facts=facts, needs_whole_list=True, weight=5.0)


def _boards_without_power(case: Case) -> Iterator[Found]:
    """Controllers that are not fed by USB, and by nothing else either."""
    for key, _ in case.parts(Controller):
        power = case.bench.powers.get(key)
        if power is None or "usb" in power.ways or not case.is_used(key):
            continue
        nets = {pin: case.net(key, pin) for pin in ("5V", "VIN") if (key, pin) in case.circuit.pin_net}
        meant = "VIN" if "vin" in power.ways else "5V"
        if meant in nets and "off" not in power.ways and not any(
                net in case.circuit.uncertain or _is_fed(case, key, net) for net in nets.values()):
            yield _open(case, key, meant)


FEEDING_OHMS = 1000.0
"""A resistor up to this may stand in a supply line, as for a filter or a small reference (common practice, no source)."""


def _is_fed(case: Case, own: str, net: int) -> bool:
    """True where a net meets something that can give or take a supply's current: directly, or by way of parts that pass it. A
    capacitor passes none, a pull resistor and a lamp too little."""
    seen, border = {net}, [net]
    while border:
        at = border.pop()
        for key, pin in case.pins_on(at):
            if key == own:
                continue
            if _is_source(case, key, pin, at == net):
                return True
            if _passes_supply(case.bench.parts[key]):
                beyond = {case.net(key, other) for other in case.bench.parts[key].pins if other != pin} - seen
                seen |= beyond
                border.extend(beyond)
    return False


def _is_set(case: Case, own: str, net: int) -> bool:
    """True where the adjusting leg of a regulator reaches a source by anything that conducts, its own output aside: it gives some
    50 uA, and a load of any kind may take them."""
    seen, border = {net, case.net(own, "OUT")}, [net]
    while border:
        at = border.pop()
        for key, pin in case.pins_on(at):
            part = case.bench.parts[key]
            if key != own and _is_source(case, key, pin, True):
                return True
            if key != own and not isinstance(part.entry, Capacitor | Chip | Regulator) and not part.is_controller:
                beyond = {case.net(key, other) for other in part.pins if other != pin} - seen
                seen |= beyond
                border.extend(beyond)
    return False


def _is_source(case: Case, key: str, pin: str, is_direct: bool) -> bool:
    """A terminal of a supply, what a regulator gives or gets, a pin of a chip that is not its own supply, a board's supply pin;
    its signal pins where a wire leads straight to them."""
    part = case.bench.parts[key]
    if isinstance(part.entry, Controller) and pin in (*part.entry.digital, *part.entry.analog):
        return is_direct
    if isinstance(part.entry, Chip):
        return pin not in part.entry.supply_pins
    if isinstance(part.entry, Regulator):
        return pin not in ("GND", "ADJ")
    return part.entry is None or part.is_supply or part.is_controller


def _passes_supply(part: BenchPart) -> bool:
    if isinstance(part.entry, Resistor):
        return (part.entry.ohms or 0.0) <= FEEDING_OHMS
    return not isinstance(part.entry, Capacitor | Led | LedGroup | Chip | Regulator) and not part.is_controller


def _signal_instead(case: Case, own: str, net: int) -> tuple[str, str] | None:
    """The controller's signal pin on a net that no source, no board's supply or ground and no regulator is on, or None."""
    signal = None
    for key, pin in case.pins_on(net):
        part = case.bench.parts[key]
        if part.is_supply or (isinstance(part.entry, Regulator) and key != own) or net in case.circuit.uncertain:
            return None
        if isinstance(part.entry, Controller):
            if pin not in (*part.entry.digital, *part.entry.analog):
                return None
            signal = signal or (key, pin)
    return signal


def _on_a_signal(case: Case, key: str, pin: str, signal: tuple[str, str]) -> Iterator[Found]:
    """A signal pin may feed a small part, and one that the program holds low may be its ground, within the pin's current."""
    part, board = case.bench.parts[key], case.bench.parts[signal[0]].entry
    assert isinstance(board, Controller)
    worst = case.worst(np.abs(case.amps(key, pin)), case.mask("nominal"))
    roles = set(case.bench.role_of(*signal))
    is_ground = pin in (getattr(part.entry, "ground", ""), "GND")
    if worst is None or (worst[0] <= float(board.pin_usual) and (not is_ground or roles & {"low", "output"})):
        return
    yield Found(rule="supply-pin-open", severity="fault", span=part.span, case="ground-on-signal" if is_ground else "signal",
                parts=(part.name,), points=(case.where(key, pin), case.pin_name(*signal)), facts={"pin": pin},
                evidence=(case.evidence("current", case.pin_name(key, pin), "A", *worst, float(board.pin_usual)),),
                needs_whole_list=True, weight=5.0)



def _supply_pins(part: BenchPart) -> tuple[str, ...]:
    entry = part.entry
    if isinstance(entry, Regulator):
        return ("IN", "ADJ") if entry.adjustable else ("IN", "GND")
    if isinstance(entry, Chip):
        return tuple(pin for pin in (entry.supply, entry.ground, *entry.more_supplies, *entry.separate) if pin)
    return ()

EXPLANATION = """
# What it means
A chip, module or regulator is in use, but its supply leg or its ground leg is joined to nothing. A chip needs both:
plus at one, minus at the other. A strip on the board with only that one leg in it is an open end.

# Why it matters
Without supply a TMP36 gives 0 V or some stray value instead of 0.75 V at 25 °C, and the program shows nonsense such as
-50 degrees. Other chips draw a little current through a signal leg and half work, which is harder to find. The supply
current is tiny (0.05 mA here), but without it nothing works. A regulator without ground passes nearly its whole input
on to its output.

# A list that has it
title "Greenhouse: the thermometer"
board half
part U1 controller-5v
part TEMP TMP36 in c10 c11 c12 flat faces a
wire U1.GND to L-1
wire U1.5V to L+1
wire L-12 to a12
wire U1.A0 to a11
pin U1.A0 analog

# The same list mended
title "Greenhouse: the thermometer"
board half
part U1 controller-5v
part TEMP TMP36 in c10 c11 c12 flat faces a
wire U1.GND to L-1
wire U1.5V to L+1
wire L-12 to a12
wire U1.A0 to a11
pin U1.A0 analog
wire L+10 to a10

# How to check with a meter
Power on, black probe on the ground leg of the chip, red probe on its supply leg, touching the legs themselves and not the
rail: 5 V must stand there. 0 V means that a wire is missing or in the wrong row.

# Source
Supply of 2.7 V to 5.5 V, under 50 µA, 750 mV at 25 °C: TMP35/TMP36/TMP37 Low Voltage Temperature Sensors datasheet,
Analog Devices (from memory).
"""

RULE = Rule("supply-pin-open", "function", EXPLANATION, find)
