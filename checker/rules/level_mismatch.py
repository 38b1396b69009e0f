"""A logic level that is neither surely low nor surely high for what reads it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.operating.chips import logic_pin
from checker.operating.consistent import at_supply
from checker.operating.points import Floats, Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.input_floating import is_held
from parts_library.schema import Chip, Controller, Potentiometer, Resistor, SensorResistor, Switch

MARGIN = 0.02
"""Volts by which a level may miss a guaranteed threshold before it is said: below what the models can tell."""


def find(case: Case) -> Iterator[Found]:
    """Inputs driven by an output or a contact to a voltage between their guaranteed thresholds, in nominal states."""
    for key, pin, low, high in _read_inputs(case):
        ground = "GND" if case.bench.parts[key].is_controller else str(getattr(case.bench.parts[key].entry, "ground", ""))
        volts = case.volts(key, pin, ground)
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
        if point.state.get(name) in ("high", "low") or isinstance(case.bench.parts[other].entry, Switch | Resistor):
            return True
    return False

EXPLANATION = """
"""

RULE = Rule("level-mismatch", "voltage", EXPLANATION, find)
