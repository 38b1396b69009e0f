"""A load's current that returns through the controller's ground pin."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.circuit.model import Lead
from checker.operating.jumpers import flow_in_net
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Controller

LEAST_AMPS = 0.05
"""Through-current worth a word: below 50 mA a jumper lifts a ground by a millivolt or two."""


def find(case: Case) -> Iterator[Found]:
    """Ground current that only passes through a controller's GND pin, with the volts by which it lifts the pin above the
    supply's minus; a fault above the noise margin of the logic."""
    for key, part in case.parts(Controller):
        entry = part.entry
        assert isinstance(entry, Controller)
        worst = _worst_passage(case, key)
        if worst is None or worst[0] < LEAST_AMPS:
            continue
        amps, lifted, number = worst
        margin = (entry.low_max.volts + entry.low_max.share * float(entry.logic)) * NOISE_SHARE
        point = case.operating.points[number]
        yield Found(rule="load-current-in-logic-ground", severity="fault" if lifted > margin else "note",
                    span=part.span, case="passes", parts=(part.name,), points=(f"{part.name}.GND",), weight=amps,
                    evidence=(case.evidence("current", f"{part.name}.GND", "A", amps, point),
                              case.evidence("voltage", f"{part.name}.GND", "V", lifted, point, margin)))


NOISE_SHARE = 0.5
"""An output low may itself use up half of what an input takes for low (VOL against VIL in common logic datasheets)."""


def _worst_passage(case: Case, key: str) -> tuple[float, float, int] | None:
    """Amps that pass through a controller's ground pin, volts of lift, and the point where they are largest."""
    lead = Lead(key, "GND")
    net = case.circuit.net_of.get(lead)
    if net is None or case.circuit.conductors.degree(lead) < 2:
        return None
    best: tuple[float, float, int] | None = None
    for number in np.flatnonzero(case.mask("nominal")):
        flow = flow_in_net(case.operating, net, int(number))
        own = abs(flow.injected.get(lead, 0.0))
        passing = (sum(abs(amps) for amps in flow.at(lead)) - own) / 2
        volts = [flow.volts[node] for node in flow.volts if isinstance(node, Lead) and node.pin == "-"]
        lifted = max((flow.volts[lead] - level for level in volts), default=0.0)
        if best is None or passing > best[0] + 1e-9:
            best = (passing, lifted, int(number))
    return best

EXPLANATION = """
"""

RULE = Rule("load-current-in-logic-ground", "grounding", EXPLANATION, find)
