"""A transistor that is driven but switches nothing, or a load that it cannot switch off."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.driven_arrays import driven_in_vain
from checker.rules.loads import gets_nothing, rated_amps
from checker.rules.open_outputs import open_outputs
from parts_library.schema import Bipolar, Capacitor, Chip, Controller, Load, Mosfet, Resistor, SensorResistor, Switch

STILL_ON = 0.5
"""A load that keeps more than half of its largest current in every state is not switched."""

WORKING_AMPS = 5e-4
IDLE_AMPS = 2e-5


def find(case: Case) -> Iterator[Found]:
    """Transistors driven by a pin or a button whose load runs in every state, and such that never carry a current."""
    yield from _idle_pins(case)
    yield from driven_in_vain(case)
    yield from open_outputs(case)
    stiff = case.stiff
    for key, part in case.parts(Bipolar, Mosfet):
        if ("B" not in part.pins and "G" not in part.pins) or not any(_is_driven(case, key, pin, stiff) for pin in part.pins):
            continue
        ends = ("C", "E") if isinstance(part.entry, Bipolar) else ("D", "S")
        load = _stuck_load(case, key, stiff)
        if load is not None:
            its = case.bench.parts[load]
            yield Found(rule="never-switches", severity="fault", span=part.span, case="on", parts=(part.name,),
                        points=tuple(case.where(key, pin) for pin in ends),
                        facts={"load": its.name, **_out_of_reach(case, key, part)},
                        needs_whole_list=True, weight=1.0)
        elif _is_idle(case, key, ends):
            yield Found(rule="never-switches", severity="fault", span=part.span, case="idle", parts=(part.name,),
                        points=tuple(case.where(key, pin) for pin in ends), needs_whole_list=True)


def _out_of_reach(case: Case, key: str, part: BenchPart) -> dict[str, str]:
    """For a transistor at plus (PNP, P-channel): the pin that drives it, where that never comes up to the emitter or source."""
    entry = part.entry
    if not isinstance(entry, Bipolar | Mosfet) or not entry.polarity.startswith("p"):
        return {}
    top, control = ("E", "B") if isinstance(entry, Bipolar) else ("S", "G")
    mask = case.mask("nominal")
    stands = float(case.operating.volts_at(key, top)[mask].max(initial=0.0))
    for other, its in _near(case, key, control):
        if isinstance(its_entry := case.bench.parts[other].entry, Controller) and its in (*its_entry.digital, *its_entry.analog):
            reaches = float(its_entry.logic)
            ground = float(case.operating.volts_at(other, "GND")[mask].max(initial=0.0))
            if stands - ground > reaches + 1.0:
                return {"pin": case.pin_name(other, its), "switch": part.name, "reaches": f"{reaches:g}",
                        "stands": f"{stands:.3g}"}
    return {}


def _some_load_starves(case: Case) -> bool:
    return any(gets_nothing(case, key, part) for key, part in case.parts(*LIGHTS_AND_LOADS) if case.is_used(key))


def _idle_pins(case: Case) -> Iterator[Found]:
    """Pins that the program drives and that no current ever leaves, though no input and no gate is behind them."""
    if _some_load_starves(case):
        return
    mask = case.mask("nominal")
    for (key, pin), (roles, span) in case.bench.roles.items():
        entry = case.bench.parts[key].entry
        if not isinstance(entry, Controller) or not set(roles) & {"output", "pwm"} or (key, pin) not in case.circuit.touched:
            continue
        net = case.net(key, pin)
        if len(case.pins_on(net)) < 2 or net in case.circuit.uncertain or _leads_to_input(case, key, pin):
            continue
        idle = float(np.abs(case.amps(key, pin))[mask].max(initial=0.0)) < IDLE_AMPS and not _moves_a_load(case, key, pin)
        if not idle and _feeds_a_switch_in_vain(case, key, pin):
            stuck = [load for other, its in _near(case, key, pin) if isinstance(case.bench.parts[other].entry, Bipolar | Mosfet)
                     and (load := _stuck_load(case, other, case.stiff, behind=True)) is not None]
            yield Found(rule="never-switches", severity="fault", span=span, case="vain" if stuck else "pin",
                        parts=(case.name(key),), points=(case.pin_name(key, pin),), needs_whole_list=True,
                        facts={"load": case.name(stuck[0])} if stuck else {})
        elif idle:
            yield Found(rule="never-switches", severity="fault", span=span, case="pin", parts=(case.name(key),),
                        points=(case.pin_name(key, pin),), needs_whole_list=True)


def _moves_a_load(case: Case, key: str, pin: str) -> bool:
    """True where some load or light cares for a pin, however little current leaves that."""
    own = case.pin_name(key, pin)
    return any(_cares(case, other, leg, own) for other, part in case.parts(*LIGHTS_AND_LOADS) for leg in part.load_pins)


def _feeds_a_switch_in_vain(case: Case, key: str, pin: str) -> bool:
    """True where a pin reaches only transistor legs that carry the load's current, and no load or light cares about it."""
    own = case.pin_name(key, pin)
    near = [(other, its) for other, its in _near(case, key, pin) if not isinstance(case.bench.parts[other].entry, Resistor)]
    if not near or not all(_is_switch_leg(case.bench.parts[other], its) for other, its in near):
        return False
    return not any(_cares(case, other, leg, own) for other, part in case.parts(*LIGHTS_AND_LOADS, Chip)
                   for leg in part.pins if not _is_switch_leg(part, leg))


