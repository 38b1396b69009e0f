"""A junction on a source with no resistor that limits the current."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Bipolar, Chip, Diode, Led, LedGroup, Load, Potentiometer, Relay, Resistor, SensorResistor

SAME_CURRENT = 0.1
"""A resistor limits a junction's current when it carries the same current, but for a tenth that may branch off."""


def find(case: Case) -> Iterator[Found]:
    """LEDs, diodes and bases whose current comes out above a rating with no resistor carrying that current, and bases that
    draw more from a pin than it can give."""
    for rating in ratings_of(case):
        if rating.kind == "current" and wants_resistor(case, rating):
            if (found := over_limit(case, rating, "no-current-limit", "junction")):
                yield found
        elif rating.kind == "pin" and (key := _bare_base(case, rating)) is not None:
            if (found := over_limit(case, rating, "no-current-limit", "base")):
                yield _about_base(case, found, rating, key)


def wants_resistor(case: Case, rating: Rating) -> bool:
    """True where the quantity is a junction's current and no resistor carries it."""
    entry = case.bench.parts[rating.key].entry
    if isinstance(entry, Bipolar) and rating.pins != ("B",):
        return False
    if not isinstance(entry, Bipolar | Led | LedGroup | Diode) and not (isinstance(entry, Chip) and entry.type == "opto"):
        return False
    worst = case.worst(rating.values, case.mask("steady"))
    if worst is None:
        return False
    at = case.operating.points.index(worst[1])
    return not any(abs(abs(case.amps(key, part.pins[0])[at]) - worst[0]) <= SAME_CURRENT * worst[0]
                   for key, part in case.parts(Resistor, Potentiometer, SensorResistor, Load, Relay))


def _bare_base(case: Case, rating: Rating) -> str | None:
    """The transistor whose base hangs on an overloaded pin."""
    net = case.net(rating.key, rating.pins[0])
    for key, pin in case.pins_on(net):
        if pin == "B" and isinstance(case.bench.parts[key].entry, Bipolar):
            return key
    return None


def _about_base(case: Case, found: Found, rating: Rating, key: str) -> Found:
    worst = case.worst(rating.values, case.mask("steady"))
    assert worst is not None
    at = worst[1]
    amps = float(abs(case.amps(key, "B")[case.operating.points.index(at)]))
    base = case.evidence("current", case.pin_name(key, "B"), "A", amps, at)
    part = case.bench.parts[key]
    return Found(rule=found.rule, severity=found.severity, span=part.span, case="base",
                 parts=(part.name, case.name(rating.key)), points=(case.where(key, "B"), rating.of),
                 facts={"of": rating.of, "base": case.pin_name(key, "B")}, evidence=(*found.evidence, base),
                 weight=found.weight)

EXPLANATION = """
# What it means
An LED, a diode or a transistor's base sits straight on a source. Once its voltage is reached (about 2 V for a red LED,
3 V for a white one, 0.7 V for a base) it takes whatever the source can give. Only a resistor, or something else in the
way that takes up the rest of the voltage, sets the current.

# Why it matters
A red LED can take 30 mA. Straight on 5 V it draws most of an ampere for a moment and is dead, often without a sound. A
base straight on a pin of a controller overloads the pin as well: the pin can give 40 mA, and a base takes more. A
resistor costs nothing in light: 5 V less 2 V over 220 Ω is 14 mA, which is bright.

# A list that has it
title "Lighthouse model: the lamp"
board half
supply PACK 5V on L+ L-
part LAMP led red in c10 c11 long c10
wire L+5 to a5
wire b5 to b10
wire L-11 to a11

# The same list mended
title "Lighthouse model: the lamp"
board half
supply PACK 5V on L+ L-
part LAMP led red in c10 c11 long c10
wire L+5 to a5
part R1 220 in b5 b10
wire L-11 to a11

# How to check with a meter
With the power off, set the meter to ohms and measure from L+ to the long leg of the LED at c10. With the resistor in
place it reads 220 Ω, without it under 1 Ω. With power on, set it to volts across the resistor and divide by its ohms: 3
V over 220 Ω is 14 mA.

# Source
The limits of 30 mA and about 2 V for a red 5 mm LED: WP7113ID datasheet, Kingbright, table of absolute maximum ratings
(from memory). The limit of the pin: ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel, August 2014, absolute
maximum ratings.
"""

RULE = Rule("no-current-limit", "current", EXPLANATION, find)
