"""A logic level that is neither surely low nor surely high for what reads it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.operating.chips import logic_pin
from checker.operating.consistent import at_supply
from checker.operating.points import Floats, Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case, Mask
from checker.rules.held import is_held
from checker.rules.shifter_sides import sides_exchanged
from checker.rules.unmoved_inputs import unmoved_input
from parts_library.schema import Chip, Controller, Potentiometer, Resistor, SensorResistor, Switch

MARGIN = 0.02
"""Volts by which a level may miss a guaranteed threshold before it is said: below what the models can tell."""


def find(case: Case) -> Iterator[Found]:
    """Inputs driven by an output or a contact to a voltage between their guaranteed thresholds, in nominal states."""
    yield from _unmoved(case)
    yield from sides_exchanged(case)
    for key, pin, low, high in _read_inputs(case):
        ground = "GND" if case.bench.parts[key].is_controller else str(getattr(case.bench.parts[key].entry, "ground", ""))
        volts = case.volts(key, pin, ground)
        told = list(_one_level(case, key, pin, volts, low, high))
        yield from told or unmoved_input(case, key, pin, volts, low, high, MARGIN)
        for number in np.flatnonzero(case.mask("nominal")):
            point = case.operating.points[number]
            level = float(volts[number])
            if low[number] + MARGIN < level < high[number] - MARGIN and is_held(case, key, pin, point) \
                    and _driven_by_output(case, key, pin, point):
                part = case.bench.parts[key]
                yield Found(rule="level-mismatch", severity="fault", span=part.span, case="between",
                            parts=(part.name,), points=(case.pin_name(key, pin),),
                            evidence=(case.evidence("voltage", case.pin_name(key, pin), "V", level, point,
                                                    float(high[number]), True),))
                break


def _one_level(case: Case, key: str, pin: str, volts: Floats, low: Floats, high: Floats) -> Iterator[Found]:
    """An input that something moves, but only within what it reads as low, or as high."""
    mask = case.mask("nominal")
    if not mask.any() or not _should_move(case, key, pin, mask, float(np.max(high[mask]))):
        return
    part = case.bench.parts[key]
    stuck = ((bool((volts <= low + MARGIN)[mask].all()), False, high), (bool((volts >= high - MARGIN)[mask].all()), True, low))
    for is_stuck, least, limit in stuck:
        worst = case.worst(volts, mask, least) if is_stuck else None
        if worst is not None:
            name = case.pin_name(key, pin)
            bound = float(limit[case.operating.points.index(worst[1])])
            yield Found(rule="level-mismatch", severity="fault", span=part.span, case="never-low" if least else "never-high",
                        parts=(part.name,), points=(name,), needs_whole_list=True,
                        evidence=(case.evidence("voltage", name, "V", *worst, bound, not least),))


MOST_HOPS = 3
"""Resistors between an output and an input that it drives: a divider has one, with a protecting resistor two."""


def _should_move(case: Case, key: str, pin: str, mask: Mask, high: float) -> bool:
    """True where an output that swings by at least a high level reaches the input through resistors alone."""
    stiff = case.stiff
    # an input that lies on a rail is a constant: a rail is no way for a signal
    seen, border = set(), {case.net(key, pin)} - stiff
    for _ in range(MOST_HOPS + 1):
        seen |= border
        if any(_swings(case, other, its, mask, high) for net in border for other, its in case.pins_on(net) if other != key):
            return True
        border = case.past_resistors(border) - seen - stiff
    return False


def _swings(case: Case, key: str, pin: str, mask: Mask, high: float) -> bool:
    """True for an output of a chip, a module or another board that moves its net by at least a high level."""
    entry = case.bench.parts[key].entry
    is_driven = isinstance(entry, Controller) and bool(set(case.bench.role_of(key, pin)) & {"output", "pwm"})
    return (is_driven or _is_output(case, key, pin)) and float(np.ptp(case.operating.volts_at(key, pin)[mask])) >= high


def _is_output(case: Case, key: str, pin: str) -> bool:
    """True for an output of a chip, and for what can be input and output."""
    entry = case.bench.parts[key].entry
    return isinstance(entry, Chip) and any(pin in group.pins for group in entry.outputs)


def _unmoved(case: Case) -> Iterator[Found]:
    """Analogue pins on a sensor or potentiometer whose voltage is the same at both ends of its range."""
    mask = case.mask("nominal")
    for (key, pin), (roles, span) in case.bench.roles.items():
        entry = case.bench.parts[key].entry
        if not isinstance(entry, Controller) or "analog" not in roles or (key, pin) not in case.circuit.touched:
            continue
        sensors = [other for other, _ in case.pins_on(case.net(key, pin))
                   if isinstance(case.bench.parts[other].entry, Potentiometer | SensorResistor)]
        volts = case.volts(key, pin, "GND")[mask]
        if sensors and volts.size > 1 and float(np.ptp(volts)) < SAME_SHARE * float(entry.logic):
            worst = case.worst(case.volts(key, pin, "GND"), mask)
            if worst is not None:
                yield Found(rule="level-mismatch", severity="fault", span=span, case="same", parts=(case.name(key),),
                            points=(case.pin_name(key, pin),), facts={"sensor": case.name(sensors[0])},
                            evidence=(case.evidence("voltage", case.pin_name(key, pin), "V", *worst),),
                            needs_whole_list=True)


SAME_SHARE = 0.02
"""Share of the logic supply by which a sensor has to move a voltage: a converter of ten bits tells a thousandth."""


def _read_inputs(case: Case) -> Iterator[tuple[str, str, Floats, Floats]]:
    """Part, pin and its two thresholds at each point, for every digital input that is read."""
    for (key, pin), (roles, _) in case.bench.roles.items():
        entry = case.bench.parts[key].entry
        if isinstance(entry, Controller) and set(roles) & {"input", "pullup"} and (key, pin) in case.circuit.touched:
            supply = case.volts(key, logic_pin(entry), "GND")
            yield key, pin, at_supply(entry.low_max, supply), at_supply(entry.high_min, supply)
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        if not (entry.supply and entry.ground):
            continue
        for group in entry.inputs:
            if group.low_max is None or group.high_min is None or group.analog:
                continue
            supply = case.volts(key, group.supply or entry.supply, entry.ground)
            for pin in group.pins:
                if (key, pin) in case.circuit.touched and len(case.pins_on(case.net(key, pin))) > 1:
                    yield key, pin, at_supply(group.low_max, supply), at_supply(group.high_min, supply)


def _driven_by_output(case: Case, key: str, pin: str, point: Point) -> bool:
    """True where another output or a contact sets the level; a sensor's divider may stand anywhere."""
    net = case.net(key, pin)
    others = [case.bench.parts[k].entry for k, _ in case.pins_on(net)]
    if any(isinstance(entry, Potentiometer | SensorResistor) for entry in others):
        return False
    for other, its_pin in case.pins_on(net):
        if (other, its_pin) == (key, pin):
            continue
        name = case.pin_name(other, its_pin)
        by_hand = isinstance(case.bench.parts[other].entry, Switch | Resistor) and not _is_output(case, key, pin)
        if by_hand or point.state.get(name) in ("high", "low"):
            return True
    return False