def _is_switch_leg(part: BenchPart, pin: str) -> bool:
    entry = part.entry
    return (isinstance(entry, Bipolar) and pin in "CE") or (isinstance(entry, Mosfet) and pin in "DS") or (
        isinstance(entry, Chip) and entry.type == "opto" and pin in ("C", "E"))


def _cares(case: Case, key: str, pin: str, name: str) -> bool:
    """True where a leg's current differs between two nominal states that differ in one pin."""
    if (key, pin) not in case.operating.pins:
        return False
    amps = case.amps(key, pin)
    known: dict[tuple[tuple[str, str], ...], float] = {}
    for number in np.flatnonzero(case.mask("nominal")):
        rest = tuple((k, v) for k, v in sorted(case.operating.points[number].state.items()) if k != name)
        before = known.setdefault(rest, float(amps[number]))
        if abs(before - float(amps[number])) > WORKING_AMPS / 2:
            return True
    return False


def _near(case: Case, key: str, pin: str) -> list[tuple[str, str]]:
    """The pins that a pin reaches, through at most one resistor."""
    net = case.net(key, pin)
    nets = {net, *case.past_resistors([net])}
    return [(o, p) for net in nets for o, p in case.pins_on(net) if (o, p) != (key, pin)]


def _leads_to_input(case: Case, key: str, pin: str) -> bool:
    """True where a pin reaches, through at most one resistor, something that takes no current: an input, a gate, a piezo."""
    for other, its in _near(case, key, pin):
        entry = case.bench.parts[other].entry
        is_input = isinstance(entry, Chip) and (any(its in group.pins for group in entry.inputs) or any(
            its in (stage.plus, stage.minus) for stage in entry.amplifiers))
        if is_input or isinstance(entry, Controller | Load | Capacitor) or (isinstance(entry, Mosfet) and its == "G"):
            return True
    return False


