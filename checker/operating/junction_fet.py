"""The model of a junction FET: the square law of a MOSFET with a threshold on the other side of zero, and a gate that is a diode.

With the gate at the source it carries IDSS = K/2 · VP², so K is known from the two (Horowitz, Hill, The Art of Electronics,
chapter on FETs, from memory).
"""

from __future__ import annotations

from checker.bench.model import BenchPart
from checker.operating.netlist import Netlist
from parts_library.schema import Jfet

GATE_SATURATION, GATE_SLOPE, GATE_OHMS = 1e-14, 0.026, 20.0
"""The gate as a silicon diode: about 0.7 V at 10 mA (from memory)."""

MARGIN_TO_BREAKDOWN = 1.2
SMOOTHING = 0.04
"""Volts over which the channel fades out at its pinch-off."""


def add_jfet(netlist: Netlist, key: str, part: BenchPart) -> None:
    """A channel between drain and source, and a diode from the gate to each of them."""
    entry = part.entry
    assert isinstance(entry, Jfet)
    polarity = 1.0 if entry.polarity == "n" else -1.0
    off, full = entry.pinch_off, entry.idss
    # the part that conducts most has the largest current and the largest pinch-off together
    threshold = netlist.points.spread("threshold", -float(off.max), -float(off.typ), -float(off.min))
    steepness = netlist.points.spread("threshold", *(2.0 * float(amps) / float(volts) ** 2 for amps, volts in (
        (full.max, off.max), (full.typ, off.typ), (full.min, off.min))))
    netlist.add("channels", key, ("D", "G", "S"), polarity=polarity, transconductance=steepness, threshold=threshold,
                slope=SMOOTHING)
    for end in ("D", "S"):
        anode, cathode = ("G", end) if polarity > 0 else (end, "G")
        netlist.junction(key, anode, cathode, GATE_SATURATION, GATE_SLOPE, GATE_OHMS,
                         breakdown=float(entry.gate_voltage) * MARGIN_TO_BREAKDOWN, breakdown_ohms=100.0)
