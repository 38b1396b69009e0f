"""A reset, enable or inhibit that lies at the level that stops its chip, in every state."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.consistent import at_supply
from checker.operating.stopped import is_true, pull_of
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.held import is_held
from parts_library.logic import pins_of
from parts_library.schema import Chip, Controller, Stop

ALIVE = 1.5
"""Volts between supply and ground from which a chip's inputs mean anything: below, no logic works."""

MOVES = 0.5
"""Volts by which an input has to move to count as told something."""

HELD_RESET = 0.2
"""Share of its logic supply below which a controller's RESET holds it: VRST is 0.2 to 0.9 of VCC (ATmega328P, 8271, Atmel,
Rev. H, system and reset characteristics)."""

FARTHEST = 4
"""Parts between a stopped output and what depends on it: a resistor, a transistor, its load, a lamp behind it."""


def find(case: Case) -> Iterator[Found]:
    """Chips in use of which an output is held in every nominal state; controller boards that are held in reset."""
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        if entry.stops and entry.supply and entry.ground and case.is_used(key):
            yield from _stopped(case, key, part, entry)
    for key, part in case.parts(Controller):
        yield from _in_reset(case, key, part)


def _stopped(case: Case, key: str, part: BenchPart, entry: Chip) -> Iterator[Found]:
    constant = _constant_levels(case, key, entry)
    told: set[str] = set()
    for stop in entry.stops:
        levels = _at_rest(case, key, stop, constant)
        known = all(pin in levels for pin in pins_of(stop.when))
        outputs = [pin for pin in stop.outputs if _is_used(case, key, pin)]
        if not known or not outputs or stop.when in told or not is_true(stop.when, levels):
            continue
        if stop.level == "high" and not _is_told_something(case, key, entry, stop):
            continue
        told.add(stop.when)
        yield _found(case, key, part, stop, outputs, {pin: levels[pin] for pin in _guilty(entry, stop, levels)})


def _at_rest(case: Case, key: str, stop: Stop, levels: Mapping[str, bool]) -> Mapping[str, bool]:
    """The constant levels, and for what stops the outputs where they are: those of inputs that only follow these outputs. Once
    the outputs rest, so do they: if there is a level at which all rests, it comes to that."""
    own = {case.net(key, pin) for pin in stop.outputs}
    following = [pin for pin in pins_of(stop.when) if pin not in levels and case.net(key, pin) in own]
    if stop.level == "still":
        for assumed in product((False, True), repeat=len(following)):
            tried = {**levels, **dict(zip(following, assumed))}
            if all(pin in tried for pin in pins_of(stop.when)) and is_true(stop.when, tried):
                return tried
    return levels


def _found(case: Case, key: str, part: BenchPart, stop: Stop, outputs: list[str], guilty: Mapping[str, bool]) -> Found:
    sides = {side: " ".join(case.pin_name(key, pin) for pin, level in guilty.items() if level is (side == "high"))
             for side in ("high", "low")}
    return Found(rule="chip-stopped", severity="fault", span=part.span, case="pin", parts=(part.name,),
                 points=tuple(case.pin_name(key, pin) for pin in guilty), needs_whole_list=True, weight=4.0,
                 facts={**sides, "level": stop.level, "outputs": " ".join(outputs),
                        "behind": " ".join(_behind(case, key, outputs))})


def _constant_levels(case: Case, key: str, entry: Chip) -> dict[str, bool]:
    """The level of every ruling input that is the same in all nominal states: held from outside, or by a pull inside."""
    assert entry.supply is not None and entry.ground is not None
    mask = case.mask("nominal")
    supply = case.volts(key, entry.supply, entry.ground)
    if not mask.any() or float(supply[mask].min()) < ALIVE:
        return {}
    points = [point for point, used in zip(case.operating.points, mask, strict=True) if used]
    found: dict[str, bool] = {}
    stiff = case.stiff
    for pin in dict.fromkeys(pin for stop in entry.stops for pin in pins_of(stop.when)):
        pulled, net = pull_of(entry, pin), case.net(key, pin)
        if net in case.circuit.uncertain or (case.circuit.is_alone(net) and pulled is None):
            continue
        if net not in stiff and any(group.analog and pin in group.pins for group in entry.inputs):
            # what a capacitor moves up and down stands at its end here
            continue
        if case.circuit.is_alone(net):
            found[pin] = bool(pulled)
        elif pulled is not None or all(is_held(case, key, pin, point) for point in points):
            group = next((group for group in entry.inputs if pin in group.pins and group.low_max and group.high_min), None)
            volts = case.volts(key, pin, entry.ground)
            low, high = (at_supply(group.low_max, supply), at_supply(group.high_min, supply)) \
                if group is not None and group.low_max and group.high_min else (0.3 * supply, 0.7 * supply)
            if bool((volts <= low)[mask].all()) or bool((volts >= high)[mask].all()):
                found[pin] = bool((volts >= high)[mask].all())
    return found


