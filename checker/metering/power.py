"""First power, in stages: for each supply the current to expect at rest and with each load, the limit to set, what to watch.

Input: the solved list and its states. Output: one ``Stage`` a supply, and what to watch everywhere.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import numpy as np
from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.metering.fed import idle_spread, reached, warm_parts
from checker.metering.model import Draw, Stage
from checker.metering.protecting import unprotected, weak_parts
from checker.metering.states import AT_REST, Stand, rest_in_words
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
from parts_library.schema import Controller, SupplyKind

LIMITS = (0.02, 0.03, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0, 5.0)
"""Settings of a bench supply's current limit, amps. Twenty to a hundred milliamps for first power is what teaching labs ask
for (common practice, no source)."""

OVER_REST, OVER_START, LEAST_OVER = 1.5, 1.2, 0.005
"""Room above the computed current: half as much again at rest, a fifth above the start of the loads, and 5 mA."""

TIGHT = 1.05
"""The least room above the computed current, where more of it would no longer protect a part on this supply."""

USB_VOLTS = 5.0

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
    nets = reached(currents.circuit, key, "+")
    draws = _spread(_draws(currents, -currents.into(key, "+")), *idle_spread(currents.circuit, nets, supply_volts(entry)[1]))
    most = min((float(limit) for limit in (part.limit, entry.limit, entry.rated) if limit), default=LIMITS[-1])
    weak = weak_parts(currents.circuit, part)
    weakest = min((amps for amps, _ in weak), default=LIMITS[-1])
    resting = {stand.say for stand in currents.standing if stand.rest}
    rest = _setting(max((draw.high for draw in draws if draw.state in resting), default=0.0), OVER_REST, most, weakest)
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
    nets = reached(currents.circuit, key, "5V") | reached(currents.circuit, key, "3V3")
    draws = () if fed_elsewhere(currents.circuit, key) else _spread(_draws(currents, amps),
                                                                   *idle_spread(currents.circuit, nets, USB_VOLTS, key))
    rest = draws[0].high if draws else 0.0
    others = [one.name for one in currents.circuit.bench.parts.values() if one.is_supply]
    off = f", the leads of {listed(others)} still off the board" if others else ""
    steps = [f"Plug {part.name}'s USB in{off}: its light comes on as always. Where it stays dark or goes dim, or the computer "
             "complains about the port: pull the plug at once"]
    if draws:
        steps.append("A meter for USB shows " + "; ".join(
            [_current(draws[0]), *(f"{draw.state}: {_current(draw)}" for draw in draws[1:])])
                     + f"; {_idle_words(draws[0])}")
    return Stage(supply=f"{part.name} on USB", say=USB_LIMIT_SAY, volts=5.0, limit=None, limit_loaded=None, draws=draws,
                 steps=tuple(steps), off_at_once=max(2 * rest, 0.1))


def _draws(currents: _Currents, amps: Floats) -> tuple[Draw, ...]:
    """Amps in each state: nominal, over the corners with motors running, and at most for a moment."""
    running = np.array([not corner.stalled for corner in currents.corners])
    return _few([Draw(stand.say, float(row[0]), float(np.nanmin(row[running])), float(np.nanmax(row[running])),
                      float(np.nanmax(row))) for stand, row in zip(currents.standing, amps, strict=True)
                 if not np.isnan(row[0])])


def _spread(draws: Sequence[Draw], less: float, more: float, names: Sequence[str]) -> tuple[Draw, ...]:
    """The draws with what differs from chip to chip and from board to board."""
    return tuple(structs.replace(draw, low=max(draw.low - less, 0.0), high=draw.high + more, start=draw.start + more,
                                 idle=tuple(names)) for draw in draws)


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
    if not _limits_itself(part):
        first = f"if you can, start on a {first}: {part.name} itself limits nothing"
    bare = unprotected([one for one in weak if one[0] < max(rest, loaded)])
    return f"{first}. {bare}" if bare else first


def _steps(currents: _Currents, part: BenchPart, spread: tuple[float, float, float], off: float, draws: Sequence[Draw]
           ) -> Iterator[str]:
    low, volts, high = (show_volts(value) for value in spread)
    yield (f"{part.name} alone, its leads off the board: DC volts, red on +: {volts} ({low.removesuffix(' V')} to {high}). "
           "A minus sign: the leads are exchanged")
    if not draws:
        return
    state = rest_in_words(currents.circuit, currents.operating.plan.variables, currents.resting)
    resting = {stand.say for stand in currents.standing if stand.rest}
    held = "" if draws[0].state != AT_REST else " with everything at rest"
    yield f"Connect it{held}{f' ({state})' if state else ''}: {_at_first(draws, resting)}. {_off_at_once(part, off)}"
    for draw in draws:
        if draw.state not in resting:
            start = f", for a moment up to {show_quantity(draw.start, 'A')}" if draw.start > 1.5 * draw.amps else ""
            yield f"Then {draw.state}: {_current(draw)}{start}"
    if any(draw.idle for draw in draws):
        words = _idle_words(draws[0])
        yield f"{words[:1].upper()}{words[1:]}"
    warm = warm_parts(currents.operating, reached(currents.circuit, part.name.lower(), "+"))
    if warm:
        yield f"Gets warm by itself: {warm}"


def _at_first(draws: Sequence[Draw], resting: Collection[str]) -> str:
    """The current with nothing done: one, or two where something goes to and fro by itself."""
    found = [draw for draw in draws if draw.state in resting]
    if len(found) < 2:
        return _current(draws[0])
    return ", ".join(f"{_current(draw)} {draw.state}" for draw in found) + "; the number goes to and fro"


def _idle_words(draw: Draw) -> str:
    """``what U1 draws for itself differs from one to the next``."""
    draws = "draws for itself" if len(draw.idle) == 1 else "draw for themselves"
    return f"what {listed(draw.idle)} {draws} differs from one to the next"


def _off_at_once(part: BenchPart, amps: float) -> str:
    """When to pull the supply: what limits its current by itself never shows more than its limit."""
    shown = show_quantity(amps, "A")
    if _limits_itself(part):
        return "Off at once when its limit lamp comes on or its volts fall"
    return f"Off at once above {shown}; on a bench supply when its limit lamp comes on or its volts fall"


def _limits_itself(part: BenchPart) -> bool:
    """True for a supply of which the list says, or its kind has, a limit that can be set."""
    assert isinstance(part.entry, SupplyKind)
    return part.limit is not None or part.entry.limit_by == "electronics" or "bench" in part.entry.name


def _current(draw: Draw) -> str:
    """``about 98 mA (93 to 103 mA)``; ``under 1 mA``."""
    if draw.high < 1e-3:
        return "under 1 mA"
    if draw.low < 0.2 * draw.high and draw.amps < 1e-3:
        return f"up to {show_quantity(round(draw.high, 4), 'A')}"
    if draw.high < 1.1 * draw.low:
        return band_in_words(draw.amps, draw.low, draw.high, "A").split(" (")[0]
    return band_in_words(draw.amps, draw.low, draw.high, "A")
