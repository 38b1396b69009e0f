"""Loads that stand at too few volts, whatever keeps the rest: the part of ``weak-drive`` that asks no transistor."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.models import relay_ohms
from checker.operating.points import Floats
from checker.rules.base import Found
from checker.rules.case import Case
from checker.rules.loads import gets_nothing, is_behind_capacitor
from checker.rules.supply_sags import LEAST_OUT, SAGGED
from parts_library.schema import Chip, Controller, Load, Regulator, Relay, Stepper, SupplyKind

LEAST_VOLTS = 0.5
"""Share of its rated voltage below which a motor, solenoid, lamp or buzzer without a stated least voltage does not work: small
brushed motors start at about a third to a half of it under load, and have no strength to spare there (common practice, no
source)."""

ALIKE = 0.98
"""What misses a bound by less than this share is told by no rule: a drop in a wire or a contact."""


def starved_by_volts(case: Case, told: set[str]) -> Iterator[Found]:
    """Loads with a rated voltage that gets too low in their best nominal state, but for those ``told`` already and those whose
    source is overloaded, which says more."""
    for key, part in case.parts(Load, Relay, Stepper):
        if key in told or not case.is_used(key) or is_behind_capacitor(case, key) or gets_nothing(case, key, part):
            continue
        bound = _rated_and_least(part)
        if bound is None:
            continue
        rated, least = bound
        best = case.worst(_across(case, key, part), case.mask("nominal"))
        if best is None or best[0] >= least * ALIKE or _is_overloaded(case, key, case.operating.points.index(best[1])):
            continue
        yield Found(rule="weak-drive", severity="fault", span=part.span,
                    case="relay" if isinstance(part.entry, Relay) else "volts", parts=(part.name,),
                    points=tuple(case.where(key, pin) for pin in part.load_pins[:2]),
                    evidence=(case.evidence("voltage", part.name, "V", *best, rated, True),
                              case.evidence("voltage", part.name, "V", *best, least, True)), needs_whole_list=True)


def _across(case: Case, key: str, part: BenchPart) -> Floats:
    """Volts across a load at each point; of a stepper, across the winding that gets the most."""
    coils = part.entry.coils if isinstance(part.entry, Stepper) else (part.load_pins[:2],)
    most: Floats = np.max([np.abs(case.volts(key, one, other)) for one, other in coils], axis=0)
    return most


def _rated_and_least(part: BenchPart) -> tuple[float, float] | None:
    """Rated voltage and the least at which the part works, in volts; None where the list and the library give none."""
    entry = part.entry
    if isinstance(entry, Relay):
        rated = entry.voltage or (entry.current or 0.0) * relay_ohms(entry)
        return (float(rated), float(rated) * float(entry.must_operate)) if rated else None
    if isinstance(entry, Stepper):
        return float(entry.voltage), LEAST_VOLTS * float(entry.voltage)
    if isinstance(entry, Load) and entry.voltage and entry.type in ("motor", "solenoid", "lamp", "buzzer"):
        least = LEAST_VOLTS * entry.voltage
        return float(entry.voltage), float(min(entry.voltage_min, entry.voltage) if entry.voltage_min and entry.type == "buzzer"
                                           else least)
    return None


def _is_overloaded(case: Case, key: str, at: int) -> bool:
    """True where a source of the list breaks down at a point, or a pin or a chip's output at the load gives more than it may:
    then that is the cause."""
    near = {case.net(key, pin) for pin in case.bench.parts[key].load_pins[:2]}
    for other, part in case.parts(SupplyKind, Regulator, Controller, Chip):
        entry = part.entry
        if isinstance(entry, SupplyKind):
            if float(case.volts(other, "+", "-")[at]) < SAGGED * float(entry.voltage or 0.0):
                return True
        elif isinstance(entry, Regulator):
            ground = "ADJ" if entry.adjustable else "GND"
            volts = abs(float(case.volts(other, "OUT", ground)[at]))
            if 0.5 < volts < LEAST_OUT * float(entry.output):
                return True
        elif isinstance(entry, Controller):
            rail = float(case.volts(other, "5V", "GND")[at])
            if 0.5 < rail < SAGGED * 5.0 or any(_carries(case, other, pin, at, entry.pin_absolute)
                                              for pin in (*entry.digital, *entry.analog) if case.net(other, pin) in near):
                return True
        elif isinstance(entry, Chip):
            for output in entry.outputs:
                if output.current is not None and any(_carries(case, other, pin, at, output.current)
                                                      for pin in output.pins if case.net(other, pin) in near):
                    return True
    return False


def _carries(case: Case, key: str, pin: str, at: int, limit: float) -> bool:
    return (key, pin) in case.operating.pins and abs(float(case.amps(key, pin)[at])) > limit
