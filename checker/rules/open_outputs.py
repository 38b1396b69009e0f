"""Outputs of a driver that reach nothing although the program drives their inputs: part of ``never-switches``."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found
from checker.rules.case import Case
from parts_library.schema import Chip, Controller, Resistor


def open_outputs(case: Case) -> Iterator[Found]:
    """Pins of the program that drive inputs of driver chips, and nothing else, whose outputs are all on nothing."""
    for (key, pin), (roles, span) in case.bench.roles.items():
        board = case.bench.parts[key].entry
        if not isinstance(board, Controller) or not set(roles) & {"output", "pwm"} or (key, pin) not in case.circuit.touched:
            continue
        driven = _driven(case, key, pin)
        outputs = [(chip, out) for chip, its in driven for out in _outputs_of(case, chip, its)]
        if driven and outputs and len({chip for chip, _ in outputs}) == len({chip for chip, _ in driven}) and all(
                case.circuit.is_alone(case.net(*output)) for output in outputs) and all(
                case.net(*output) not in case.circuit.uncertain for output in outputs):
            chip, out = outputs[0]
            yield Found(rule="never-switches", severity="fault", span=span, case="output", needs_whole_list=True, weight=2.0,
                        parts=(case.name(key), case.name(chip)), points=(case.pin_name(key, pin), case.pin_name(chip, out)))


def _driven(case: Case, key: str, pin: str) -> list[tuple[str, str]]:
    """The driver inputs that a pin reaches, through at most one resistor; none where it reaches anything else."""
    found: list[tuple[str, str]] = []
    net = case.net(key, pin)
    for at in {net, *case.past_resistors([net])} - case.stiff:
        for other, its in case.pins_on(at):
            entry = case.bench.parts[other].entry
            if isinstance(entry, Chip) and entry.type == "driver":
                found.append((other, its))
            elif (other, its) != (key, pin) and not isinstance(entry, Resistor):
                return []
    return found


def _outputs_of(case: Case, key: str, pin: str) -> list[str]:
    """The outputs of a chip that an input of it moves: those that follow it, and in an array the one of its number."""
    entry = case.bench.parts[key].entry
    assert isinstance(entry, Chip)
    following = [out for group in entry.outputs for out, heeds in zip(group.pins, group.follows) if heeds == pin]
    numbered = [f"OUT{pin[2:]}"] if pin.startswith("IN") and f"OUT{pin[2:]}" in entry.pins else []
    return following or numbered
