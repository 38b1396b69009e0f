"""A load or light that gets no current in any state."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.loads import gets_nothing, is_behind_capacitor
from checker.rules.nothing_powered import unfed
from checker.rules.told_once import short_of_volts, told_by_others
from checker.seating.boards import RailPiece
from parts_library.schema import LedGroup


def find(case: Case) -> Iterator[Found]:
    """Loads, LEDs and relay coils without current in every state that the program or the hand can bring about."""
    fed_by_nothing = unfed(case)
    said_already = told_by_others(case)
    chains = short_of_volts(case)
    for found, members in chains:
        said_already |= members
        yield found
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        if not case.is_used(key) or _uncertain(case, key) or is_behind_capacitor(case, key):
            continue
        pins = part.load_pins
        if key not in fed_by_nothing and key not in said_already and gets_nothing(case, key, part):
            yield Found(rule="never-conducts", severity="fault", span=part.span, case="load", parts=(part.name,),
                        points=tuple(case.where(key, pin) for pin in pins[:2]), needs_whole_list=True,
                        facts=_why(case, key, pins))


def _uncertain(case: Case, key: str) -> bool:
    return any(case.net(key, pin) in case.circuit.uncertain for pin in case.bench.parts[key].pins)


def _why(case: Case, key: str, pins: tuple[str, ...]) -> dict[str, str]:
    """What each end hangs on, in the reader's words: rails and pins of the same net; an end that all lights share and that
    nothing is joined to."""
    part = case.bench.parts[key]
    if isinstance(part.entry, LedGroup):
        shared = [pin for pin in pins if all(pin in (member.anode, member.cathode) for member in part.entry.members)]
        loose = [pin for pin in shared if (key, pin) not in case.circuit.touched or len(case.pins_on(case.net(key, pin))) == 1]
        if loose and len(loose) == len(shared):
            return {"loose": case.pin_name(key, loose[0])}
    return {f"end{number}": _hangs_on(case, key, pin) for number, pin in enumerate(pins[:2])}


def _hangs_on(case: Case, key: str, pin: str) -> str:
    net = case.net(key, pin)
    rails = sorted({str(c) for c in case.circuit.members[net] if isinstance(c, RailPiece)})
    sources = [case.pin_name(other, its) for other, its in case.pins_on(net)
               if other != key and (case.bench.parts[other].is_supply or case.bench.parts[other].is_controller)]
    return " and ".join([*rails, *sources][:2])


EXPLANATION = """
# What it means
A load or light gets no current, or next to none, in any state that the program or a hand can bring about. Both its ends
may be at the same voltage, a switch in its way may never close, or its voltage is too low (a white LED wants 3 V).

# Why it matters
Nothing is harmed. But a lamp with 5 V at both ends has 0 V across it and carries 0 mA, whatever the program does. Most
often a wire is in the + rail instead of the - rail, one hole away.

# A list that has it
title "Lighthouse model: the door lamp"
board half
supply PACK 5V on L+ L-
part DOOR led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L+11 to a11

# The same list mended
title "Lighthouse model: the door lamp"
board half
supply PACK 5V on L+ L-
part DOOR led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11

# How to check with a meter
Power on, measure the volts across the part itself, one probe at each leg. 0 V means that both legs are on the same side:
then measure each leg against L-, and the one that should be 0 V but reads 5 V is the wrong one. Nearly the full 5 V
across it means that the part itself is open or reversed.

# Source
Common practice, no source; it follows from Ohm's law: no voltage across a part, no current through it.
"""

RULE = Rule("never-conducts", "function", EXPLANATION, find)
