"""The data line of one part of a two-wire bus on the clock line of another."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Chip, Controller

LINES = ("SDA", "SCL")


def find(case: Case) -> Iterator[Found]:
    """For each part whose SDA lies with the SCL of others, or the other way round: the one that most of the bus is against."""
    told: set[str] = set()
    for net in case.circuit.members:
        sides: dict[str, list[tuple[str, str]]] = {line: [] for line in LINES}
        for key, pin in case.pins_on(net):
            if (line := line_of(case, key, pin)) is not None and (key, pin) in case.circuit.touched:
                sides[line].append((key, pin))
        if not all(sides.values()) or net in case.circuit.uncertain:
            continue
        if all(case.bench.parts[key].is_controller for side in sides.values() for key, _ in side):
            continue
        for key, pin in _odd_ones(case, sides):
            other = next(other for side in sides.values() for other in side if (key, pin) not in side)
            if key not in told and _counts(case, key, other[0]):
                told.add(key)
                yield _found(case, key, pin, other)


def line_of(case: Case, key: str, pin: str) -> str | None:
    """SDA or SCL, for a pin of that name, and for the pin of a controller that is made for it and that the list calls a bus."""
    entry = case.bench.parts[key].entry
    if isinstance(entry, Chip):
        return pin if pin in LINES else None
    if isinstance(entry, Controller) and "bus" in case.bench.role_of(key, pin):
        return next((line for line in LINES if line in entry.pin_aliases.get(pin, ())), None)
    return None


def _odd_ones(case: Case, sides: dict[str, list[tuple[str, str]]]) -> list[tuple[str, str]]:
    """The pins on the smaller side; where both are equal, those that are no controller's."""
    fewest = min(len(side) for side in sides.values())
    odd = [pin for side in sides.values() if len(side) == fewest for pin in side]
    return [pin for pin in odd if not case.bench.parts[pin[0]].is_controller][:1] if len(odd) > fewest else odd


def _counts(case: Case, key: str, other: str) -> bool:
    """A controller alone against a part may make its lines itself on any pins: then both have to be crossed."""
    if not case.bench.parts[other].is_controller:
        return True
    own, its = ({line: {case.net(each, pin) for pin in case.bench.parts[each].pins if line_of(case, each, pin) == line}
                 for line in LINES} for each in (key, other))
    return bool(own["SDA"] & its["SCL"]) and bool(own["SCL"] & its["SDA"])


def _found(case: Case, key: str, pin: str, other: tuple[str, str]) -> Found:
    part = case.bench.parts[key]
    return Found(rule="bus-lines-crossed", severity="fault", span=part.span, case="lines", parts=(part.name, case.name(other[0])),
                 points=(case.pin_name(key, pin), case.pin_name(*other)), needs_whole_list=True, weight=4.0,
                 facts={"own": line_of(case, key, pin) or pin, "other": line_of(case, *other) or other[1]})


EXPLANATION = """
# What it means
A two-wire bus has a data line, SDA, and a clock line, SCL. All SDA pins are on one wire and all SCL pins on the other.
Here the two wires of one part are exchanged.

# Why it matters
Nothing is harmed: both lines are only ever pulled to 0 V through a few milliamps. But the part sees the clock as data and
never answers, and while it is confused it may hold a line at 0 V, so that the other 2 or 3 parts on the bus fail with it.

# A list that has it
title "Weather post: display and clock"
part U1 controller-5v
part DISP oled-display
part CLK real-time-clock
wire U1.5V to DISP.VCC to CLK.VCC
wire U1.GND to DISP.GND to CLK.GND
part R1 4k7
part R2 4k7
wire R1.1 to R2.1 to U1.5V
wire U1.A4 to CLK.SDA to R1.2 to DISP.SCL
wire U1.A5 to CLK.SCL to R2.2 to DISP.SDA
pin U1.A4 bus
pin U1.A5 bus

# The same list mended
title "Weather post: display and clock"
part U1 controller-5v
part DISP oled-display
part CLK real-time-clock
wire U1.5V to DISP.VCC to CLK.VCC
wire U1.GND to DISP.GND to CLK.GND
part R1 4k7
part R2 4k7
wire R1.1 to R2.1 to U1.5V
wire U1.A4 to CLK.SDA to R1.2 to DISP.SDA
wire U1.A5 to CLK.SCL to R2.2 to DISP.SCL
pin U1.A4 bus
pin U1.A5 bus

# How to check with a meter
With power off, measure the resistance from the SDA leg of one part to the SDA leg of each other part: under 1 Ω. A part
whose SDA reads under 1 Ω to the SCL of another has its two wires exchanged.

# Source
UM10204, I2C-bus specification and user manual, NXP, Rev. 7.0: all devices share SDA and SCL, from memory.
"""

RULE = Rule("bus-lines-crossed", "function", EXPLANATION, find)