EXPLANATION = """
# What it means
An output drives an input to a voltage that is neither surely low nor surely high. Each family has its limits: a 74HC
chip on 5 V takes up to 1.5 V for low and 3.5 V and more for high, a 74HCT chip 0.8 V and 2.0 V. A 3.3 V board gives 3.3
V.

# Why it matters
Between the limits the chip may read either, change with warmth, or hum between both, and draw some mA extra for it.
That 3.3 V works on 74HC today is luck: it misses 3.5 V by 0.2 V. An HCT chip, made for 2.0 V, reads it safely.

# A list that has it
title "Model signal: a 3.3 V board and a 5 V lamp driver"
board half
part U1 controller-3v3
part U2 74HC04 across 10-16 notch row 10
part R1 330 in a11 a20
part LAMP led red in c20 c21 long c20
part C1 100nF in L+10 L-10
wire U1.5V to L+1
wire U1.GND to L-1
wire L+11 to j10
wire L-16 to a16
wire L-21 to a21
wire U1.D9 to a10
pin U1.D9 output

# The same list mended
title "Model signal: a 3.3 V board and a 5 V lamp driver"
board half
part U1 controller-3v3
part U2 74HCT04 across 10-16 notch row 10
part R1 330 in a11 a20
part LAMP led red in c20 c21 long c20
part C1 100nF in L+10 L-10
wire U1.5V to L+1
wire U1.GND to L-1
wire L+11 to j10
wire L-16 to a16
wire L-21 to a21
wire U1.D9 to a10
pin U1.D9 output

# How to check with a meter
Power on, with the pin high, measure the volts from GND to the input (leg 1 of the chip, strip 10). Read 3.3 V and
compare with the least high level in the chip's datasheet. Do the same with the pin low: near 0 V is right.

# Source
3.5 V against 2.0 V, and HCT as the way from 3.3 V to 5 V: FAQ on level shifting from 5 V to 3.3 V and vice versa, CMOS
Logic ICs, Toshiba. The same numbers: 74HC04; 74HCT04 Hex inverter, Nexperia, section 9 (from memory).
"""

RULE = Rule("level-mismatch", "voltage", EXPLANATION, find)