def _is_used(case: Case, key: str, pin: str) -> bool:
    net = case.net(key, pin)
    return (key, pin) in case.circuit.touched and not case.circuit.is_alone(net) and net not in case.stiff


def _is_told_something(case: Case, key: str, entry: Chip, stop: Stop) -> bool:
    """True where an input that does not rule over the others moves: a lamp test may be held where all else is constant too."""
    mask = case.mask("nominal")
    others = [pin for group in entry.inputs for pin in group.pins if pin not in pins_of(stop.when)]
    return any(float(np.ptp(case.operating.volts_at(key, pin)[mask])) > MOVES for pin in others
               if (key, pin) in case.circuit.touched)


def _guilty(entry: Chip, stop: Stop, levels: Mapping[str, bool]) -> list[str]:
    """The inputs of which each alone, at its other level, would let the outputs go; all where none would."""
    def frees(pin: str) -> bool:
        turned = {**levels, pin: not levels[pin]}
        return not any(is_true(other.when, turned) for other in entry.stops
                       if set(other.outputs) & set(stop.outputs) and all(name in turned for name in pins_of(other.when)))

    pins = list(pins_of(stop.when))
    return [pin for pin in pins if frees(pin)] or pins


def _behind(case: Case, key: str, outputs: list[str]) -> list[str]:
    """The names of the parts that hang on the outputs, without passing a source."""
    stiff = case.stiff
    names, border, seen = {key}, {case.net(key, pin) for pin in outputs} - stiff, set[int]()
    for _ in range(FARTHEST):
        seen |= border
        keys = {other for net in border for other, _ in case.pins_on(net)} - names
        names |= keys
        border = {case.net(other, pin) for other in keys if len(case.bench.parts[other].pins) <= 4
                  for pin in case.bench.parts[other].pins} - stiff - seen
    return sorted(case.name(other) for other in names - {key})


def _in_reset(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    entry = part.entry
    assert isinstance(entry, Controller)
    mask = case.mask("nominal")
    if "RESET" not in part.pins or (key, "RESET") not in case.circuit.touched or not mask.any() \
            or case.net(key, "RESET") in case.circuit.uncertain:
        return
    worst = case.worst(case.volts(key, "RESET", "GND"), mask)
    if worst is not None and worst[0] < HELD_RESET * float(entry.logic):
        name = case.pin_name(key, "RESET")
        yield Found(rule="chip-stopped", severity="fault", span=part.span, case="pin", parts=(part.name,), points=(name,),
                    facts={"low": name, "high": "", "level": "open", "outputs": "", "behind": ""}, needs_whole_list=True,
                    weight=4.0)


EXPLANATION = """
# What it means
Many chips have an input that rules over all others: reset, clear, enable, inhibit, blanking. At one level the chip
works, at the other it stands still or switches its outputs off. Here that input is tied to the wrong rail.

# Why it matters
Nothing burns, and nothing works either. A timer of 0.5 s whose RESET is at 0 V keeps OUT at 0 V for ever, so the LED
at OUT gets 0 mA of its 10 mA, whatever the capacitor does. Which level lets a chip work is in its function table: RESET
of a 555 wants plus, RST and INH of a CD4017 want minus.

# A list that has it
title "Tide tank: the blinker"
supply PACK 5V
part U1 NE555
part RA 10k
part RB 33k
part C1 10uF
part R1 220
part LED1 led red
wire PACK.+ to U1.VCC to RA.1
wire PACK.- to U1.GND to C1.- to LED1.K
wire PACK.- to U1.RESET
wire RA.2 to U1.DISCH to RB.1
wire RB.2 to U1.THRES to U1.TRIG to C1.+
wire U1.OUT to R1.1
wire R1.2 to LED1.A

# The same list mended
title "Tide tank: the blinker"
supply PACK 5V
part U1 NE555
part RA 10k
part RB 33k
part C1 10uF
part R1 220
part LED1 led red
wire PACK.+ to U1.VCC to RA.1
wire PACK.- to U1.GND to C1.- to LED1.K
wire PACK.+ to U1.RESET
wire RA.2 to U1.DISCH to RB.1
wire RB.2 to U1.THRES to U1.TRIG to C1.+
wire U1.OUT to R1.1
wire R1.2 to LED1.A

# How to check with a meter
Power on, black tip at the chip's minus leg, red tip at the leg of the reset or enable itself. It reads the full supply
or 0 V: hold that against the chip's function table. A leg that reads anything between is tied to nothing.

# Source
Function tables of the data sheets, such as NE555 (RESET low: OUT low) and CD4017B (INH high: no count), from memory.
"""

RULE = Rule("chip-stopped", "function", EXPLANATION, find)
