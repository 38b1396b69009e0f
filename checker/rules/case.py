"""One circuit with its operating points, and the questions that rules ask of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Any

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from checker.bench.model import Bench, BenchPart
from checker.circuit.model import Circuit
from checker.operating.operate import Operating
from checker.operating.points import Floats, Point
from checker.operating.variables import stiff_nets
from checker.report.model import Evidence
from checker.rules.paths import paths_of
from parts_library.schema import Capacitor, Chip, Led, LedGroup, Load, Regulator, Relay, Resistor, Stepper

Mask = NDArray[np.bool_]
LIGHTS_AND_LOADS = (Load, Led, LedGroup, Relay, Stepper)


class Case:
    """What every rule is given."""

    def __init__(self, operating: Operating) -> None:
        self.operating = operating
        self.circuit: Circuit = operating.circuit
        self.bench: Bench = operating.circuit.bench
        self.kept: dict[str, Any] = {}

    # ── parts ─────────────────────────────────────────────────────────────────────────────────────────────────────

    def parts(self, *types: type) -> Iterator[tuple[str, BenchPart]]:
        """Key and part of every known part whose entry is of one of these types (all types without any)."""
        for key, part in self.bench.parts.items():
            if part.entry is not None and (not types or isinstance(part.entry, types)):
                yield key, part

    def name(self, key: str) -> str:
        return self.bench.parts[key].name

    def pin_name(self, key: str, pin: str) -> str:
        return f"{self.name(key)}.{pin}"

    def where(self, key: str, pin: str) -> str:
        """The hole of a pin, or its name off the board."""
        return self.circuit.place_of[key, pin]

    def is_used(self, key: str) -> bool:
        """True where the list wires or places any pin of the part."""
        return any((key, pin) in self.circuit.touched for pin in self.bench.parts[key].pins)

    # ── numbers ───────────────────────────────────────────────────────────────────────────────────────────────────

    def mask(self, name: str) -> Mask:
        return self.operating.mask(name) & self.operating.converged

    def volts(self, key: str, plus: str, minus: str) -> Floats:
        return self.operating.volts_at(key, plus) - self.operating.volts_at(key, minus)

    def amps(self, key: str, pin: str) -> Floats:
        return self.operating.amps_into(key, pin)

    def power(self, key: str) -> Floats:
        """Watts that a part takes in, at each point: the sum of volts times amps over its pins."""
        total = np.zeros(len(self.operating.points))
        for pin in self.bench.parts[key].pins:
            if self.circuit.pin_net.get((key, pin)) is not None:
                total = total + self.operating.volts_at(key, pin) * self.amps(key, pin)
        return total

    def worst(self, values: Floats, mask: Mask, least: bool = False) -> tuple[float, Point] | None:
        """The largest (or smallest) value under a mask with its point, or None where the mask is empty. Values that are
        the same but for rounding are taken from the first point, which is the nominal one."""
        mask = mask & ~np.isnan(values)
        if not mask.any():
            return None
        under = np.where(mask, -values if least else values, -np.inf)
        top = float(under.max())
        index = int(np.flatnonzero(under >= top - max(abs(top) * 1e-6, 1e-12))[0])
        return float(values[index]), self.operating.points[index]

    def evidence(self, quantity: str, of: str, unit: str, value: float, point: Point, limit: float | None = None,
                 least: bool = False, values: Floats | None = None) -> Evidence:
        """A value with its point in words; given its ``values`` at all points, only the variables that matter to it."""
        return Evidence(quantity=quantity, of=of, value=float(value), unit=unit,
                        limit=None if limit is None else float(limit), least=least,
                        state=dict(point.state) if values is None else self.deciding_state(point, values, of),
                        corner=point.corner.name, reading=self.told_reading())

    def deciding_state(self, point: Point, values: Floats, of: str = "") -> dict[str, str]:
        """The variables of a point's state that change the value when they alone are changed; where groups are looked at
        side by side, only those in the group of the part that the value is ``of`` are looked at."""
        near = self.operating.plan.near.get(of.partition(".")[0].lower())
        at = self.operating.points.index(point)
        scale = max(abs(float(values[at])), 1e-12)
        deciding = {}
        for number, other in enumerate(self.operating.points):
            if other.corner is point.corner and other.phase == point.phase:
                different = [name for name, option in point.state.items()
                             if other.state.get(name) != option and (near is None or name in near)]
                if len(different) == 1 and abs(float(values[number] - values[at])) > 0.02 * scale:
                    deciding[different[0]] = point.state[different[0]]
        return {name: option for name, option in point.state.items() if name in deciding}

    def told_reading(self) -> dict[str, str]:
        """For each part that can be read in several ways: its pins in the order of its holes."""
        reading = self.circuit.reading
        told = {}
        for key, seat in reading.seats.items():
            if seat.because or key in reading.differs:
                place = getattr(self.bench.parts[key].statement, "place", None)
                points = getattr(place, "points", None)
                told[self.name(key)] = seat.pins_in_hole_order(points) if points else " ".join(seat.legs)
        return told

    # ── graph ─────────────────────────────────────────────────────────────────────────────────────────────────────

    def net(self, key: str, pin: str) -> int:
        return self.circuit.pin_net[key, pin]

    def pins_on(self, net: int) -> tuple[tuple[str, str], ...]:
        return self.circuit.pins_on[net]

    def past_resistors(self, nets: Iterable[int]) -> set[int]:
        """The nets at the other ends of the resistors that are on some nets."""
        return {self.net(key, end) for net in nets for key, pin in self.pins_on(net)
                if isinstance(self.bench.parts[key].entry, Resistor) for end in ("1", "2") if end != pin}

    @cached_property
    def stiff(self) -> set[int]:
        """Nets that a source holds: what one load does there does not change what another one sees."""
        return stiff_nets(self.circuit)

    @cached_property
    def sourced(self) -> set[int]:
        """Nets that a supply, a controller, a regulator or a chip's own supply holds in every state."""
        nets: set[int] = set()
        for key, part in self.parts():
            if part.is_supply:
                pins = part.pins
            elif part.is_controller:
                pins = ("5V", "3V3", "GND")
            elif isinstance(part.entry, Chip):
                pins = tuple(pin for pin in (part.entry.supply, part.entry.ground) if pin)
            else:
                pins = ("OUT",) if isinstance(part.entry, Regulator) else ()
            nets.update(self.net(key, pin) for pin in pins)
        return nets

    @cached_property
    def current_graph(self) -> nx.MultiGraph[int]:
        """Nets joined by every part that can carry current between two of its pins; see ``paths_of``."""
        graph: nx.MultiGraph[int] = nx.MultiGraph()
        graph.add_nodes_from(self.circuit.members)
        for key, part in self.parts():
            for one, other in paths_of(part):
                joined_inside = part.is_controller and one == "GND"
                if (joined_inside or (key, one) in self.circuit.touched) and (key, other) in self.circuit.touched:
                    graph.add_edge(self.net(key, one), self.net(key, other), part=key, pins=(one, other))
        return graph

    @cached_property
    def loop_graph(self) -> nx.MultiGraph[int]:
        """``current_graph`` without capacitors, which carry no steady current, and without parts that a strip bridges."""
        graph = self.current_graph.copy()
        blocked = [(u, v, k) for u, v, k, data in graph.edges(keys=True, data=True)
                   if isinstance(self.bench.parts[data["part"]].entry, Capacitor) or u == v]
        graph.remove_edges_from(blocked)
        return graph

    @cached_property
    def bridges(self) -> set[tuple[str, tuple[str, str]]]:
        """The (part, pins) that lie on no loop: they can carry no steady current."""
        return {(data["part"], data["pins"]) for u, v, data in self.loop_graph.edges(data=True)
                if (min(u, v), max(u, v)) in self._bridge_pairs}

    def is_fed(self, key: str) -> bool:
        """True where a part lies on a loop with a source: some block (a piece of the graph without a cut vertex) that its
        pins are in holds a source's path too."""
        nets = {self.net(key, pin) for pin in self.bench.parts[key].pins if (key, pin) in self.circuit.touched}
        return any(len(nets & block) > 1 for block in self._fed_blocks)

    @cached_property
    def _fed_blocks(self) -> list[set[int]]:
        simple: nx.Graph[int] = nx.Graph()
        sources = set()
        for u, v, data in self.loop_graph.edges(data=True):
            simple.add_edge(u, v)
            part = self.bench.parts[data["part"]]
            if part.is_supply or part.is_controller or isinstance(part.entry, Chip | Regulator):
                sources.add((min(u, v), max(u, v)))
        blocks = []
        for edges in nx.biconnected_component_edges(simple):
            pairs = {(min(u, v), max(u, v)) for u, v in edges}
            if pairs & sources:
                blocks.append({net for pair in pairs for net in pair})
        return blocks

    @cached_property
    def _bridge_pairs(self) -> set[tuple[int, int]]:
        simple: nx.Graph[int] = nx.Graph()
        simple.add_edges_from((one, other) for one, other, _ in self.loop_graph.edges(data=True))
        pairs: set[tuple[int, int]] = set()
        for edge in nx.bridges(simple):
            low, high = min(edge), max(edge)  # type: ignore[call-overload]
            if self.loop_graph.number_of_edges(low, high) == 1:
                pairs.add((low, high))
        return pairs
