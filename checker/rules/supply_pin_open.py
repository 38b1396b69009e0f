"""A chip or regulator whose supply or ground leg reaches nothing."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Chip, Controller, Regulator


def find(case: Case) -> Iterator[Found]:
    """Chips, modules and regulators in use whose supply or ground pin has nothing else on its net, or only a signal pin."""
    for key, part in case.parts(Chip, Regulator):
        if not case.is_used(key):
            continue
        for pin in _supply_pins(part):
            net = case.net(key, pin)
            if case.circuit.is_alone(net) and net not in case.circuit.uncertain:
                yield Found(rule="supply-pin-open", severity="fault", span=part.span, case="open", parts=(part.name,),
                            points=(case.where(key, pin),), facts={"pin": pin}, needs_whole_list=True, weight=5.0)
            elif (signal := _signal_instead(case, key, net)) is not None:
                yield from _on_a_signal(case, key, pin, signal)


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
        return tuple(pin for pin in (entry.supply, entry.ground, *entry.more_supplies) if pin)
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
Power on, black tip on the ground leg of the chip, red tip on its supply leg, touching the legs themselves and not the
rail: 5 V must stand there. 0 V means that a wire is missing or in the wrong row.

# Source
Supply of 2.7 V to 5.5 V, under 50 µA, 750 mV at 25 °C: TMP35/TMP36/TMP37 Low Voltage Temperature Sensors data sheet,
Analog Devices (from memory).
"""

RULE = Rule("supply-pin-open", "function", EXPLANATION, find)
