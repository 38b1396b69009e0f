"""Ratings that are records of several numbers: gains, forward voltages, groups of inputs and outputs, limits of pins.

Input: an entry. Output: ``Rating`` rows. The equivalent circuits of chips are the checker's model and no ratings.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from checker.cards.rating import Rating, rating
from grammar.quantities import show_quantity
from parts_library import schema
from parts_library.schema import (
    Bipolar,
    Chip,
    Diode,
    Entry,
    Forward,
    Input,
    Jfet,
    Led,
    Mosfet,
    Output,
    PinLimit,
    Thyristor,
    UnitFloat,
)

_LEAST_RUN = 3


def records_of(entry: Entry) -> Iterator[Rating]:
    """The rows of an entry's records."""
    reader: Callable[[Any], Iterator[Rating]] | None = _READERS.get(type(entry))
    if reader is not None:
        yield from reader(entry)


def _shown(value: UnitFloat) -> str:
    return show_quantity(float(value), value.unit)


def _bipolar(entry: Bipolar) -> Iterator[Rating]:
    for gain in entry.gain:
        if (gain.min, gain.typ, gain.max) != (None, None, None):
            yield rating(f"current gain at {_shown(gain.ic)}", limit=False, least=gain.min, usual=gain.typ, most=gain.max)
    for on in entry.saturation:
        at = f"at {_shown(on.ic)} with {_shown(on.ib)} into the base"
        if on.vce is not None or on.vce_max is not None:
            yield rating(f"collector to emitter when fully on, {at}", limit=False, usual=on.vce, most=on.vce_max)
        if on.vbe_max is not None:
            yield rating(f"base to emitter when fully on, {at}", limit=False, most=on.vbe_max)
    if entry.vbe_on is not None:
        yield _forward("base to emitter", entry.vbe_on)
    if entry.reverse_gain is not None:
        spread = entry.reverse_gain
        yield rating("current gain with collector and emitter exchanged", limit=False, least=spread.min, usual=spread.typ,
                     most=spread.max)


def _mosfet(entry: Mosfet) -> Iterator[Rating]:
    spread = entry.threshold
    yield rating("gate voltage at which it begins to conduct", limit=False, least=spread.min, usual=spread.typ, most=spread.max)
    for on in entry.on_resistance:
        yield rating(f"resistance when on, {_shown(on.vgs)} at the gate", limit=False, usual=on.ohms, most=on.ohms_max)
    if entry.body_diode is not None:
        yield _forward("voltage of its body diode", entry.body_diode)


def _jfet(entry: Jfet) -> Iterator[Rating]:
    off, full = entry.pinch_off, entry.idss
    yield rating("gate voltage that ends the current", limit=False, least=off.min, usual=off.typ, most=off.max)
    yield rating("current with gate and source joined", limit=False, least=full.min, usual=full.typ, most=full.max)


def _thyristor(entry: Thyristor) -> Iterator[Rating]:
    fires = entry.trigger
    yield rating("gate current that fires it", limit=False, least=fires.min, usual=fires.typ, most=fires.max)
    yield _forward("voltage while it conducts", entry.on_state)


def _conducting(entry: Diode | Led) -> Iterator[Rating]:
    for point in entry.forward:
        yield _forward("forward voltage", point)


def _forward(what: str, point: Forward) -> Rating:
    return rating(f"{what} at {_shown(point.amps)}", limit=False, usual=point.volts, most=point.volts_max)


def _chip(entry: Chip) -> Iterator[Rating]:
    for limit in entry.limits:
        yield _of_pins(limit)
    for group in entry.inputs:
        yield from _input(group)
    for outputs in entry.outputs:
        yield from _output(outputs)
    for amplifier in entry.amplifiers:
        yield rating(f"current out of {amplifier.output}", limit=False, most=amplifier.source)
        yield rating(f"current into {amplifier.output}", limit=False, most=amplifier.sink)


def _of_pins(limit: PinLimit) -> Rating:
    names = " to ".join(_numbered(name, limit.repeat) for name in limit.of)
    if limit.quantity == "voltage":
        return rating(f"voltage from {names}", limit=True, most=limit.volts)
    return rating(f"current into {names}", limit=True, most=limit.amps)


def _numbered(name: str, repeat: int) -> str:
    """The first and the last of the names that a repeated limit stands for."""
    if "{n}" not in name or repeat == 1:
        return name.replace("{n}", "1")
    return f"{name.replace('{n}', '1')}…{name.replace('{n}', str(repeat))}"


def pins_in_words(pins: tuple[str, ...]) -> str:
    """Pins by name, those that are numbered on from one another as the first and the last: "IN1…IN4, EN1, EN2"."""
    runs: list[list[str]] = []
    for pin in pins:
        if runs and _follows(runs[-1][-1], pin):
            runs[-1].append(pin)
        else:
            runs.append([pin])
    return ", ".join(f"{run[0]}…{run[-1]}" if len(run) >= _LEAST_RUN else ", ".join(run) for run in runs)


def _follows(one: str, other: str) -> bool:
    """Whether the second name is the first with the next number."""
    before, after = (re.fullmatch(r"(\D*)(\d+)(\D*)", name) for name in (one, other))
    return (before is not None and after is not None and int(after[2]) == int(before[2]) + 1
            and (before[1], before[3]) == (after[1], after[3]))


def _input(group: Input) -> Iterator[Rating]:
    named = pins_in_words(group.pins)
    for value, what in ((group.voltage_max, "voltage at {}"), (group.above_supply, "{} above the supply by"),
                        (group.below_ground, "{} below ground by"), (group.clamp_current, "current into {} past the supply")):
        if value is not None:
            yield rating(what.format(named), limit=True, most=value)
    for level, what in ((group.low_max, "{} read as low up to"), (group.high_min, "{} read as high from")):
        if level is not None:
            yield rating(what.format(named), limit=False, usual=level)
    for ohms, what in ((group.pull_up, "pull-up inside at {}"), (group.pull_down, "pull-down inside at {}"),
                       (group.ohms, "resistance from {} to ground")):
        if ohms is not None:
            yield rating(what.format(named), limit=False, usual=ohms)


def _output(group: Output) -> Iterator[Rating]:
    named = pins_in_words(group.pins)
    if group.voltage_max is not None:
        yield rating(f"voltage at {named}", limit=True, most=group.voltage_max)
    if group.current is not None:
        yield rating(f"current of {named}", limit=True, most=group.current)
    if group.usual_current is not None:
        yield rating(f"current of {named}, recommended", limit=False, most=group.usual_current)


_READERS: dict[type[Entry], Callable[[Any], Iterator[Rating]]] = {
    schema.Bipolar: _bipolar,
    schema.Mosfet: _mosfet,
    schema.Jfet: _jfet,
    schema.Thyristor: _thyristor,
    schema.Diode: _conducting,
    schema.Led: _conducting,
    schema.Chip: _chip,
}
