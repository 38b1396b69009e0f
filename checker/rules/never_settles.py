"""Something that switches itself back as soon as it has switched: a relay that chatters, a thyristor, a gate without rest."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import structs

from checker.bench.model import BenchPart
from checker.operating.latching import main_pins
from checker.operating.models import relay_ohms
from checker.operating.points import Point
from checker.report.model import Evidence
from checker.rules.base import Found, Rule
from checker.rules.case import Case, Mask
from checker.rules.regions import region_of
from parts_library.schema import Capacitor, Relay, Resistor, Thyristor

BLINKS = 0.02
"""Seconds that a capacitor has to hold a coil or its transistor before the armature's way, some 10 ms, counts for little: a
relay with a capacitor is made to go on and off. From memory: small relays release within 5 to 10 ms."""


def find(case: Case) -> Iterator[Found]:
    """What does not stay as it is in some setting of all that a program or a hand switches."""
    points = case.operating.points
    outputs: dict[str, list[str]] = {}
    for variable in case.operating.plan.variables:
        mask = case.mask("nominal") & np.array([variable.name in point.restless for point in points])
        if not mask.any():
            continue
        part = case.bench.parts[variable.part]
        if isinstance(part.entry, Relay):
            yield _relay(case, variable.part, part, part.entry, mask)
        elif isinstance(part.entry, Thyristor):
            yield _thyristor(case, variable.part, part, part.entry, mask)
        else:
            outputs.setdefault(variable.part, []).append(variable.name)
    for key, names in outputs.items():
        # a gate with a capacitor is an oscillator, and made to be one
        if not _seconds_held(case, key):
            part = case.bench.parts[key]
            yield Found(rule="never-settles", severity="look", span=part.span, case="output", parts=(part.name,),
                        points=tuple(names), needs_whole_list=True)


def _relay(case: Case, key: str, part: BenchPart, entry: Relay, mask: Mask) -> Found:
    volts, ohms = np.abs(case.volts(key, "A1", "A2")), relay_ohms(entry)
    own = _own_contact(case, key, entry)
    blinks = bool(own) and _seconds_held(case, key, ohms) > BLINKS
    rated = float(entry.voltage or (entry.current or 0.0) * ohms or 5.0)
    least = case.worst(volts, mask, least=True)
    assert least is not None
    return Found(rule="never-settles", severity="note" if blinks else "fault", span=part.span,
                 case="blinks" if blinks else "own" if own else "chatters", parts=(part.name,),
                 points=own or tuple(case.where(key, pin) for pin in ("A1", "A2")), needs_whole_list=True,
                 evidence=(_evidence(case, "voltage", part.name, "V", least, float(entry.must_release) * rated),))


def _evidence(case: Case, quantity: str, of: str, unit: str, worst: tuple[float, Point], needs: float) -> Evidence:
    """A value that is too little to stay, with the settings without which the part would come to rest."""
    value, point = worst
    free = [v.name for v in case.operating.plan.variables if not v.follows]
    mask, deciding = case.mask("nominal"), {of}
    for number, other in enumerate(case.operating.points):
        changed = [name for name in free if other.state[name] != point.state[name]]
        if mask[number] and of not in other.restless and len(changed) == 1:
            deciding.update(changed)
    told = {name: option for name, option in point.state.items() if name in deciding}
    return structs.replace(case.evidence(quantity, of, unit, value, point, needs, least=True), state=told)


def _own_contact(case: Case, key: str, entry: Relay) -> tuple[str, ...]:
    """The pins of a contact of the relay that opens when it pulls in and lies in the way of its own coil: the one on the
    coil's side first."""
    _, nets = region_of(case, key)
    for contact in entry.contacts:
        if contact.when == ("released",):
            ends = sorted(contact.pins, key=lambda pin: case.net(key, pin) not in nets)
            if case.net(key, ends[0]) in nets:
                return tuple(case.pin_name(key, pin) for pin in ends)
    return ()


def _seconds_held(case: Case, key: str, ohms: float = 1e6) -> float:
    """How long the capacitors around a part hold it: farads times the largest resistance there."""
    parts, _ = region_of(case, key)
    entries = [case.bench.parts[other].entry for other in parts]
    farads = sum(float(entry.farads or 0.0) for entry in entries if isinstance(entry, Capacitor))
    return farads * max([ohms, *(float(entry.ohms or 0.0) for entry in entries if isinstance(entry, Resistor))])


def _thyristor(case: Case, key: str, part: BenchPart, entry: Thyristor, mask: Mask) -> Found:
    high, low = main_pins(entry)
    most = case.worst(np.abs(case.amps(key, high)), mask)
    assert most is not None
    return Found(rule="never-settles", severity="fault", span=part.span, case="thyristor", parts=(part.name,),
                 points=(case.where(key, high), case.where(key, low)), needs_whole_list=True,
                 evidence=(_evidence(case, "current", part.name, "A", most, float(entry.holding)),))


EXPLANATION = """
# What it means
Something on the board switches itself back as soon as it has switched. Mostly it is a relay: its coil is fed through
its own contact, and pulling in opens that contact; or what it switches on pulls the supply down so far that it lets
go. Then it falls back, gets its voltage again, pulls in again, and so on: it chatters.

# Why it matters
A small relay does that some 50 to 100 times a second. Each stroke draws a spark, so that contacts made for 100,000
switchings are burnt within an hour, or weld together. What hangs on the relay never gets a steady current. A relay
that should hold itself is wired to the contact that closes, NO.

# A list that has it
title "Stage prop: the thunder relay"
board half
supply PACK 12V limit 1A on L+ L-
part S1 switch
part K1 relay-12v
part D1 1N4007 in c18 c20 band c18
part HORN buzzer-12v
wire L+10 to S1.1
wire S1.2 to K1.COM
wire K1.NC to K1.A1 to a18
wire K1.A2 to a20
wire b20 to L-20
wire K1.NO to HORN.+
wire HORN.- to L-24

# The same list mended
title "Stage prop: the thunder relay"
board half
supply PACK 12V limit 1A on L+ L-
part S1 switch
part K1 relay-12v
part D1 1N4007 in c18 c20 band c18
part HORN buzzer-12v
wire L+10 to S1.1
wire S1.2 to K1.COM
wire S1.2 to K1.A1 to a18
wire K1.A2 to a20
wire b20 to L-20
wire K1.NO to HORN.+
wire HORN.- to L-24

# How to check with a meter
You hear it: a buzzing instead of one click. Power off, the meter at resistance: from the plus of the supply to the
coil's plus side it must read the same few tenths of an ohm with the armature at rest and pressed in by hand. If the
reading goes to OL when the armature moves, the coil hangs on its own contact.

# Source
A relay that opens its own coil is the old electric bell, described in every handbook of electricity; that small relays
operate and release within 5 to 10 ms is from memory.
"""

RULE = Rule("never-settles", "function", EXPLANATION, find)
