"""A button wired through two legs that are one piece of metal."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Switch


def find(case: Case) -> Iterator[Found]:
    """Switches of which only legs that are always joined are used, and switches whose contact a wire bypasses."""
    for key, part in case.parts(Switch):
        entry = part.entry
        assert isinstance(entry, Switch)
        used = [pin for pin in part.pins if len(case.pins_on(case.net(key, pin))) > 1]
        always = [contact.pins for contact in entry.contacts if not contact.when]
        switched = [contact.pins for contact in entry.contacts if contact.when]
        for one, other in always:
            if set(used) == {one, other} and case.net(key, one) != case.net(key, other):
                yield _found(case, key, part, (one, other), "same-contact")
        for one, other in switched:
            if case.net(key, one) == case.net(key, other) and len(used) >= 2:
                yield _found(case, key, part, (one, other), "bypassed")
                break


def _found(case: Case, key: str, part: BenchPart, pins: tuple[str, str], words: str) -> Found:
    return Found(rule="button-always-closed", severity="fault", span=part.span, case=words, parts=(part.name,),
                 points=tuple(case.where(key, pin) for pin in pins), facts={"pins": " and ".join(pins)})

EXPLANATION = """
# What it means
A push button with four legs has only two contacts. Its legs are joined in pairs inside, pressed or not. A circuit
through two legs of one pair is always closed, about 0.1 Ω, and the button changes nothing.

# Why it matters
The program sees a button that is held down for ever; with a lamp on it, the lamp is always lit. Nothing breaks as long
as only 0.1 mA of a pull-up flows. If plus and minus come to the two legs, it is a short. Two legs at opposite corners
are always right, however the button is turned.

# A list that has it
title "Bird feeder: the perch button"
board half
part U1 controller-5v
part PERCH button across 20-22
part LAMP led green in c10 c11 long c10
part R1 330 in e11 L-11
wire U1.GND to L-1
wire U1.D2 to a20
wire L-20 to j20
wire U1.D9 to a10
pin U1.D2 pullup

# The same list mended
title "Bird feeder: the perch button"
board half
part U1 controller-5v
part PERCH button across 20-22
part LAMP led green in c10 c11 long c10
part R1 330 in e11 L-11
wire U1.GND to L-1
wire U1.D2 to a20
wire L-22 to j22
wire U1.D9 to a10
pin U1.D2 pullup

# How to check with a meter
Take the wires off, meter on the beeper, power off. Two legs that beep without pressing are one contact. Use two that
beep only while you press: at e20 and f22 here.

# Source
Circuit diagram of the four-legged 6 mm switch, terminals 1-2 and 3-4 joined, 50 mA at 24 V: B3F Tactile Switch data
sheet, Omron (from memory).
"""

RULE = Rule("button-always-closed", "function", EXPLANATION, find)
