"""Two outputs on one net, one driving high, the other low."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Chip, Controller


def find(case: Case) -> Iterator[Found]:
    """Outputs that overload each other: a pin's current is above its maximum and another output takes it."""
    seen = set()
    for rating in ratings_of(case):
        if rating.kind != "pin":
            continue
        others = opponents(case, rating)
        net = case.net(rating.key, rating.pins[0])
        if not others or net in seen:
            continue
        if (found := over_limit(case, rating, "outputs-fighting", "pins")):
            seen.add(net)
            yield Found(rule=found.rule, severity=found.severity, span=found.span, case=found.case,
                        parts=tuple(dict.fromkeys([*found.parts, *(case.name(key) for key, _ in others)])),
                        points=(rating.of, *(case.pin_name(*other) for other in others)),
                        facts={"of": rating.of, "others": ", ".join(case.pin_name(*other) for other in others)},
                        evidence=found.evidence, weight=found.weight)


def opponents(case: Case, rating: Rating) -> list[tuple[str, str]]:
    """Other outputs on the pin's net that carry a like current the other way at the worst point."""
    if rating.kind != "pin":
        return []
    key, pin = rating.key, rating.pins[0]
    worst = case.worst(rating.values, case.mask("steady"))
    if worst is None or worst[0] <= 0.0:
        return []
    at = case.operating.points.index(worst[1])
    amps = case.amps(key, pin)[at]
    found = []
    for other, its_pin in case.pins_on(case.net(key, pin)):
        if (other, its_pin) != (key, pin) and _is_output(case, other, its_pin):
            if case.amps(other, its_pin)[at] * amps < 0 and abs(case.amps(other, its_pin)[at]) > abs(amps) / 4:
                found.append((other, its_pin))
    return found


def _is_output(case: Case, key: str, pin: str) -> bool:
    entry = case.bench.parts[key].entry
    if isinstance(entry, Controller):
        return pin in entry.digital or pin in entry.analog
    return isinstance(entry, Chip) and any(pin in output.pins for output in entry.outputs)

EXPLANATION = """
# What it means
Two outputs meet in one strip. When the program sets one high and the other low, the first pushes and the second
pulls, and nothing but the pins themselves holds the current back. Here D6 was put into the row of D5.

# Why it matters
A pin of a 5 V controller acts like about 25 Ω, so two in a row pass 5 V over 50 Ω, about 100 mA. A pin is made for
20 mA and can take 40 mA. It may live for a while, then it is stuck high or low for good, often with nothing to be
seen.

# A list that has it
title "Model signal, two aspects"
board half
part U1 controller-5v
part R1 220 in b15 b18
part LED1 led red in c18 c20 long c18
part R2 220 in b25 b28
part LED2 led green in c28 c30 long c28
wire U1.D5 to a15
wire U1.D6 to d15
wire black a20 to L-20
wire black a30 to L-30
wire black L-1 to U1.GND
pin U1.D5 output
pin U1.D6 output

# The same list mended
title "Model signal, two aspects"
board half
part U1 controller-5v
part R1 220 in b15 b18
part LED1 led red in c18 c20 long c18
part R2 220 in b25 b28
part LED2 led green in c28 c30 long c28
wire U1.D5 to a15
wire U1.D6 to a25
wire black a20 to L-20
wire black a30 to L-30
wire black L-1 to U1.GND
pin U1.D5 output
pin U1.D6 output

# How to check with a meter
With power off, the meter set to resistance from one pin to the other reads under 1 Ω where they share a strip. With
power on and the program running, an output has to stand near 5 V or near 0 V. About 2.5 V on an output is the sign
of two that fight: unplug it.

# Source
ATmega48A/PA/88A/PA/168A/PA/328/P datasheet, 8271, Atmel, Rev. H, 08/2014, Electrical Characteristics: 40 mA
absolute maximum for an I/O pin.
"""

RULE = Rule("outputs-fighting", "shorts", EXPLANATION, find)
