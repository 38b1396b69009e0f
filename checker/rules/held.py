"""What holds the voltage of a net: the question behind every floating input.

Input: a case, a pin and an operating point; output: whether something that drives is reached through parts that conduct then.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.operating.points import Point
from checker.rules.case import Case
from parts_library.schema import (
    Bipolar,
    Chip,
    Controller,
    Diode,
    Fuse,
    Inductor,
    Led,
    Load,
    Mosfet,
    Potentiometer,
    Relay,
    Resistor,
    SensorResistor,
    Switch,
    Zener,
)


def is_held(case: Case, key: str, pin: str, point: Point) -> bool:
    """True where something that drives is reached from a pin through parts that conduct in this state, or where it drives."""
    if point.state.get(case.pin_name(key, pin)) in ("high", "low"):
        return True
    seen: set[int] = set()
    queue = [case.net(key, pin)]
    while queue:
        net = queue.pop()
        if net in case.sourced or net in case.circuit.uncertain:
            return True
        if net in seen:
            continue
        seen.add(net)
        for other, its_pin in case.pins_on(net):
            if (other, its_pin) != (key, pin):
                if _drives(case, other, its_pin, point):
                    return True
                queue.extend(_onward(case, other, its_pin, point))
    return False


def _drives(case: Case, key: str, pin: str, point: Point) -> bool:
    """True for an output that drives in this state, and for parts whose inside is not followed further."""
    part = case.bench.parts[key]
    entry = part.entry
    if isinstance(entry, Controller):
        return point.state.get(f"{part.name}.{pin}", "input") not in ("input", "released")
    if isinstance(entry, Chip):
        if any(pin in output.pins for output in entry.outputs):
            lifted = any(element.device == "resistor" and pin in element.nodes for element in entry.circuit)
            lowered = any(pin in group.pins and group.pull_down for group in entry.inputs)
            return lifted or lowered or point.state.get(f"{part.name}.{pin}") != "released"
        stages = {stage.output for stage in entry.amplifiers if not stage.open_collector}
        pulled = any(pin in group.pins and (group.pull_up or group.pull_down) for group in entry.inputs)
        # what passes through an analogue switch comes from its other side, which is not followed
        passes = entry.type == "logic" and any(pin in group.pins and group.analog for group in entry.inputs)
        return pin in stages or pulled or passes or _holds_inside(case, key, pin, entry, point)
    if isinstance(entry, Bipolar):
        return pin == "C" and _carries(case, key, pin, point)
    return isinstance(entry, Mosfet) and pin != "G"


CARRIES = 1e-7
"""Amps from which a transistor that is the only thing at an input counts as holding it."""


def _carries(case: Case, key: str, pin: str, point: Point) -> bool:
    return abs(float(case.amps(key, pin)[case.operating.points.index(point)])) > CARRIES


def _holds_inside(case: Case, key: str, pin: str, entry: Chip, point: Point) -> bool:
    """True where a chip's inner circuit holds a pin: through a resistor, a source, a diode or a base always, through a
    transistor's collector or drain only while it carries a current."""
    at = {(element.device, place) for element in entry.circuit for number in range(1, element.repeat + 1)
          for place, node in enumerate(element.nodes) if node.replace("{n}", str(number)) == pin}
    if any(device in ("resistor", "source", "diode") or (device in ("npn", "pnp") and place == 1) for device, place in at):
        return True
    return bool(at) and (key, pin) in case.operating.pins and _carries(case, key, pin, point)


def _onward(case: Case, key: str, pin: str, point: Point) -> Iterator[int]:
    """The nets that a conducting part joins to the one at ``pin``."""
    part = case.bench.parts[key]
    entry = part.entry
    if isinstance(entry, Switch | Relay) and pin not in ("A1", "A2"):
        for contact in entry.contacts:
            closed = not contact.when or point.state.get(part.name) in contact.when
            if pin in contact.pins and closed:
                yield case.net(key, contact.pins[0] if contact.pins[1] == pin else contact.pins[1])
    elif isinstance(entry, Resistor | Potentiometer | SensorResistor | Inductor | Load | Fuse | Diode | Led | Zener
                    | Relay):
        for other in part.pins:
            if other != pin and (not isinstance(entry, Relay) or other in ("A1", "A2")):
                yield case.net(key, other)