def _is_driven(case: Case, key: str, leg: str, stiff: set[int], first: bool = True) -> bool:
    """True where an output that the program drives, a button or a sensor reaches a leg through at most one resistor, or another
    transistor that is driven does. The leg is the base or gate, or with the legs exchanged another one."""
    net = case.net(key, leg)
    if net in stiff:
        return False
    near = {net}
    for other, pin in case.pins_on(net):
        entry = case.bench.parts[other].entry
        if isinstance(entry, Resistor):
            near.update(case.net(other, its) for its in ("1", "2") if its != pin)
    for other, pin in ((o, p) for n in near - stiff for o, p in case.pins_on(n)):
        entry = case.bench.parts[other].entry
        roles = case.bench.role_of(other, pin)
        if isinstance(entry, Controller) and set(roles) & {"output", "pwm"} and not set(roles) & {"high", "low"}:
            return True
        if (isinstance(entry, Switch) and entry.momentary) or isinstance(entry, SensorResistor):
            return True
        if first and other != key and pin in ("C", "D") and isinstance(entry, Bipolar | Mosfet):
            control = "B" if pin == "C" else "G"
            if control in case.bench.parts[other].pins and _is_driven(case, other, control, stiff, first=False):
                return True
    return False


def _stuck_load(case: Case, key: str, stiff: set[int], behind: bool = False) -> str | None:
    """A load on one of the transistor's legs (a net of their own between them), with ``behind`` also one behind a resistor
    there, that runs in every nominal state."""
    own = {case.net(key, pin) for pin in case.bench.parts[key].pins} - stiff
    if behind:
        own |= case.past_resistors(own) - stiff
    mask = case.mask("nominal")
    for other, part in case.parts(*LIGHTS_AND_LOADS):
        pins = part.load_pins[:2]
        if not own & {case.net(other, pin) for pin in pins}:
            continue
        amps = np.abs(case.amps(other, pins[0]))[mask]
        most = float(amps.max(initial=0.0))
        if most > max(WORKING_AMPS, STILL_ON * rated_amps(part)) and float(amps.min(initial=np.inf)) > STILL_ON * most:
            return other
    return None


def _is_idle(case: Case, key: str, ends: tuple[str, str]) -> bool:
    """True where both ends are wired and neither ever carries a current, though every load gets its own: a load without
    current says more by itself."""
    mask = case.mask("nominal")
    wired = all(len(case.pins_on(case.net(key, pin))) > 1 for pin in ends)
    idle = wired and float(np.abs(case.amps(key, ends[0]))[mask].max(initial=0.0)) < IDLE_AMPS
    return idle and not _some_load_starves(case)


EXPLANATION = """
# What it means
A pin or a button drives a transistor, but the load does not care: it runs in every state, or no current ever passes
through the transistor. Most often a lead is on the wrong leg's strip, collector and emitter (or drain and source) are
exchanged, or the load goes straight to plus and minus.

# Why it matters
A MOSFET with drain and source exchanged conducts through its body diode at 0.7 V, whatever its gate does: a 12 V valve
then takes its 500 mA all day. A transistor that carries 0 mA is simply not in the circuit.

# A list that has it
title "Tide tank: the drain valve"
board half
supply PSU 12V limit 2A on L+ L-
part U1 controller-5v
part VALVE solenoid 12V 300mA
part Q1 IRLZ44N in c10 c11 c12 as G D S measured
part R1 220 in a10 a15
part D1 1N4007 in e11 e20 band e20
wire U1.D6 to b15
wire U1.GND to L-2
wire a12 to L-12
wire VALVE.1 to a20
wire VALVE.2 to b12
wire b20 to L+20
pin U1.D6 output

# The same list mended
title "Tide tank: the drain valve"
board half
supply PSU 12V limit 2A on L+ L-
part U1 controller-5v
part VALVE solenoid 12V 300mA
part Q1 IRLZ44N in c10 c11 c12 as G D S measured
part R1 220 in a10 a15
part D1 1N4007 in e11 e20 band e20
wire U1.D6 to b15
wire U1.GND to L-2
wire a12 to L-12
wire VALVE.1 to a20
wire VALVE.2 to a11
wire b20 to L+20
pin U1.D6 output

# How to check with a meter
With power on and the pin low, measure across the load: it should read 0 V. With the pin high it should read nearly the
supply, here 12 V. The same reading in both states means that the transistor does not switch it.

# Source
Body diode and pin order of the IRLZ44N: International Rectifier, IRLZ44N datasheet (from memory).
"""

RULE = Rule("never-switches", "function", EXPLANATION, find)
