"""Driver arrays and optocouplers that a pin drives in vain: the part of ``never-switches`` for switches inside a chip."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.loads import rated_amps
from parts_library.schema import Chip, Controller, Relay

STILL_ON = 0.5
"""A load that keeps more than half of its largest current in every state is not switched."""

LEAST_AMPS = 5e-4
"""Amps from which a light or a load runs."""


def driven_in_vain(case: Case) -> Iterator[Found]:
    """Loads that run in every state on the outputs of a chip that a pin of the program drives, where that pin switches none."""
    told: set[str] = set()
    for (key, pin), (roles, span) in case.bench.roles.items():
        entry = case.bench.parts[key].entry
        if not isinstance(entry, Controller) or not set(roles) & {"output", "pwm"} or (key, pin) not in case.circuit.touched:
            continue
        for chip in _chips_behind(case, key, pin):
            load = _always_on(case, chip)
            if load is not None and load not in told and (
                    isinstance(case.bench.parts[load].entry, Relay) or not _switches_any(case, case.pin_name(key, pin))):
                told.add(load)
                yield Found(rule="never-switches", severity="fault", span=span, case="array",
                            parts=(case.name(chip), case.name(load)), points=(case.pin_name(key, pin),), needs_whole_list=True,
                            facts={"load": case.name(load), "clamp": _clamp_below(case, chip, load)}, weight=1.0)


def _chips_behind(case: Case, key: str, pin: str) -> list[str]:
    """The driver arrays and optocouplers with an input that a pin reaches through at most one resistor."""
    net = case.net(key, pin)
    nets = {net, *case.past_resistors([net])}
    found = []
    for other, its in ((o, p) for net in sorted(nets - case.stiff) for o, p in case.pins_on(net)):
        entry = case.bench.parts[other].entry
        if isinstance(entry, Chip) and other not in found and its in _controls(entry):
            found.append(other)
    return found


def _controls(entry: Chip) -> tuple[str, ...]:
    if entry.type == "opto":
        return "A", "K"
    return tuple(pin for group in entry.inputs for pin in group.pins) if entry.type == "driver" else ()


def _always_on(case: Case, chip: str) -> str | None:
    """A load on a net of the chip's own that runs in every nominal state."""
    own = {case.net(chip, pin) for pin in case.bench.parts[chip].pins} - case.stiff
    mask = case.mask("nominal")
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        pins = part.load_pins[:2]
        if own & {case.net(key, pin) for pin in pins}:
            amps = np.abs(case.amps(key, pins[0]))[mask]
            most, least = float(amps.max(initial=0.0)), float(amps.min(initial=np.inf))
            rated = rated_amps(part)
            if isinstance(part.entry, Relay):
                # a coil holds with far less than it needs to pull in
                if most > part.entry.must_operate * rated and least > part.entry.must_release * rated > 0.0:
                    return key
            elif most > max(LEAST_AMPS, STILL_ON * rated) and least > STILL_ON * most:
                return key
    return None


def _switches_any(case: Case, name: str) -> bool:
    """True where some load's current differs by more than half between two nominal states that differ in one pin."""
    numbers = np.flatnonzero(case.mask("nominal"))
    rests = [tuple((k, v) for k, v in sorted(case.operating.points[number].state.items()) if k != name) for number in numbers]
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        for pin in part.load_pins:
            amps = np.abs(case.amps(key, pin))
            most = float(amps[numbers].max(initial=0.0))
            first: dict[tuple[tuple[str, str], ...], float] = {}
            for number, rest in zip(numbers, rests, strict=True):
                if most > LEAST_AMPS and abs(first.setdefault(rest, float(amps[number])) - float(amps[number])) > STILL_ON * most:
                    return True
    return False


def _clamp_below(case: Case, chip: str, load: str) -> str:
    """The name of a chip's clamp pin that lies well below the load's upper end, or ""."""
    if "COM" not in case.bench.parts[chip].pins or (chip, "COM") not in case.circuit.touched:
        return ""
    mask = case.mask("nominal")
    top = max(float(case.operating.volts_at(load, pin)[mask].max()) for pin in case.bench.parts[load].load_pins)
    return case.pin_name(chip, "COM") if float(case.operating.volts_at(chip, "COM")[mask].max()) < top - 1.0 else ""
