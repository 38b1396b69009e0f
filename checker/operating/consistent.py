"""Which states a circuit can be in by itself: a relay's contact follows its coil, an output follows its input.

All states are solved; those in which a contact contradicts its coil, or an output its input, are then left out. What such a
thing would do next is asked too, where no state agrees with itself (``checker.operating.settling``).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from checker.circuit.model import Circuit
from checker.operating.latching import thyristor_agrees
from checker.operating.models import relay_ohms
from checker.operating.netlist import Netlist
from checker.operating.points import Bools, Floats
from checker.operating.predicted import reads_high_open
from checker.operating.variables import STYLE_OPTIONS, Variable
from parts_library.logic import evaluate
from parts_library.schema import Chip, Level, Output, Relay, Thyristor


def agreements(circuit: Circuit, netlist: Netlist, variables: tuple[Variable, ...], volts: Floats) -> dict[str, Bools]:
    """For each variable that the circuit decides: the points (P,) at which it agrees with what decides it, from the node
    voltages (P, N)."""
    found: dict[str, Bools] = {}
    for variable in variables:
        if variable.follows:
            entry = circuit.part(variable.part).entry
            if isinstance(entry, Relay):
                found[variable.name] = _relay_agrees(netlist, variable, entry, volts)
            elif isinstance(entry, Thyristor):
                found[variable.name] = thyristor_agrees(netlist, variable, entry, volts)
            elif isinstance(entry, Chip):
                found[variable.name] = _output_agrees(netlist, variable, entry, volts)
    return found


def consistent(agreeing: dict[str, Bools], count: int) -> Bools:
    """Which of ``count`` points contradict nothing."""
    keep: Bools = np.ones(count, dtype=bool)
    for agrees in agreeing.values():
        keep = keep & agrees
    return keep


def wishes(circuit: Circuit, netlist: Netlist, variables: Sequence[Variable], volts: Floats,
           agreeing: dict[str, Bools]) -> dict[str, NDArray[np.str_]]:
    """For each variable that the circuit decides: the option (P,) that it goes to from each point, its own where it agrees."""
    found: dict[str, NDArray[np.str_]] = {}
    for variable in variables:
        if variable.name not in agreeing:
            continue
        own = np.array([point.state[variable.name] for point in netlist.points.points])
        entry = circuit.part(variable.part).entry
        if isinstance(entry, Chip):
            other = _output_wish(netlist, variable, entry, volts, own)
        else:
            other = np.where(own == variable.options[0], variable.options[-1], variable.options[0])
        found[variable.name] = np.where(agreeing[variable.name], own, other)
    return found


def _relay_agrees(netlist: Netlist, variable: Variable, entry: Relay, volts: Floats) -> Bools:
    drop = np.abs(volts[:, netlist.node(variable.part, "A1")] - volts[:, netlist.node(variable.part, "A2")])
    rated = entry.voltage or (entry.current or 0.0) * relay_ohms(entry) or 5.0
    pulled = netlist.points.is_in(variable.name, "pulled-in")
    # between must-release and must-operate a relay stays as it was: both are possible
    agrees: Bools = np.where(pulled, drop > entry.must_release * rated, drop < entry.must_operate * rated)
    return agrees


def is_decided(circuit: Circuit, variable: Variable) -> bool:
    """True for what something on the board decides altogether. An output that is only switched on and off by a pin still shows
    what the program put into the chip."""
    entry = circuit.part(variable.part).entry
    if variable.follows and isinstance(entry, Chip):
        output = next((output for output in entry.outputs if variable.pin in output.pins), None)
        return output is None or output.pins.index(variable.pin) < len(output.follows)
    return variable.follows


def _output_agrees(netlist: Netlist, variable: Variable, entry: Chip, volts: Floats) -> Bools:
    return _agrees(netlist, variable, entry, volts) | _is_held(netlist, variable, entry, volts)


def _is_held(netlist: Netlist, variable: Variable, entry: Chip, volts: Floats) -> Bools:
    """Where an output keeps what it was, whatever its inputs are: a latch that is closed."""
    held: Bools = np.zeros(netlist.points.count, dtype=bool)
    output = next((output for output in entry.outputs if variable.pin in output.pins), None)
    for expression in output.held_by if output is not None and entry.supply and entry.ground else ():
        held = held | _is_high(netlist, variable.part, entry, expression, volts)
    return held


def _agrees(netlist: Netlist, variable: Variable, entry: Chip, volts: Floats) -> Bools:
    off, high = _decided(netlist, variable, entry, volts)
    is_in = netlist.points.is_in
    agrees: Bools = np.ones(netlist.points.count, dtype=bool)
    if high is not None:
        agrees = is_in(variable.name, _options(entry, variable)[0]) == high
    if off is None:
        return agrees
    released = is_in(variable.name, "released")
    # an output that only pulls one way lets go both when it is off and when it does not pull
    may_let_go = "released" in _options(entry, variable)
    return np.where(off, released, agrees if may_let_go else agrees & ~released).astype(np.bool_)


def _output_wish(netlist: Netlist, variable: Variable, entry: Chip, volts: Floats,
                 own: NDArray[np.str_]) -> NDArray[np.str_]:
    """What an output does next: what its input says, where nothing says anything what it did."""
    off, high = _decided(netlist, variable, entry, volts)
    up, down = _options(entry, variable)
    wish = own if high is None else np.where(high, up, down)
    if off is not None:
        if high is None and "released" not in (up, down):
            wish = np.where(own == "released", variable.options[0], own)
        wish = np.where(off, "released", wish)
    return np.where(_is_held(netlist, variable, entry, volts), own, wish)


def _options(entry: Chip, variable: Variable) -> tuple[str, str]:
    """What an output does that is high, and what it does that is low; one that only pulls one way lets go."""
    style = next((output.style for output in entry.outputs if variable.pin in output.pins), "push-pull")
    options = STYLE_OPTIONS[style]
    return "high" if "high" in options else "released", "low" if "low" in options else "released"


def _decided(netlist: Netlist, variable: Variable, entry: Chip, volts: Floats) -> tuple[Bools | None, Bools | None]:
    """Where an output is switched off, and where its input makes it high; None for what nothing decides."""
    output = next((output for output in entry.outputs if variable.pin in output.pins), None)
    if output is None or entry.supply is None or entry.ground is None:
        return None, None
    enable = _of_pin(output.enabled_by, output, variable.pin, shared=True)
    source = _of_pin(output.follows, output, variable.pin)
    return (None if enable is None else ~_is_high(netlist, variable.part, entry, enable, volts),
            None if source is None else _is_high(netlist, variable.part, entry, source, volts))


def _of_pin(names: tuple[str, ...], output: Output, pin: str, shared: bool = False) -> str | None:
    """The name that belongs to a pin of a group; with ``shared`` a single name is all pins'."""
    if shared and len(names) == 1:
        return names[0]
    number = output.pins.index(pin)
    return names[number] if number < len(names) else None


def _is_high(netlist: Netlist, part: str, entry: Chip, source: str, volts: Floats) -> Bools:
    """Where an input, or a logic function of inputs, is high, at each point."""
    assert entry.supply is not None and entry.ground is not None
    ground = volts[:, netlist.node(part, entry.ground)]
    supply = volts[:, netlist.node(part, entry.supply)] - ground

    def level_of(pin: str) -> Bools:
        node = netlist.node(part, pin)
        if node >= volts.shape[1]:
            # nothing is on the pin, not even an input's resistance
            return np.full(len(volts), reads_high_open(entry, pin))
        above: Bools = volts[:, node] - ground > threshold(entry, pin, supply)
        return above

    high: Bools = evaluate(source, level_of)
    return high


def at_supply(level: Level, supply: Floats) -> Floats:
    """A logic level in volts above ground at a supply voltage."""
    return level.volts + level.share * supply


def threshold(entry: Chip, pin: str, supply: Floats) -> Floats:
    """Where an input changes over: midway between its guaranteed levels, or half the supply."""
    for group in entry.inputs:
        if pin in group.pins and group.low_max is not None and group.high_min is not None:
            return (at_supply(group.low_max, supply) + at_supply(group.high_min, supply)) / 2
    return supply / 2
