"""The multimeter as a source: what it puts on the two probes, and what it shows for the voltage that it then finds.

A meter on a resistance range is a voltage behind a resistance: its open-circuit voltage, and as much resistance as lets its
test current flow through a short. Meters differ, most of all in the open-circuit voltage: one of 0.4 V leaves silicon
junctions asleep, one of 3 V opens them and LEDs too. Every reading is therefore computed with three meters.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class Range(Struct, frozen=True):
    """A range: its ``full`` scale in ohms, and the ``amps`` that flow through a short."""

    full: float
    amps: float


RANGES: tuple[Range, ...] = (Range(400.0, 1e-3), Range(4e3, 1e-4), Range(4e4, 1e-5), Range(4e5, 1e-6), Range(4e6, 1e-7))
"""Ranges of a 4000-count handheld meter. Test currents from memory of several makers' tables (about 1 mA at 400 to 600 Ω, a
tenth for each decade above)."""

GENTLE_VOLTS, USUAL_VOLTS, STRONG_VOLTS = 0.4, 0.5, 3.2
"""Open-circuit volts of resistance ranges: 0.45 V at most from 4 kΩ up in a 4000-count handheld's manual (with diode test 3.5 V,
1 mA, beeper up to 35 Ω); 0.5 V (PeakTech 1080 manual, p. 31: beeper); 3.2 V at most (Elenco M-1000D manual, p. 7)."""

METERS: tuple[float, float, float] = (USUAL_VOLTS, STRONG_VOLTS, GENTLE_VOLTS)
"""Open-circuit volts in the order of the cases of ``checker.metering.dead``: usual, least, most."""

DIODE_VOLTS, DIODE_AMPS = 3.5, 1e-3
"""Diode test: 3.5 V open, 1 mA through a short (the same handheld's manual; PeakTech 1080 and 1075 manuals: about 1 mA)."""

DIODE_SHOWN = 3.0
"""Volts up to which a diode test shows a number: 2 to 3 V in manuals, above it OL."""

BEEPS_UNTIL = 50.0
"""Ohms up to which the beeper sounds: 50 Ω (PeakTech 1080 and 1655 manuals); 35, 100 and 150 Ω are found too (the 4000-count
handheld, Elenco M-1000D, Sonel CMM-10)."""

LEADS_OHMS = 0.3
"""What the meter's own leads show when touched together: 0.1 to 0.2 Ω (Fluke 187/189 users manual, p. 3-8), up to 0.3 Ω
(PeakTech 3315 manual, p. 49)."""

INPUT_OHMS = 10e6
"""Input resistance on DC volts: 10 MΩ (common practice, no source)."""

READS_WITHIN = 0.02
"""What a handheld may be off, as a share: 1 to 2 % (the manuals above)."""


def ohms_shown(volts: Floats, amps: Floats) -> Floats:
    """Ohms from what is across the probes and through them; infinite where nothing flows."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(amps > 1e-12, np.maximum(volts, 0.0) / np.maximum(amps, 1e-30), np.inf)
