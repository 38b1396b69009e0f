"""From a settled circuit to what a probe shows there: volts, amps, or the chance that something is seen.

A look is no number: whether an LED of 0.4 mA counts as lit is a matter of the light in the room, so that a look gives a chance
that goes from nearly no to nearly yes over a range of currents.
"""

from __future__ import annotations

import numpy as np

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.operating.models import load_ohms, relay_ohms
from checker.operating.points import Floats
from checker.rules.expectation_missed import LIT_AMPS
from checker.tracing.instrument import Instrument, Settled, moves_of, net_at
from checker.tracing.model import Prediction, Probe
from parts_library.schema import Load, Relay

SURE = 0.97
"""How sure a look is at best: one in thirty is mistaken (common practice, no source)."""

RUNS_SHARE = 0.35
"""Share of its rated current at which it is even whether a motor still turns (common practice, no source)."""

WARM_KELVIN = 40.0
"""What is some 40 K above the room is too hot to hold: 60 °C hurts within seconds (from memory of EN 563)."""

KELVIN_PER_WATT = 200.0
"""Of a part of which nothing is said: a TO-92 or a small resistor in still air (from memory of datasheets, JESD51-2)."""

SUDDEN, SUDDEN_LOAD = 2.0, 4.0
"""How quickly a no becomes a yes as the current grows, as a power of it: an LED glows over a decade of currents and heat comes on
slowly, while a motor or a filament starts within a factor of two (common practice, no source)."""


def predicted(instrument: Instrument, settled: Settled, probe: Probe) -> Prediction:
    """What a probe shows on a settled circuit."""
    if probe.kind == "volts":
        return _volts(instrument, settled, probe)
    if probe.pin not in settled.pins:
        return Prediction(0.0)
    if probe.kind == "amps":
        amps = np.abs(settled.amps[:, settled.pins[probe.pin]])
        return Prediction(float(amps[0]), moves_of(amps), float(amps[0]), known=settled.fine)
    return Prediction(float(_chances(settled, probe)[0]), known=settled.fine)


def _volts(instrument: Instrument, settled: Settled, probe: Probe) -> Prediction:
    circuit = settled.circuit
    one = instrument.net(circuit, probe.at) if probe.at is not None else None
    other = instrument.net(circuit, probe.to if probe.to is not None else instrument.reference)
    if one is None or other is None:
        return Prediction(0.0, loose=True)
    volts = settled.volts[:, one] - settled.volts[:, other]
    black = _black(instrument, settled)
    scale = max(abs(settled.volts[0, one] - black), abs(settled.volts[0, other] - black))
    if (one, other) not in settled.metered:
        return Prediction(float(volts[0]), moves_of(volts), float(scale), known=settled.fine)
    read = settled.metered[one, other]
    # what the spreads move is lowered by the meter as the voltage itself is
    share = min(abs(read / volts[0]), 1.0) if abs(volts[0]) > 1e-6 else 0.0
    return Prediction(read, moves_of(share * volts), abs(read), loose=True, known=settled.fine)


def _black(instrument: Instrument, settled: Settled) -> float:
    net = net_at(settled.circuit, instrument.reference)
    return float(settled.volts[0, net]) if net is not None else 0.0


def _chances(settled: Settled, probe: Probe) -> Floats:
    part = settled.circuit.bench.parts.get(probe.pin[0])
    if probe.look == "hot":
        amount, even = _watts(settled, probe.pin[0]), WARM_KELVIN / _kelvin_per_watt(part)
    else:
        amount, even = np.abs(settled.amps[:, settled.pins[probe.pin]]), even_amps(part)
    if part is None or part.entry is None:
        amount = np.zeros_like(amount)
    sudden = SUDDEN_LOAD if part is not None and isinstance(part.entry, Load | Relay) and probe.look != "hot" else SUDDEN
    chance = 1.0 / (1.0 + (even / np.maximum(amount, 1e-15)) ** sudden)
    return np.asarray((1.0 - SURE) + (2.0 * SURE - 1.0) * chance)


def even_amps(part: BenchPart | None) -> float:
    """The current at which it is even whether a load or light is seen to work."""
    entry = part.entry if part is not None else None
    if isinstance(entry, Load) and entry.voltage:
        return RUNS_SHARE * float(entry.voltage) / load_ohms(entry)[0]
    if isinstance(entry, Relay) and entry.voltage:
        return 0.5 * float(entry.voltage) / relay_ohms(entry)
    return LIT_AMPS


def _watts(settled: Settled, key: str) -> Floats:
    """What a part turns into heat, from the volts and amps at its pins."""
    circuit: Circuit = settled.circuit
    total = np.zeros(len(settled.volts))
    for (part, pin), column in settled.pins.items():
        if part == key or part.startswith(f"{key} "):
            total += settled.volts[:, circuit.pin_net[part, pin]] * settled.amps[:, column]
    return np.asarray(np.abs(total))


def _kelvin_per_watt(part: BenchPart | None) -> float:
    given = getattr(part.entry, "thermal_resistance", None) if part is not None else None
    return float(given or KELVIN_PER_WATT)
