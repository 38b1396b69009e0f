"""A voltage that can hurt a person."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import SupplyKind

SAFE_DC, SAFE_AC = 60.0, 30.0
"""Volts below which a circuit counts as not hazardous by touch in dry places: 60 V DC and 30 V AC rms, the limits of
extra-low voltage in common use (IEC 61140 and IEC 62368-1 ES1 for DC 60 V, AC 30 V rms)."""


def find(case: Case) -> Iterator[Found]:
    """Mains, and any supply or any pair of nets above the limits of touchable voltage in a steady state."""
    for key, part in case.parts(SupplyKind):
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        limit = SAFE_AC if entry.mains or "ac" in entry.chemistry.lower().split() else SAFE_DC
        if entry.mains or abs(entry.voltage or 0.0) > limit:
            point = case.operating.points[0]
            yield Found(rule="hazardous-voltage", severity="danger", span=part.span,
                        case="mains" if entry.mains else "high", parts=(part.name,), weight=1000.0,
                        evidence=(case.evidence("voltage", part.name, "V", abs(float(entry.voltage or 230.0)), point,
                                                limit),))
            return
    spread = case.operating.volts[case.mask("nominal")]
    if spread.size and not any(True for _ in case.parts(SupplyKind)):
        return
    wired = sorted({net for pin, net in case.circuit.pin_net.items() if pin in case.circuit.touched
                    and len(case.pins_on(net)) > 1})
    if spread.size and wired:
        span_volts = spread[:, wired].max(axis=1) - spread[:, wired].min(axis=1)
        worst = int(np.argmax(span_volts))
        sources = [part for _, part in case.parts(SupplyKind)]
        if span_volts[worst] > SAFE_DC and len(sources) > 1:
            point = [p for p, m in zip(case.operating.points, case.mask("nominal")) if m][worst]
            yield Found(rule="hazardous-voltage", severity="danger", span=sources[-1].span, case="series",
                        parts=tuple(part.name for part in sources), weight=1000.0,
                        evidence=(case.evidence("voltage", "the board", "V", float(span_volts[worst]), point,
                                                SAFE_DC),))

EXPLANATION = """
"""

RULE = Rule("hazardous-voltage", "voltage", EXPLANATION, find)
