"""Outputs that need not be combined with everything: what they do follows from the pins that drive their inputs.

A bridge chip with six inputs on a controller has 64 settings of these, and in each of them one of its 81 combinations of outputs.
Where all combinations would be too many, the outputs are worked out from the inputs beforehand. The solution of each state is
still held against its inputs, as for any other state.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Protocol, TypeAlias

from checker.circuit.model import Circuit
from checker.operating.points import State
from parts_library.logic import evaluate, pins_of
from parts_library.schema import Chip, Output

Rule: TypeAlias = Callable[[State], str]


class Variable(Protocol):
    """What is asked of a variable here; ``checker.operating.variables`` has it."""

    @property
    def name(self) -> str: ...
    @property
    def part(self) -> str: ...
    @property
    def pin(self) -> str: ...
    @property
    def options(self) -> tuple[str, ...]: ...
    @property
    def follows(self) -> bool: ...
    @property
    def one_of(self) -> str: ...


def predicted(circuit: Circuit, variables: Sequence[Variable]) -> dict[str, Rule]:
    """For each output variable that follows from others: its option in a state."""
    held = held_nets(circuit)
    drivers = {circuit.pin_net[variable.part, variable.pin]: variable for variable in variables
               if variable.pin and not variable.follows and "high" in variable.options}
    found: dict[str, Rule] = {}
    for variable in variables:
        entry = circuit.part(variable.part).entry
        if variable.follows and isinstance(entry, Chip):
            output = next((output for output in entry.outputs if variable.pin in output.pins), None)
            rule = _rule(circuit, variable, output, drivers, held) if output is not None else None
            if rule is not None:
                found[variable.name] = rule
    return found


def held_nets(circuit: Circuit) -> dict[int, bool]:
    """Nets that a source holds, and whether they are high; one that is plus and minus at once is left out."""
    high: set[int] = set()
    low: set[int] = set()
    for key, part in circuit.bench.parts.items():
        for pin in part.pins:
            if (part.is_supply and pin == "+") or (part.is_controller and pin in ("5V", "3V3")):
                high.add(circuit.pin_net[key, pin])
            elif (part.is_supply and pin == "-") or (part.is_controller and pin == "GND"):
                low.add(circuit.pin_net[key, pin])
    return {net: net in high for net in high ^ low}


def _rule(circuit: Circuit, variable: Variable, output: Output, drivers: Mapping[int, Variable],
          held: Mapping[int, bool]) -> Rule | None:
    entry = circuit.part(variable.part).entry
    assert isinstance(entry, Chip)
    number = output.pins.index(variable.pin)
    source = output.follows[number] if number < len(output.follows) else ""
    enable = output.enabled_by[0 if len(output.enabled_by) == 1 else number] if output.enabled_by else ""
    if not source or any(not _is_known(circuit, variable.part, pin, drivers, held)
                         for expression in (source, enable) if expression for pin in pins_of(expression)):
        return None
    if any(held_enable(circuit, variable.part, entry, expression, held) is not False for expression in output.held_by):
        return None
    high, low = levels_of(variable)

    def option(state: State) -> str:
        def level_of(pin: str) -> int:
            net = circuit.pin_net[variable.part, pin]
            if net in drivers:
                return int(state[drivers[net].name] == "high")
            return int(held[net] if net in held else reads_high_open(entry, pin))

        if enable and not evaluate(enable, level_of) & 1:
            return "released"
        return high if evaluate(source, level_of) & 1 else low

    return option


def _is_known(circuit: Circuit, part: str, pin: str, drivers: Mapping[int, Variable], held: Mapping[int, bool]) -> bool:
    net = circuit.pin_net.get((part, pin))
    return net is not None and (net in drivers or net in held or len(circuit.pins_on[net]) == 1)


def held_enable(circuit: Circuit, key: str, entry: Chip, expression: str, held: Mapping[int, bool]) -> bool | None:
    """Whether an enable is on for good, or off, where all its inputs are on supplies; None where it may change."""
    nets = {pin: circuit.pin_net[key, pin] for pin in pins_of(expression)}
    if not all(net in held for net in nets.values()):
        return None
    return bool(evaluate(expression, lambda pin: int(held[nets[pin]])) & 1)


def reads_high_open(entry: Chip, pin: str) -> bool:
    """True where an input that nothing is joined to reads high, by its pull-up inside."""
    return any(group.pull_up is not None for group in entry.inputs if pin in group.pins)


def levels_of(variable: Variable) -> tuple[str, str]:
    """What the output does where what it follows is high, and where it is low."""
    return ("high" if "high" in variable.options else "released"), ("low" if "low" in variable.options else "released")
