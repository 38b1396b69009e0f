"""The circuit with no power: every supply's lead off, controllers and chips asleep, windings cold and motors still.

Input: a circuit. Output: a ``Dead`` with the elements of all its positions (switches at rest, and each one held) in three
cases: the usual one, the one with the least resistance that tolerances allow, the one with the most. What a chip or a
controller board draws between its supply pins when it sleeps is in no datasheet: the cases span from what it draws
when it runs to nothing at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit, Conductor
from checker.operating.corners import NOMINAL, Corner
from checker.operating.models import OPEN_SIEMENS, add_part, load_ohms
from checker.operating.netlist import Netlist, Value
from checker.operating.points import Floats, Point, Points, State, where
from checker.operating.variables import variables_of
from checker.physics import Stack
from parts_library.schema import (
    Chip,
    Controller,
    Inductor,
    Load,
    Potentiometer,
    Regulator,
    Relay,
    SensorResistor,
    Stepper,
    SupplyKind,
    Switch,
)

CASES: tuple[Corner, ...] = (
    NOMINAL,
    Corner("least", "with the least resistance that tolerances allow", resistor=-1, gain=1, threshold=-1),
    Corner("most", "with the most resistance that tolerances allow", resistor=1, gain=-1, threshold=1),
)
USUAL, LEAST, MOST = range(3)

UNPLUGGED = "unplugged"
"""The option of a load whose leads are pulled out for one reading."""

NOTHING = {"conductances": ("siemens", OPEN_SIEMENS), "junctions": ("saturation", 1e-90)}
"""What makes an element of each kind as good as not there."""

ASLEEP = "off"
"""No option of any pin: what drives is asleep."""

ASLEEP_SHARE = 20.0
"""A sleeping board or chip is taken to have so many times the resistance that it has when it runs (from memory of boards that
show some kilohms where they draw 50 mA at 5 V); the cases span from one to infinitely many times."""

BRUSHES = (1.0, 0.7, 1.5)
"""Resistance of a small motor in the three cases, as its shaft is turned by hand, as shares of its rated voltage over its
stall current (from memory: brushes and the number of segments under them)."""

DIVIDER_OHMS = (5e3, 1.5e3, np.inf)
"""The divider inside a regulator of a fixed voltage in the three cases: some kilohms in those with bipolar transistors, far
more in those with field-effect transistors (from memory of published internal circuits)."""

COPPER = (1.0, 0.9, 1.1)
"""A winding of copper in the three cases: ±10 % (common in datasheets of small relays)."""




@dataclass(frozen=True, eq=False)
class Dead:
    """``stack`` holds for each position the three cases one after the other; ``net_nodes`` maps a net to its node;
    ``positions`` are (part, option) of the one switch that is held, "" and "" at rest."""

    circuit: Circuit
    stack: Stack
    net_nodes: dict[int, int]
    positions: tuple[tuple[str, str], ...]

    def node(self, conductor: Conductor) -> int | None:
        """The node of a conductor, or None where nothing is on it."""
        net = self.circuit.net_of.get(conductor)
        return None if net is None else self.net_nodes.get(net)

    def net(self, conductor: Conductor) -> int | None:
        return self.circuit.net_of.get(conductor)


class _Asleep(Netlist):
    """A netlist without whatever needs power to be there."""

    def add(self, kind: str, part: str, names: Sequence[str], **values: Value) -> None:
        if kind in ("sources", "drivers", "forced", "transfers"):
            return
        name = self.circuit.part(part).name
        if kind == "conductances" and _is_winding(self.circuit.part(part), names):
            values["siemens"] = values["siemens"] / np.resize(COPPER, self.points.count)
        for pulled in (name, *(f"{name}.{pin}" for pin in names)):
            if self.points.has(pulled) and kind in NOTHING:
                field, nothing = NOTHING[kind]
                values[field] = where(self.points.is_in(pulled, UNPLUGGED), nothing, values[field])
        super().add(kind, part, names, **values)

    def resistor(self, part: str, one: str, other: str, ohms: Value) -> None:
        entry = self.circuit.part(part).entry
        if isinstance(entry, Potentiometer):
            ohms = ohms * np.resize((1.0, 1.0 - entry.tolerance, 1.0 + entry.tolerance), self.points.count)
        if {one, other} == _feed(self.circuit.part(part)):
            share = np.resize((ASLEEP_SHARE, 1.0, np.inf), self.points.count)
            self.add("conductances", part, (one, other), siemens=np.maximum(1.0 / (ohms * share), OPEN_SIEMENS))
        else:
            super().resistor(part, one, other, ohms)


def _is_winding(part: BenchPart, names: Sequence[str]) -> bool:
    if isinstance(part.entry, Relay):
        return tuple(names) == ("A1", "A2")
    return isinstance(part.entry, Stepper | Inductor)


def _feed(part: BenchPart) -> set[str | None]:
    """The two pins between which a part draws its own current."""
    entry = part.entry
    if isinstance(entry, Chip):
        return {entry.supply, entry.ground}
    if isinstance(entry, Controller):
        return {"5V" if entry.logic > 4.0 else "3V3", "GND"}
    if isinstance(entry, Regulator):
        return {"IN", "ADJ" if entry.adjustable else "GND"}
    return set()


def dead(circuit: Circuit) -> Dead:
    """The circuit with no power, in all positions and cases."""
    variables = variables_of(circuit)
    rest = {v.name: ASLEEP if v.pin else v.options[0] for v in variables}
    positions = [("", ""), *((v.name, option) for v in variables
                             if isinstance(circuit.part(v.part).entry, Switch | Potentiometer)
                             for option in v.options[1:]),
                 *((circuit.part(key).name, UNPLUGGED) for key in windings_off_board(circuit)),
                 *((f"{circuit.part(key).name}.{pin}", UNPLUGGED) for key, pin in signals(circuit))]
    points = [Point(_state(circuit, {**rest, **({name: option} if name else {})}, case), corner)
              for name, option in positions for case, corner in enumerate(CASES)]
    netlist = _Asleep(circuit, Points(points))
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, Load):
            _cold_load(netlist, key, part.entry)
        elif not isinstance(part.entry, SupplyKind):
            add_part(netlist, key, part)
        if isinstance(part.entry, Regulator) and not part.entry.adjustable:
            _divider(netlist, key)
    stack, _ = netlist.finished()
    return Dead(circuit, _loosened(stack), dict(netlist.net_nodes), tuple(positions))


def windings_off_board(circuit: Circuit) -> list[str]:
    """Loads and relays that hang on leads: they can be unplugged for a reading."""
    return [key for key, part in circuit.bench.parts.items()
            if isinstance(part.entry, Load | Relay | Stepper) and not part.placed]


def signals(circuit: Circuit) -> list[tuple[str, str]]:
    """Controllers' signal pins that something is wired to: their wire can be pulled out and measured at its end."""
    return [(key, pin) for key, part in circuit.bench.parts.items() if isinstance(part.entry, Controller)
            for pin in (*part.entry.digital, *part.entry.analog) if (key, pin) in circuit.touched]


