"""What a load is made for: the current at which it counts as working."""

from __future__ import annotations

import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.operating.models import load_ohms, relay_ohms
from checker.rules.case import Case
from parts_library.schema import Capacitor, Load, Relay, Stepper

NOTHING = 2e-5
"""Below 20 µA no LED shows light and no load works."""


LEAST_SHARE = 0.02
"""Share of its rated current below which a load gets nothing worth the name; above it, weak-drive speaks."""


def rated_amps(part: BenchPart) -> float:
    """The rated current of a load or coil (of a stepper, of each winding) in amps, or 0.0 where none is known. An LED has no
    least current of its own."""
    entry = part.entry
    if isinstance(entry, Relay):
        rated = entry.voltage or (entry.current or 0.0) * relay_ohms(entry)
        return float(rated) / relay_ohms(entry)
    if isinstance(entry, Load):
        return float(entry.voltage or 5.0) / load_ohms(entry)[0] if entry.voltage or entry.ohms else 0.0
    if isinstance(entry, Stepper):
        return float(entry.voltage) / float(entry.ohms)
    return 0.0


def is_behind_capacitor(case: Case, key: str) -> bool:
    """True for a loudspeaker that a capacitor couples: its current alternates, and there is none at rest."""
    return is_coupled(case.circuit, key)


def is_coupled(circuit: Circuit, key: str) -> bool:
    """The same of a circuit that no rule has looked at."""
    entry = circuit.part(key).entry
    return isinstance(entry, Load) and entry.type == "speaker" and any(
        isinstance(circuit.part(other).entry, Capacitor)
        for pin in circuit.part(key).pins for other, _ in circuit.pins_on[circuit.pin_net[key, pin]])


def gets_nothing(case: Case, key: str, part: BenchPart) -> bool:
    """True for a load or light that gets next to nothing in every nominal state."""
    pins = part.load_pins
    mask = case.mask("nominal")
    most = max((float(np.abs(case.amps(key, pin))[mask].max(initial=0.0)) for pin in pins), default=0.0)
    rated = rated_amps(part)
    return most < (min(NOTHING, LEAST_SHARE * rated) if 0.0 < rated < 0.001 else max(NOTHING, LEAST_SHARE * rated))
