"""How long a coil keeps its current once it is switched off: what a clamp costs in time.

The coil's terminals stand at the clamp's voltage for the current of the moment, and its own resistance helps: L di/dt =
-(clamp voltage at i + R i). So the time down to a tenth of the current is an integral over the logarithm of the
current, for which the circuit is solved at a few lower currents too (Gauss and Legendre's nodes). A diode alone holds a
relay for many times longer than a zener or a resistor does.

Input: a point of switching off. Output: the points to solve beside it; from their terminal voltages, seconds.
"""

from __future__ import annotations

from math import log, sqrt

import numpy as np
from msgspec import structs

from checker.bench.model import BenchPart
from checker.operating.models import coil_henries, load_ohms, relay_ohms
from checker.operating.points import Floats, Point
from parts_library.schema import Inductor, Load, Relay, Stepper

LEFT = 0.1
"""Share of the current at which a coil counts as released: where relays let go at the latest (must-release in datasheets)."""

NODES, WEIGHTS = sqrt(0.6) * np.array((-1.0, 0.0, 1.0)), np.array((0.5555555555555557, 0.8888888888888888, 0.5555555555555557))
"""Gauss and Legendre's places and weights on -1...1; three are right to a part in a thousand for clamps of every kind.
They are written out as numpy's leggauss gives them, whose module would be loaded for nothing else; the tests compare."""

SHARES: tuple[float, ...] = tuple(float(LEFT ** (0.5 - 0.5 * node)) for node in NODES)
"""The currents at which the circuit is solved, as shares of the first."""


def winding_ohms(part: BenchPart) -> float | None:
    """Ohms of a coil whose current falls by itself; None for what turns and gives a voltage of its own."""
    entry = part.entry
    if isinstance(entry, Relay):
        return relay_ohms(entry)
    if isinstance(entry, Inductor | Stepper):
        return float(entry.ohms)
    if isinstance(entry, Load) and entry.type == "solenoid":
        return load_ohms(entry)[0]
    return None


def lower_points(point: Point) -> list[Point]:
    """The same moment later, when the current has fallen to each of ``SHARES``."""
    return [structs.replace(point, forced={coil: amps * share for coil, amps in point.forced.items()}) for share in SHARES]


def release_seconds(part: BenchPart, amps: float, volts: Floats) -> float | None:
    """Seconds until a tenth of ``amps`` is left; ``volts`` (3,) across the coil from the end where the current goes in, at
    ``SHARES`` of it. None where something still drives the coil, or where it turns."""
    ohms = winding_ohms(part)
    if ohms is None:
        return None
    currents = abs(amps) * np.array(SHARES)
    falling = ohms * currents - np.sign(amps) * volts
    if (falling <= 0.0).any():
        return None
    # di / falling = i / falling d(ln i)
    return float(coil_henries(part.entry) * 0.5 * log(1.0 / LEFT) * (WEIGHTS * currents / falling).sum())