def _state(circuit: Circuit, state: State, case: int) -> State:
    """The state with every sensor at the end of its range that the case asks for."""
    for part in circuit.bench.parts.values():
        if isinstance(part.entry, SensorResistor) and case:
            state[part.name] = part.entry.low_when if case == LEAST else part.entry.high_when
    return state


def _cold_load(netlist: Netlist, key: str, entry: Load) -> None:
    """A load at rest: a motor's winding, a cold filament. What has electronics inside shows anything."""
    running, worst = load_ohms(entry)
    one, other = entry.pins[0], entry.pins[1]
    if entry.one_way or entry.type == "buzzer":
        ohms: Floats = np.resize((running * ASLEEP_SHARE, running, np.inf), netlist.points.count)
    elif entry.type == "motor":
        ohms = np.resize([worst * share for share in BRUSHES], netlist.points.count)
    elif entry.type == "lamp":
        ohms = np.resize((worst, worst * COPPER[LEAST], min(running, 2 * worst)), netlist.points.count)
    else:
        ohms = np.resize([running * share for share in COPPER], netlist.points.count)
    netlist.add("conductances", key, (one, other), siemens=np.maximum(1.0 / np.maximum(ohms, 1e-3), OPEN_SIEMENS))


def _divider(netlist: Netlist, key: str) -> None:
    """What a regulator of a fixed voltage holds against its reference: some kilohms from its output to ground."""
    ohms = np.resize(DIVIDER_OHMS, netlist.points.count)
    netlist.add("conductances", key, ("OUT", "GND"), siemens=np.maximum(1.0 / ohms, OPEN_SIEMENS))


def _loosened(stack: Stack) -> Stack:
    """The islands let go of the reference: a meter that joins two of them must not measure through it."""
    ties = (stack.conductances.nodes[..., 1] == 0) | (stack.conductances.nodes[..., 0] == 0)
    stack.conductances.siemens[ties] = TIE_SIEMENS
    return stack


TIE_SIEMENS = 1e-10
"""Holds an island that no probe is on: 10 GΩ, beyond what any meter shows."""
