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
    for _, part in case.parts(SupplyKind):
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
# What it means
The board carries a voltage that can hurt or kill a person: mains, more than 60 V of direct or 30 V of alternating
voltage. This tool does not clear such a circuit, however well it is wired. Bare wire ends and springs a millimetre
under the plastic are no insulation.

# Why it matters
Above about 60 V DC, or 30 V AC, current through dry skin can grow to some tens of milliamps. About 10 mA AC make
the hand cling to what it holds, and 50 mA through the chest for a second can stop the heart. Mains of 230 V also
starts fires: its fuse lets 10 A or more pass, and a breadboard's contacts are made for about 1 A.

# A list that has it
title "Stage prop, flicker lamp"
board half
supply LAMPS mains on L+ L-
part R1 1k in b5 b10
part LED1 led yellow in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# The same list mended
title "Stage prop, flicker lamp"
board half
supply LAMPS 12V limit 1A on L+ L-
part R1 1k in b5 b10
part LED1 led yellow in c10 c13 long c10
wire red L+5 to a5
wire black a13 to L-13

# How to check with a meter
Do not measure mains on a breadboard; unplug it and leave it unplugged. For a battery or a bench supply, measure
the supply alone, before it is connected: the meter at DC volts has to read under 60 V. Use a closed plug-in supply
of 5 to 12 V instead of anything that is wired to the wall, and let somebody with a licence do the rest.

# Source
IEC 60335-1:2010, definition 3.4.2, quoted in IEC 62282-5-1:2012, 3.23, IEC: safety extra-low voltage is at most
42.4 V peak (30 V rms) or 60 V DC. Effects of current: IEC 60479-1, IEC (from memory).
"""

RULE = Rule("hazardous-voltage", "voltage", EXPLANATION, find)
