"""A level shifter whose two sides are exchanged: the part of ``level-mismatch`` that asks its supplies."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found
from checker.rules.case import Case
from parts_library.schema import Chip

ABOVE = 0.3
"""Volts by which the low side may stand above the high one: below a diode's drop its transistors still pass what they should."""


def sides_exchanged(case: Case) -> Iterator[Found]:
    """Shifters with a low and a high side (gates at LV) whose low side is fed with more than the high one."""
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        gates = {element.nodes[1] for element in entry.circuit if element.device == "nmos"}
        if not {"LV", "HV"} <= set(entry.pins) or "LV" not in gates:
            continue
        nets = [case.net(key, pin) for pin in ("LV", "HV")]
        if any(case.circuit.is_alone(net) or net in case.circuit.uncertain for net in nets):
            continue
        low, high = (case.volts(key, pin, entry.ground or "GND") for pin in ("LV", "HV"))
        worst = case.worst(low - high, case.mask("nominal"), least=True)
        if worst is not None and worst[0] > ABOVE:
            at = case.operating.points.index(worst[1])
            yield Found(rule="level-mismatch", severity="fault", span=part.span, case="sides", parts=(part.name,),
                        points=(case.pin_name(key, "LV"), case.pin_name(key, "HV")), needs_whole_list=True, weight=4.0,
                        evidence=(case.evidence("voltage", case.pin_name(key, "LV"), "V", float(low[at]), worst[1],
                                                float(high[at])),))
