"""A part on a path that goes nowhere: current that cannot return does not flow."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.loads import is_behind_capacitor
from checker.rules.paths import paths_of
from parts_library.schema import LedGroup


def find(case: Case) -> Iterator[Found]:
    """Loads and LEDs that lie on no loop although both ends are wired to something."""
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        own = [pins for name, pins in case.bridges if name == key]
        paths = [pins for pins in paths_of(part) if all((key, pin) in case.circuit.touched for pin in pins)]
        if not own or len(own) < len(paths) or isinstance(part.entry, LedGroup) or is_behind_capacitor(case, key):
            continue
        nets = {case.net(key, pin) for pins in own for pin in pins}
        if any(case.circuit.is_alone(net) or net in case.circuit.uncertain for net in nets):
            continue
        pins = own[0]
        yield Found(rule="no-return-path", severity="fault", span=part.span, case="load", parts=(part.name,),
                    points=tuple(case.where(key, pin) for pin in pins), needs_whole_list=True)

EXPLANATION = """
# What it means
A load or an LED is wired at both ends, but from one of them no path leads back to the source. Current flows only in a
closed loop: from plus, through the part, to minus of the same source. One open end anywhere means 0 mA everywhere in
that loop.

# Why it matters
Nothing breaks, and nothing works. The usual cause is a second pair of rails: L- and R- are two separate strips of metal
until a wire joins them. The lantern here should carry 14 mA and carries none.

# A list that has it
title "Stage prop: the lantern"
board half
supply PACK 5V on L+ L-
part FLAME led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire a11 to R-11

# The same list mended
title "Stage prop: the lantern"
board half
supply PACK 5V on L+ L-
part FLAME led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire a11 to R-11
wire L-30 to R-30

# How to check with a meter
Power on, black probe on the minus of the battery itself, red probe on a11. 0 V is right; if you read nearly 5 V there, the
way back is open behind that point. Power off, the beeper between L- and R- tells at once whether they are joined.

# Source
Common practice, no source; it follows from Kirchhoff's current law. That the rails of a breadboard are separate strips:
the drawing in any maker's leaflet (from memory).
"""

RULE = Rule("no-return-path", "grounding", EXPLANATION, find)
