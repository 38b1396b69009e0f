"""An input that is read while nothing drives it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.held import is_held
from checker.rules.open_inputs import open_inputs
from parts_library.schema import Capacitor, Chip, Mosfet


def find(case: Case) -> Iterator[Found]:
    """Controller pins that the program reads, inputs of logic chips and gates of MOSFETs, in a state in which nothing
    holds their voltage."""
    for key, pin, reader in _inputs(case):
        for point in case.operating.points:
            if point.phase == "steady" and point.corner.name == "nominal" and not is_held(case, key, pin, point) \
                    and not (reader == "controller" and _is_let_go(case, key, pin, point)):
                part = case.bench.parts[key]
                span = case.bench.roles.get((key, pin), ((), part.span))[1]
                yield Found(rule="input-floating", severity="fault", span=span, case=reader, parts=(part.name,),
                            points=(case.pin_name(key, pin),), facts={"state": _said(point.state)},
                            needs_whole_list=True)
                break
    yield from _behind_capacitors(case)
    yield from _open_until_told(case)
    yield from open_inputs(case)


def _is_let_go(case: Case, key: str, pin: str, point: Point) -> bool:
    """True where an output that drives the pin in other states is switched off in this one: the program that switches a
    receiver off knows when there is nothing to read."""
    outputs = {case.pin_name(other, its) for other, its in case.pins_on(case.net(key, pin))
               if isinstance(entry := case.bench.parts[other].entry, Chip)
               and any(its in output.pins and output.enabled_by and output.style == "push-pull" for output in entry.outputs)}
    return any(point.state.get(name) == "released" and any(
        one.state.get(name) in ("low", "high") for one in case.operating.points if one.phase == "steady") for name in outputs)


def _behind_capacitors(case: Case) -> Iterator[Found]:
    """Analogue inputs (of a timer, an amplifier, a converter) on whose net a capacitor is and no way for a direct current, in any
    state: their own leakage then carries them to one end of the supply."""
    points = [point for point in case.operating.points if point.phase == "steady" and point.corner.name == "nominal"]
    told: set[int] = set()
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        inputs = [pin for group in entry.inputs if group.analog and not group.may_float for pin in group.pins]
        for pin in inputs:
            net = case.net(key, pin)
            capacitors = [other for other, _ in case.pins_on(net) if isinstance(case.bench.parts[other].entry, Capacitor)]
            if net not in told and capacitors and (key, pin) in case.circuit.touched and points and not any(
                    is_held(case, key, pin, point) for point in points):
                told.add(net)
                same = [each for each in inputs if case.net(key, each) == net]
                half = _other_half(entry, pin)
                yield Found(rule="input-floating", severity="fault", span=part.span, case="capacitor", parts=(part.name,),
                            points=tuple(case.pin_name(key, each) for each in same), needs_whole_list=True,
                            facts={"capacitor": case.name(capacitors[0]), "other": "" if half in same else half})


def _other_half(entry: Chip, pin: str) -> str:
    """The input of a timer that an oscillator joins to this one: THRES for TRIG, TRIG2 for THRES2."""
    other = pin.replace("TRIG", "THRES") if pin.startswith("TRIG") else pin.replace("THRES", "TRIG")
    return other if entry.type == "timer" and other != pin and other in entry.pins else ""


def _open_until_told(case: Case) -> Iterator[Found]:
    """Gates of MOSFETs with a load that only a controller's pin holds: until the program starts, the pin is an input."""
    for key, part in case.parts(Mosfet):
        net = case.net(key, "G") if "G" in part.pins else -1
        if (key, "G") not in case.circuit.touched or not _carries_a_load(case, key):
            continue
        reset = [point for point in case.operating.points if point.phase == "reset"]
        running = [point for point in case.operating.points if point.phase == "steady" and point.corner.name == "nominal"]
        if reset and net not in case.circuit.uncertain and not any(is_held(case, key, "G", point) for point in reset) \
                and all(is_held(case, key, "G", point) for point in running):
            yield Found(rule="input-floating", severity="note", span=part.span, case="reset", parts=(part.name,),
                        points=(case.where(key, "G"), case.where(key, "S")), needs_whole_list=True)


def _carries_a_load(case: Case, key: str) -> bool:
    return float(np.abs(case.amps(key, "D"))[case.mask("nominal")].max(initial=0.0)) > LOAD_AMPS


LOAD_AMPS = 1e-3
"""What a MOSFET must switch before an open gate is worth a word."""


def _said(state: dict[str, str]) -> str:
    return ", ".join(f"{name} {option}" for name, option in state.items() if option not in ("input",))


def _inputs(case: Case) -> Iterator[tuple[str, str, str]]:
    """Part, pin and what kind of reader it is, for every input that matters."""
    for (key, pin), (roles, _) in case.bench.roles.items():
        if set(roles) & {"input", "analog"} and "pullup" not in roles and (key, pin) in case.circuit.touched:
            yield key, pin, "controller"
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        for group in entry.inputs:
            if not group.may_float and not group.pull_up and not group.pull_down and not group.analog:
                for pin in group.pins:
                    net = case.net(key, pin)
                    if (key, pin) in case.circuit.touched and len(case.pins_on(net)) > 1 and not _is_bus(case, net):
                        yield key, pin, "chip"
    for key, _ in case.parts(Mosfet):
        if (key, "G") in case.circuit.touched and len(case.pins_on(case.net(key, "G"))) > 1:
            yield key, "G", "gate"


def _is_bus(case: Case, net: int) -> bool:
    """A line with the role bus is no-pull-up's business."""
    return any("bus" in case.bench.role_of(key, pin) for key, pin in case.pins_on(net))


EXPLANATION = """
# What it means
An input is read while nothing holds its voltage: a button that is open, a wire that ends nowhere, a gate that no one
drives. An input takes almost no current (under 1 µA), so a hand nearby or the mains in the wall can move it by volts.

# Why it matters
The program sees presses that nobody made, or misses those that were made. A chip's open input can draw several mA and
make its outputs swing, and an open gate can leave a MOSFET half on and hot. A pull-up of 10 kΩ to plus costs 0.5 mA
only while the button is pressed; a controller has one inside, of 20 to 50 kΩ, that the program switches on.

# A list that has it
title "Stage prop: the doorbell"
board half
part U1 controller-5v
part BELL button across 20-22
part LAMP led green in c10 c11 long c10
part R1 330 in e11 L-11
wire U1.GND to L-1
wire U1.D2 to a20
wire L-22 to a22
wire U1.D9 to a10
pin U1.D2 input

# The same list mended
title "Stage prop: the doorbell"
board half
part U1 controller-5v
part BELL button across 20-22
part LAMP led green in c10 c11 long c10
part R1 330 in e11 L-11
wire U1.GND to L-1
wire U1.D2 to a20
wire L-22 to a22
wire U1.D9 to a10
pin U1.D2 pullup

# How to check with a meter
Power on, button not pressed, measure the volts from GND to D2. 5 V (pull-up) or 0 V (pull-down) is right. A reading
that drifts or changes when you touch the wire is an open input. Note that the meter itself, 10 MΩ, pulls a little
toward 0 V.

# Source
Implications of Slow or Floating CMOS Inputs, application report SCBA004, Texas Instruments, sections 1 and 5. The
pull-up inside, 20 to 50 kΩ: ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel, August 2014, DC characteristics.
"""

RULE = Rule("input-floating", "function", EXPLANATION, find)
