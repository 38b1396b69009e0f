"""Readings that no board could give: where nothing is, and more volts than all supplies together have.

Input: a Tracer and readings. Output: nothing; ``Misread`` where a reading cannot be one of this board.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.bench.model import BenchPart
from checker.operating.corners import USB_HIGH
from checker.tracing.instrument import net_at
from checker.tracing.model import Seen
from checker.tracing.observing import Misread
from checker.tracing.trace import Tracer
from grammar import show_quantity
from parts_library.schema import SupplyKind

ROOM = 1.1
"""A meter that is a little off, and a supply that is a little high."""


def hold_against(tracer: Tracer, seen: Sequence[Seen]) -> None:
    """Raises Misread for the first reading that no board of this list could give."""
    most = sum(_highest(part) for part in tracer.circuit.bench.parts.values())
    for one in (one for one in seen if one.probe.kind == "volts"):
        at = one.probe.at
        if at is not None and not isinstance(at, tuple) and all(net_at(each.circuit, at) is None for each in tracer.hypotheses):
            raise Misread(f"nothing is connected at {one.probe.name}, with any single fault: look which row it was")
        if abs(one.value) > ROOM * most:
            volts = show_quantity(round(most, 1), "V")
            raise Misread(f"{one.text} is more than the supplies of the list give together, {volts}: is it millivolts, or "
                          "another range of the meter?")


def _highest(part: BenchPart) -> float:
    if part.is_controller:
        return USB_HIGH
    entry = part.entry
    return float(entry.fresh or 1.05 * (entry.voltage or 0.0)) if isinstance(entry, SupplyKind) else 0.0
