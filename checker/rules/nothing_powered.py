"""No source feeds what the list wires up."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.loads import gets_nothing
from grammar.syntax_tree import Span
from parts_library.schema import Controller, SupplyKind

ASLEEP = 1e-6
"""Below a microamp nothing on a bench does anything."""


def find(case: Case) -> Iterator[Found]:
    """Lists without any source, lists in which nothing carries current, and loads on rails that no source feeds."""
    sources = [key for key, _ in case.parts(SupplyKind, Controller)]
    span = next((part.span for _, part in case.parts()), Span(1, 1, 1, 2))
    if not sources:
        yield Found(rule="nothing-powered", severity="fault", span=span, case="no-supply", weight=20.0,
                    needs_whole_list=True)
        return
    without = unfed(case)
    for key in without:
        part = case.bench.parts[key]
        yield Found(rule="nothing-powered", severity="fault", span=part.span, case="unfed", parts=(part.name,),
                    points=tuple(case.where(key, pin) for pin in part.pins[:2]), weight=20.0, needs_whole_list=True)
    if without:
        return
    flows = [float(np.abs(case.amps(key, pin)).max()) for key, part in case.parts() for pin in part.pins
             if not (part.is_controller and pin == "5V")]
    if max(flows, default=0.0) < ASLEEP and not any(_is_awake(case, key) for key, _ in case.parts(Controller)):
        yield Found(rule="nothing-powered", severity="fault", span=span, case="no-current", weight=1.0,
                    needs_whole_list=True)


def _is_awake(case: Case, key: str) -> bool:
    """True where a controller board is fed in some state."""
    return float(case.volts(key, "5V", "GND")[case.mask("nominal")].max(initial=0.0)) > 2.5


def unfed(case: Case) -> list[str]:
    """The loads that get nothing in a list without any supply line, but for those that a controller's pin feeds at one end."""
    if any(part.is_supply for _, part in case.parts()):
        return []
    return [key for key, part in case.parts(*LIGHTS_AND_LOADS)
            if case.is_used(key) and not case.is_fed(key) and not _hangs_on_a_pin(case, key)
            and gets_nothing(case, key, part)]


def _hangs_on_a_pin(case: Case, key: str) -> bool:
    """True where a controller's pin, or its supply, reaches the part directly or through one resistor."""
    nets = {case.net(key, pin) for pin in case.bench.parts[key].pins if (key, pin) in case.circuit.touched}
    nets |= case.past_resistors(nets)
    return any(case.bench.parts[other].is_controller and its != "GND" for net in nets for other, its in case.pins_on(net))


EXPLANATION = """
# What it means
The list names no source that feeds its parts: there is no supply line and no controller, or the source is not joined to
anything. With no volts on the rails there are no amps anywhere, and nothing can be checked.

# Why it matters
Nothing is harmed, but nothing lights or turns either. Often the line was only forgotten in the list: then the answer
here says nothing about your board yet. Add the supply with its voltage, since 5 V or 9 V on the same parts can mean 9
mA or 27 mA.

# A list that has it
title "Lighthouse model: the lamp"
board half
part LAMP led white in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11

# The same list mended
title "Lighthouse model: the lamp"
board half
supply PACK 5V on L+ L-
part LAMP led white in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11

# How to check with a meter
Set the meter to volts and measure from L+ to L- with the battery joined: 5 V should stand there. 0 V means that the
battery lead, its switch or the rail is open; move the tips along the wires toward the battery until the volts appear.

# Source
Common practice, no source: current needs a source and a closed path (Kirchhoff's laws).
"""

RULE = Rule("nothing-powered", "function", EXPLANATION, find)
