"""Outputs of chips that a reset, enable or inhibit holds for good, because the list ties it to a source.

Input: a circuit and a chip of it; output: the level of each output that is held. An input that something else moves, or that
only a resistor holds, decides nothing here; the solved levels then say whether it stops the chip (rule ``chip-stopped``).
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.circuit.model import Circuit
from checker.operating.predicted import held_nets
from parts_library.logic import evaluate, pins_of
from parts_library.schema import Chip


def stopped_levels(circuit: Circuit, key: str, entry: Chip) -> dict[str, str]:
    """For each output of a chip that is held: low, high, still, loading or open."""
    if not entry.stops:
        return {}
    held = held_nets(circuit)
    known: dict[str, bool] = {}
    for pin in {pin for stop in entry.stops for pin in pins_of(stop.when)}:
        level = held.get(circuit.pin_net[key, pin], pull_of(entry, pin) if circuit.is_alone(circuit.pin_net[key, pin]) else None)
        if level is not None:
            known[pin] = level
    found: dict[str, str] = {}
    for stop in entry.stops:
        if all(pin in known for pin in pins_of(stop.when)) and is_true(stop.when, known):
            for output in stop.outputs:
                found.setdefault(output, stop.level)
    return found


def is_true(when: str, levels: Mapping[str, bool]) -> bool:
    """A logic function of inputs at given levels."""
    return bool(evaluate(when, lambda pin: int(levels[pin])) & 1)


def pull_of(entry: Chip, pin: str) -> bool | None:
    """The level of an input that nothing is joined to: True with a pull-up inside, False with a pull-down, else None."""
    group = next((group for group in entry.inputs if pin in group.pins), None)
    if group is None or not (group.pull_up or group.pull_down):
        return None
    return group.pull_up is not None
