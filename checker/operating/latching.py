"""Models of thyristors and triacs: a switch that its gate fires, and that only a lack of current opens again.

In each state such a part is off or fired. A state agrees with itself where the gate could have fired it and the current
holds it; off where the gate does not surely fire it. Between the two it stays as it was, so that both are possible.
"""

from __future__ import annotations

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.fit import junction_from
from checker.operating.netlist import Netlist
from checker.operating.points import Bools, Floats
from checker.operating.variables import FIRED, Variable
from parts_library.schema import Amps, Forward, Thyristor, Volts

GATE_OHMS = 50.0
"""Resistance in the gate, from memory: trigger voltage rises by some tenths of a volt within ten times the trigger current."""

SENSE_OHMS = 0.01
"""A resistance in the main path by which its current is read."""

BLOCKING_SIEMENS = 1e-8
MARGIN_TO_BREAKDOWN = 1.2
"""Times its rated voltage at which a part breaks through: from memory, makers test at the rated voltage with some reserve."""

STILL_BLOCKS = 1.0
"""Volts between its main terminals below which a part that is off has nothing to conduct."""


def add_thyristor(netlist: Netlist, key: str, part: BenchPart) -> None:
    """Gate junction, blocking path, and where it has fired a junction that carries the current."""
    entry = part.entry
    assert isinstance(entry, Thyristor)
    high, low = main_pins(entry)
    fired = netlist.points.is_in(part.name, FIRED)
    gate = junction_from((Forward(amps=Amps(entry.trigger.typ), volts=Volts(entry.trigger_voltage)),))
    main = junction_from((entry.on_state,))
    netlist.resistor(key, "G", "gate", GATE_OHMS)
    netlist.junction(key, "gate", low, gate.saturation, gate.slope, 1.0,
                     breakdown=entry.gate_reverse * MARGIN_TO_BREAKDOWN, breakdown_ohms=20.0)
    netlist.resistor(key, high, "main", SENSE_OHMS)
    netlist.add("conductances", key, ("main", "junction"), siemens=np.where(fired, 1 / SENSE_OHMS, BLOCKING_SIEMENS))
    netlist.junction(key, "junction", low, main.saturation, main.slope, main.ohms)
    netlist.breakdown(key, high, low, float(entry.voltage) * MARGIN_TO_BREAKDOWN)
    netlist.breakdown(key, low, high, float(entry.voltage) * MARGIN_TO_BREAKDOWN)
    if entry.two_way:
        netlist.junction(key, low, "gate", gate.saturation, gate.slope, 1.0)
        netlist.junction(key, low, "junction", main.saturation, main.slope, main.ohms)


def main_pins(entry: Thyristor) -> tuple[str, str]:
    """The pins of the main path: the one that the gate does not belong to, and the one that it does."""
    return ("MT2", "MT1") if entry.two_way else ("A", "K")


def thyristor_agrees(netlist: Netlist, variable: Variable, entry: Thyristor, volts: Floats) -> Bools:
    """The points (P,) at which being off or fired agrees with gate and main current, from the node voltages (P, N)."""
    high, low = main_pins(entry)

    def across(one: str, other: str) -> Floats:
        drop: Floats = volts[:, netlist.node(variable.part, one)] - volts[:, netlist.node(variable.part, other)]
        return drop

    into_gate, carried = across("G", "gate") / GATE_OHMS, across(high, "main") / SENSE_OHMS
    if entry.two_way:
        into_gate, carried = np.abs(into_gate), np.abs(carried)
    is_fired = netlist.points.is_in(variable.name, FIRED)
    could_fire = bool((into_gate >= entry.trigger.min).any())
    blocked = across(high, low)
    has_nothing = np.abs(blocked) < STILL_BLOCKS if entry.two_way else blocked < STILL_BLOCKS
    fired: Bools = could_fire & ((carried > entry.holding) | ((into_gate >= entry.trigger.min) & (carried > 0.0)))
    off: Bools = (into_gate < entry.trigger.max) | has_nothing
    agrees: Bools = np.where(is_fired, fired, off)
    return agrees
