"""What hangs on one supply: the nets that its plus reaches, what sleeps or idles there, what gets warm there.

Input: a circuit, its solution, a supply. Output: the spread of the current that nothing on the list decides, and the warm parts.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.operating.operate import Operating
from checker.sentences.words import listed
from grammar import show_quantity
from parts_library.schema import Chip, Controller, LedGroup, Load, Relay

WARM_WATTS = 0.25
"""A small part with a quarter of a watt is warm to the finger (a TO-92 at 200 K/W: 50 K above the room)."""

IDLE_SPREAD = (0.6, 1.3)
"""What a chip draws for itself, least and most, as shares of what is computed for it (NE555 at 5 V: 3 mA typical, 6 mA at most,
where 4.9 mA are computed; NE555 Precision Timers, Texas Instruments, from memory)."""

BOARD_SPREAD = (0.3, 1.2)
"""The same for a controller board: those of one kind draw 15 to 60 mA where the entry says 50 mA (from memory; the power lamp and
the USB chip differ from maker to maker)."""

SECOND_SUPPLY_AMPS = 0.006
"""What a driver chip draws at most from its second supply with its outputs low and nothing on them (L293D output supply current:
2 mA typical, 6 mA at most; L293x Quadruple Half-H Drivers, Texas Instruments, from memory)."""


def reached(circuit: Circuit, key: str, plus: str) -> set[int]:
    """Nets that the plus of a source reaches through parts, but through no chip, relay, controller or other source, and by way
    of no ground."""
    closed = {other for other, part in circuit.bench.parts.items()
              if part.is_supply or part.is_controller or isinstance(part.entry, Relay | Chip)}
    grounds = {circuit.pin_net[other, pin] for other, part in circuit.bench.parts.items() for pin in ("-", "GND")
               if (part.is_supply or part.is_controller) and (other, pin) in circuit.pin_net}
    if (key, plus) not in circuit.pin_net:
        return set()
    start = ("net", circuit.pin_net[key, plus])
    graph = circuit.graph.subgraph(node for node in circuit.graph if node[1] not in closed and
                                   (node[0] == "part" or node[1] not in grounds))
    return {int(node[1]) for node in nx.node_connected_component(graph, start) if node[0] == "net"} if start in graph else set()


def idle_spread(circuit: Circuit, nets: set[int], volts: float, powered_by_usb: str = ""
                ) -> tuple[float, float, tuple[str, ...]]:
    """By how many amps less and more than computed a source of ``volts`` may give because of what the chips and boards on
    ``nets`` draw for themselves, and their names. ``powered_by_usb`` is the key of a board whose own USB is the source."""
    less = more = 0.0
    names = []
    for key, part in circuit.bench.parts.items():
        for own, shares in _idling(circuit, key, part, nets, volts, powered_by_usb):
            less, more = less + own * (1 - shares[0]), more + own * (shares[1] - 1)
            names.append(part.name)
        if isinstance(part.entry, Chip) and part.entry.type == "driver" and any(
                circuit.pin_net.get((key, pin)) in nets for pin in part.entry.more_supplies):
            more += SECOND_SUPPLY_AMPS
            names.append(part.name)
    return less, more, tuple(dict.fromkeys(names))


def _idling(circuit: Circuit, key: str, part: BenchPart, nets: set[int], volts: float, powered_by_usb: str
            ) -> Iterator[tuple[float, tuple[float, float]]]:
    entry = part.entry
    if isinstance(entry, Chip) and entry.supply is not None and circuit.pin_net.get((key, entry.supply)) in nets:
        yield float(entry.supply_current or 0.0) * volts / middle_volts(entry), IDLE_SPREAD
    if isinstance(entry, Controller) and (key == powered_by_usb or any(
            circuit.pin_net.get((key, pin)) in nets for pin in ("VIN", "5V", "3V3"))):
        yield float(entry.own_current), BOARD_SPREAD


def middle_volts(entry: Chip) -> float:
    """The voltage at which a chip draws its ``supply_current``: the middle of its range."""
    if entry.supply_min and entry.supply_max:
        return float(entry.supply_min + entry.supply_max) / 2
    return float(entry.supply_max or entry.supply_min or entry.supply_absolute or 5.0)


def warm_parts(operating: Operating, nets: set[int]) -> str:
    """The parts on ``nets`` that turn the most power into heat, loads left aside; of a relay its coil counts."""
    mask = operating.mask("nominal") & operating.converged
    circuit = operating.circuit
    found = []
    for key, part in circuit.bench.parts.items():
        if part.entry is None or part.is_supply or part.is_controller or isinstance(part.entry, Load | LedGroup):
            continue
        heated = ("A1", "A2") if isinstance(part.entry, Relay) else part.pins
        if not any(circuit.pin_net[key, pin] in nets for pin in heated):
            continue
        watts = sum((operating.amps_into(key, pin) * operating.volts_at(key, pin) for pin in part.pins), np.zeros(len(mask)))
        found.append((float(watts[mask].max(initial=0.0)), part.name))
    warm = [f"{name} ({show_quantity(watts, 'W')})" for watts, name in sorted(found, reverse=True) if watts > WARM_WATTS]
    return listed(warm[:3])
