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
# What it means
The current of a motor, lamp or relay passes through the GND pin of the controller on its way back to the supply. The
pin, its jumper and its contacts are some 30 mΩ, so every 100 mA lift the controller's zero by about 3 mV; bad contacts
can be ten times that.

# Why it matters
At 100 mA it is harmless, so it is only a note. At 2 A it is 60 mV and more: analogue readings are wrong by a dozen
steps of 5 mV, and when a contact is loose the whole motor current looks for another way, through the USB cable. A wire
straight from the load to the minus of the supply, and a second one from there to GND, avoids it. From half the margin
of a low level (about 0.75 V) it counts as a fault.

# A list that has it
title "Tide tank: the moon light"
board half
supply PACK 6V
part U1 controller-5v
part MOON lamp-module 6V 100mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
wire U1.D9 to a16
wire PACK.+ to MOON.+
wire MOON.- to a12
wire U1.GND to b10
wire PACK.- to U1.GND

# The same list mended
title "Tide tank: the moon light"
board half
supply PACK 6V
part U1 controller-5v
part MOON lamp-module 6V 100mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 330 in e11 e16
wire U1.D9 to a16
wire PACK.+ to MOON.+
wire MOON.- to a12
wire U1.GND to b10
wire PACK.- to a10

# How to check with a meter
With the light on, set the meter to the 200 mV range and measure from the minus of the battery to GND of the controller.
Under 5 mV is fine. 50 mV or more means that load current runs there.

# Source
Shared return paths and star points: Henry W. Ott, Electromagnetic Compatibility Engineering, Wiley, 2009, chapter 3
(from memory). The low level of 0.3 times the supply: ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel, August
2014, DC characteristics.
"""

RULE = Rule("load-current-in-logic-ground", "grounding", EXPLANATION, find)
