"""A pin of a chip or controller that gives or takes more than it can."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.outputs_fighting import opponents
from checker.rules.ratings import Rating, ratings_of
from checker.seating.boards import RailPiece
from parts_library.schema import Chip, Controller, LedGroup, Load, Relay, Stepper


def find(case: Case) -> Iterator[Found]:
    """Pin currents above their absolute maximum, and the sum of all pins; above the recommended current a note."""
    told: list[Found] = []
    for rating in ratings_of(case):
        if rating.kind not in ("pin", "pins") or opponents(case, rating):
            continue
        found = over_limit(case, rating, "pin-overload", "all" if rating.kind == "pins" else "pin")
        if found is not None:
            if rating.kind == "pin" and _is_other_end(case, rating, found, told):
                continue
            told.append(found)
        elif rating.kind == "pin" and (usual := _usual(case, rating)) is not None:
            worst = case.worst(rating.values, case.mask("nominal"))
            if worst is not None and worst[0] > usual:
                part = case.bench.parts[rating.key]
                yield Found(rule="pin-overload", severity="note", span=part.span, case="usual", parts=(part.name,),
                            points=(rating.of,), facts={"of": rating.of},
                            evidence=(case.evidence("current", rating.of, "A", worst[0], worst[1], usual),))
    yield from _of_one_cause(case, told)
    yield from _amplifiers_against_rails(case)


AT_LIMIT = 0.9
"""Share of its short-circuit current from which an amplifier's output counts as shorted."""


def _amplifiers_against_rails(case: Case) -> Iterator[Found]:
    """Outputs of amplifiers and comparators that are tied straight to a rail and drive against it as hard as they can."""
    stiff = case.stiff
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        for stage in entry.amplifiers:
            net = case.net(key, stage.output)
            if (key, stage.output) not in case.circuit.touched or net not in stiff or net in case.circuit.uncertain:
                continue
            amps = case.amps(key, stage.output)
            for flow, limit in ((-amps, 0.0 if stage.open_collector else float(stage.source)), (amps, float(stage.sink))):
                worst = case.worst(flow, case.mask("nominal"))
                if worst is not None and limit and worst[0] >= AT_LIMIT * limit:
                    name = case.pin_name(key, stage.output)
                    yield Found(rule="pin-overload", severity="fault", span=part.span, case="amplifier", parts=(part.name,),
                                points=(name,), facts={"of": name, "rail": _rail_of(case, net)}, needs_whole_list=True,
                                weight=3.0, evidence=(case.evidence("current", name, "A", *worst, limit),))
                    break


def _rail_of(case: Case, net: int) -> str:
    """What a stiff net is called: a rail of the board, else the first source on it."""
    rails = sorted(str(conductor) for conductor in case.circuit.members[net] if isinstance(conductor, RailPiece))
    sources = [case.pin_name(key, pin) for key, pin in case.pins_on(net)
               if case.bench.parts[key].is_supply or case.bench.parts[key].is_controller]
    return [*rails, *sources, "a supply"][0]


def _of_one_cause(case: Case, told: list[Found]) -> Iterator[Found]:
    """The findings, those of several pins that one part loads as one; the sum of all pins then says nothing new."""
    loaded = {id(found): _loaded_by(case, found) for found in told}
    for found in told:
        alike = [other for other in told if loaded[id(found)] and loaded[id(other)] == loaded[id(found)]]
        if len(alike) > 1 and found is not alike[0]:
            continue
        if len(alike) > 1:
            worst = max(alike, key=lambda other: other.weight)
            yield replace(worst, case="pins", points=tuple(other.facts["of"] for other in alike),
                          facts={**worst.facts, "load": case.name(loaded[id(found)])})
        elif found.case != "all" or not any(loaded.values()):
            yield found


def _loaded_by(case: Case, found: Found) -> str:
    """The key of a part of several windings or lights that a pin feeds directly, or ""."""
    if found.case != "pin" or "." not in found.facts["of"]:
        return ""
    name, pin = found.facts["of"].split(".", 1)
    net = case.circuit.pin_net.get((name.lower(), pin))
    return next((key for key, part in case.parts(Stepper, LedGroup) if net in {case.net(key, its) for its in part.pins}), "")


def _is_other_end(case: Case, rating: Rating, found: Found, told: list[Found]) -> bool:
    """True where a pin carries the very current that has been told of another pin: a load lies between the two."""
    return any(other.parts == found.parts and abs(other.evidence[0].value - found.evidence[0].value)
               < 0.01 * found.evidence[0].value and _load_between(case, rating, other) for other in told)


def _load_between(case: Case, rating: Rating, other: Found) -> bool:
    net = case.net(rating.key, rating.pins[0])
    far = case.net(rating.key, other.facts["of"].split(".", 1)[1])
    return any({net, far} <= {case.net(key, pin) for pin in part.pins} for key, part in case.parts(Load, Relay))


def _usual(case: Case, rating: Rating) -> float | None:
    """The recommended current of a pin."""
    entry = case.bench.parts[rating.key].entry
    if isinstance(entry, Controller):
        return float(entry.pin_usual)
    return None

EXPLANATION = """
# What it means
A pin of a controller or chip gives or takes more current than it can. A pin of a 5 V controller is meant for 20 mA and
breaks above 40 mA; all its pins together may carry 200 mA. A 3.3 V controller can take about 12 mA a pin. A pin is for
signals and single LEDs, not for motors, relays or groups of lamps.

# Why it matters
An overloaded pin gets hot in a spot smaller than a grain of sand. It may die alone, so that the rest of the board still
works and the fault looks like a mistake in the program. Here three lamps of 13 to 15 mA on one pin make about 40 mA,
and more with a USB port at 5.25 V. One pin each, or a transistor for the group, solves it.

# A list that has it
title "Model signal: three lamps"
board half
part U1 controller-5v
part RED led red in c10 c11 long c10
part AMBER led yellow in c15 c16 long c15
part GREEN led green in c20 c21 long c20
part R1 150 in e11 L-11
part R2 150 in e16 L-16
part R3 150 in e21 L-21
wire U1.D9 to a10 to a15 to a20
wire U1.GND to L-1

# The same list mended
title "Model signal: three lamps"
board half
part U1 controller-5v
part RED led red in c10 c11 long c10
part AMBER led yellow in c15 c16 long c15
part GREEN led green in c20 c21 long c20
part R1 150 in e11 L-11
part R2 150 in e16 L-16
part R3 150 in e21 L-21
wire U1.D9 to a10
wire U1.D10 to a15
wire U1.D11 to a20
wire U1.GND to L-1

# How to check with a meter
With power on and the pin high, measure the volts across each resistor and divide by its ohms, then add up all that hang
on one pin: 2.1 V over 150 Ω is 14 mA, three times that is 42 mA. With the power off, count how many parts share the
pin's wire.

# Source
40 mA a pin and 200 mA for the supply pins as absolute maximum, 20 mA as test condition:
ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel, August 2014, absolute maximum ratings and DC characteristics.
"""

RULE = Rule("pin-overload", "current", EXPLANATION, find)
