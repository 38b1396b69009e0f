"""First power, in stages: for each supply the current to expect at rest and with each load, the limit to set, what to watch.

Input: the solved list and its states. Output: one ``Stage`` a supply, and what to watch everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import networkx as nx
import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.metering.model import Draw, Stage
from checker.metering.states import Stand, rest_in_words
from checker.metering.words import band_in_words, show_volts
from checker.operating.corners import corners_for
from checker.operating.models import supply_volts
from checker.operating.operate import Operating
from checker.operating.points import Floats, Point, State
from checker.operating.solving import solve_at
from checker.operating.variables import fed_elsewhere
from checker.sentences.words import listed
from checker.tracing.following import settled_states
from grammar import show_quantity
from parts_library.schema import Bipolar, Chip, Controller, Led, LedGroup, Load, Mosfet, Relay, SupplyKind

LIMITS = (0.02, 0.03, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0, 5.0)
"""Settings of a bench supply's current limit, amps. Twenty to a hundred milliamps for first power is what teaching labs ask
for (common practice, no source)."""

OVER_REST, OVER_START, LEAST_OVER = 1.5, 1.2, 0.005
"""Room above the computed current: half as much again at rest, a fifth above the start of the loads, and 5 mA."""

TIGHT = 1.05
"""The least room above the computed current, where more of it would no longer protect a part on this supply."""

WARM_WATTS = 0.25
"""A small part with a quarter of a watt is warm to the finger (a TO-92 at 200 K/W: 50 K above the room)."""

USB_LIMIT_SAY = "a USB port has no dial: the first seconds decide"

WATCH = (
    "Ten seconds with hands off, eyes and nose on: smoke, a smell, a crackle, a part too hot for a finger, or a current over the "
    "limit: pull the supply first, look afterwards. Then one change at a time, the supply pulled before each.",
)


def stages(operating: Operating, standing: Sequence[Stand]) -> tuple[Stage, ...]:
    """One stage for each supply that is wired up: USB first, so that no pin is driven into a controller that sleeps. Where a
    supply feeds a controller too, it is looked at with the USB plug out."""
    circuit = operating.circuit
    found = [_usb(_Currents(operating, standing, {}), key, part) for key, part in circuit.bench.parts.items()
             if part.is_controller and _has_usb(circuit, key)]
    alone = {f"{part.name} USB" for part in circuit.bench.parts.values() if part.is_controller}
    resting = {v.name: "unplugged" for v in operating.plan.variables if v.name in alone}
    currents = _Currents(operating, standing, resting)
    found += [_stage(currents, key, part) for key, part in circuit.bench.parts.items()
              if part.is_supply and all((key, pin) in circuit.touched for pin in ("+", "-"))]
    return tuple(found)


class _Currents:
    """The circuit in each state and corner, solved with some things at rest in another option than usual."""

    def __init__(self, operating: Operating, standing: Sequence[Stand], resting: State) -> None:
        self.operating, self.circuit, self.resting = operating, operating.circuit, resting
        self.standing = [stand for stand in standing if all(stand.state.get(name) == standing[0].state.get(name)
                                                            for name in resting)]
        sources = sum(part.is_supply or part.is_controller for part in self.circuit.bench.parts.values())
        self.corners = corners_for(sources)
        states = settled_states([(self.circuit, {**stand.state, **resting}) for stand in self.standing])
        self.points = [Point(state, corner) for state in states for corner in self.corners]
        self.solved = solve_at([self.circuit], [self.points])[0] if self.points else None

    def into(self, key: str, pin: str) -> Floats:
        """Amps into a part at a pin, (states, corners); NaN where not solved."""
        if self.solved is None:
            return np.zeros((0, len(self.corners)))
        amps = self.solved.amps[:, list(self.circuit.pin_net).index((key, pin))]
        return np.where(self.solved.fine, amps, np.nan).reshape(-1, len(self.corners))


def _has_usb(circuit: Circuit, key: str) -> bool:
    power = circuit.bench.powers.get(key)
    return power is None or "usb" in power.ways


def _stage(currents: _Currents, key: str, part: BenchPart) -> Stage:
    entry = part.entry
    assert isinstance(entry, SupplyKind)
    draws = _draws(currents, -currents.into(key, "+"))
    most = min((float(limit) for limit in (part.limit, entry.limit, entry.rated) if limit), default=LIMITS[-1])
    weak = _weak(currents.circuit, part)
    weakest = min((amps for amps, _ in weak), default=LIMITS[-1])
    rest = _setting(draws[0].high if draws else 0.0, OVER_REST, most, weakest)
    loaded = max(rest, _setting(max((draw.start for draw in draws), default=0.0), OVER_START, most, weakest))
    low, volts, high = supply_volts(entry)
    return Stage(supply=part.name, say=_say(part, volts, rest, loaded, weak), volts=volts, limit=rest,
                 limit_loaded=loaded, draws=draws, off_at_once=rest,
                 steps=tuple(_steps(currents, part, (low, volts, high), rest, draws)))


def _usb(currents: _Currents, key: str, part: BenchPart) -> Stage:
    """A controller board on USB: its own current and what leaves through its pins."""
    assert isinstance(part.entry, Controller)
    amps = float(part.entry.own_current) + np.abs(currents.into(key, "GND"))
    # what comes in at VIN goes out at GND too: then USB may give anything between nothing and all
    draws = () if fed_elsewhere(currents.circuit, key) else _draws(currents, amps)
    rest = draws[0].high if draws else 0.0
    others = [one.name for one in currents.circuit.bench.parts.values() if one.is_supply]
    off = f", the leads of {listed(others)} still off the board" if others else ""
    steps = [f"Plug {part.name}'s USB in{off}: its light comes on as always. Where it stays dark or goes dim, or the computer "
             "complains about the port: pull the plug at once"]
    if draws:
        steps.append("A meter for USB shows " + "; ".join(
            [_current(draws[0]), *(f"{draw.state}: {_current(draw)}" for draw in draws[1:])]))
    return Stage(supply=f"{part.name} on USB", say=USB_LIMIT_SAY, volts=5.0, limit=None, limit_loaded=None, draws=draws,
                 steps=tuple(steps), off_at_once=max(2 * rest, 0.1))


def _draws(currents: _Currents, amps: Floats) -> tuple[Draw, ...]:
    """Amps in each state: nominal, over the corners with motors running, and at most for a moment."""
    running = np.array([not corner.stalled for corner in currents.corners])
    return _few([Draw(stand.say, float(row[0]), float(np.nanmin(row[running])), float(np.nanmax(row[running])),
                      float(np.nanmax(row))) for stand, row in zip(currents.standing, amps, strict=True)
                 if not np.isnan(row[0])])


def _few(draws: Sequence[Draw]) -> tuple[Draw, ...]:
    """The state at rest, and those that draw clearly otherwise; of states alike the first."""
    kept: list[Draw] = []
    for draw in draws:
        if not any(abs(draw.amps - other.amps) <= max(0.1 * abs(other.amps), 0.002) for other in kept):
            kept.append(draw)
    return tuple(kept[:1] + sorted(kept[1:], key=lambda draw: draw.amps)[-MOST_DRAWS:])


MOST_DRAWS = 4


def _setting(amps: float, room: float, most: float, weakest: float) -> float:
    """The lowest setting with ``room`` above ``amps``, and never above what the supply may give; a tighter one where that
    protects the weakest part too."""
    wanted = next((limit for limit in LIMITS if limit >= amps * room + LEAST_OVER), LIMITS[-1])
    if wanted > weakest:
        wanted = max((limit for limit in LIMITS if amps * TIGHT <= limit <= weakest), default=wanted)
    return min(wanted, most)


def _say(part: BenchPart, volts: float, rest: float, loaded: float, weak: Sequence[tuple[float, str]]) -> str:
    entry = part.entry
    assert isinstance(entry, SupplyKind)
    shown = show_quantity(rest, "A")
    first = f"bench supply at {show_volts(volts)}, limit {shown}"
    if loaded > rest:
        first += f"; once the loads may run, {show_quantity(loaded, 'A')}"
    if part.limit is None and entry.limit_by != "electronics" and "bench" not in entry.name:
        first = f"if you can, start on a {first}: {part.name} itself limits nothing"
    bare = _unprotected([one for one in weak if one[0] < max(rest, loaded)])
    return f"{first}. {bare}" if bare else first


def _weak(circuit: Circuit, supply: BenchPart) -> list[tuple[float, str]]:
    """The parts on this supply that too much current kills, each with the most that it can take."""
    return [(amps, part.name) for key, part in circuit.bench.parts.items()
            if (amps := _most_amps(part)) is not None and _shares_net(circuit, key, supply.name.lower())]


def _unprotected(weak: Sequence[tuple[float, str]]) -> str:
    """The parts that die below the limit: it does not protect them."""
    if not weak:
        return ""
    names = [name for _, name in sorted(weak)]
    if len(names) > MOST_NAMES:
        names = [*names[:MOST_NAMES - 1], f"{len(names) - MOST_NAMES + 1} more"]
    return f"It does not protect {listed(names)}, which can take {show_quantity(min(weak)[0], 'A')}"


MOST_NAMES = 3


def _shares_net(circuit: Circuit, key: str, supply: str) -> bool:
    """True where a way leads from the supply's plus to the part, through parts but through no relay, controller or other
    supply."""
    closed = [other for other, part in circuit.bench.parts.items()
              if part.is_controller or isinstance(part.entry, Relay | Chip) or (part.is_supply and other != supply)]
    grounds = {circuit.pin_net[other, pin] for other, part in circuit.bench.parts.items() for pin in ("-", "GND")
               if (part.is_supply or part.is_controller) and (other, pin) in circuit.pin_net}
    graph = circuit.graph.subgraph(node for node in circuit.graph if node[1] not in closed and
                                   not (node[0] == "net" and node[1] in grounds))
    ends = ("part", key), ("part", supply)
    return all(end in graph for end in ends) and bool(nx.has_path(graph, *ends))


def _most_amps(part: BenchPart) -> float | None:
    entry = part.entry
    if isinstance(entry, Led):
        return float(entry.current)
    if isinstance(entry, Bipolar):
        return float(entry.ic)
    if isinstance(entry, Mosfet):
        return float(entry.id)
    return None


def _steps(currents: _Currents, part: BenchPart, spread: tuple[float, float, float], off: float, draws: Sequence[Draw]
           ) -> Iterator[str]:
    low, volts, high = (show_volts(value) for value in spread)
    yield (f"{part.name} alone, its leads off the board: DC volts, red on +: {volts} ({low.removesuffix(' V')} to {high}). "
           "A minus sign: the leads are exchanged")
    if not draws:
        return
    state = rest_in_words(currents.circuit, currents.operating.plan.variables, currents.resting)
    yield (f"Connect it with everything at rest{f' ({state})' if state else ''}: "
           f"{_current(draws[0])}. Off at once above {show_quantity(off, 'A')}")
    for draw in draws[1:]:
        start = f", for a moment up to {show_quantity(draw.start, 'A')}" if draw.start > 1.5 * draw.amps else ""
        yield f"Then {draw.state}: {_current(draw)}{start}"
    warm = _warm(currents.operating)
    if warm:
        yield f"Gets warm by itself: {warm}"


def _current(draw: Draw) -> str:
    """``about 98 mA (93 to 103 mA)``; ``under 1 mA``."""
    if draw.high < 1e-3:
        return "under 1 mA"
    if draw.high < 1.1 * draw.low:
        return band_in_words(draw.amps, draw.low, draw.high, "A").split(" (")[0]
    return band_in_words(draw.amps, draw.low, draw.high, "A")


def _warm(operating: Operating) -> str:
    """The parts that turn the most power into heat, loads left aside."""
    mask = operating.mask("nominal") & operating.converged
    found = []
    for key, part in operating.circuit.bench.parts.items():
        if part.entry is None or part.is_supply or part.is_controller or isinstance(part.entry, Load | LedGroup):
            continue
        watts = sum((operating.amps_into(key, pin) * operating.volts_at(key, pin) for pin in part.pins), np.zeros(len(mask)))
        found.append((float(watts[mask].max(initial=0.0)), part.name))
    warm = [f"{name} ({show_quantity(watts, 'W')})" for watts, name in sorted(found, reverse=True) if watts > WARM_WATTS]
    return listed(warm[:3])
