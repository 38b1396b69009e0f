"""What the list expects of the circuit does not come out."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.circuit.build import conductor_at
from checker.operating.models import load_ohms, relay_ohms
from checker.operating.points import Floats
from checker.operating.points import Point as OperatingPoint
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from grammar import read_quantity
from grammar.syntax_tree import Bare, Expect, Pin, Point
from parts_library import pin_named
from parts_library.schema import Load, Relay

LIT_AMPS = 0.0005
"""Amps from which an LED counts as lit: from memory, a modern indicator shows at half a milliamp."""

WORKING = 0.5
"""Share of its rated current from which a load counts as running or on."""

def find(case: Case) -> Iterator[Found]:
    """Each ``expect`` in every nominal state that meets its conditions; missed in a corner only, it is a note."""
    for expect in case.bench.expects:
        yield from _of_one(case, expect)


def _of_one(case: Case, expect: Expect) -> Iterator[Found]:
    name = expect.subject.text
    if any(_is_unknown(case, subject) for subject in (expect.subject, *(c.subject for c in expect.conditions))):
        return
    problem = _unknown(case, expect)
    if problem is not None:
        yield problem
        return
    matching = np.array([_meets(case, expect, point) for point in case.operating.points], dtype=bool)
    if not matching.any():
        yield Found(rule="expectation-missed", severity="fault", span=expect.span, case="no-state", parts=(),
                    points=(name,), facts={"subject": name, "conditions": _told(expect)})
        return
    values, quantity, unit, low, high = _judged(case, expect)
    if np.isnan(values).all():
        yield Found(rule="expectation-missed", severity="fault", span=expect.span, case="nowhere", points=(name,),
                    facts={"subject": name}, needs_whole_list=True)
        return
    for mask, severity in (("nominal", "fault"), ("running", "note")):
        for bound, least in ((low, True), (high, False)):
            if bound is None:
                continue
            worst = case.worst(values, case.mask(mask) & matching, least=least)
            if worst is not None and (worst[0] < bound if least else worst[0] > bound) and worst[1].phase == "steady":
                yield Found(rule="expectation-missed", severity=severity, span=expect.span, case="missed",
                            parts=tuple(p.name for p in [case.bench.part(name.split(".")[0])] if p), points=(name,),
                            facts={"subject": name, "verb": expect.verb, "conditions": _told(expect)},
                            evidence=(case.evidence(quantity, name, unit, *worst, bound, least),),
                            needs_whole_list=True)
                return


def _is_unknown(case: Case, subject: Point) -> bool:
    """True for a part that the library does not know: it agrees with whatever is expected of it."""
    part = case.bench.part(subject.text.split(".")[0])
    return part is not None and part.entry is None


def _told(expect: Expect) -> str:
    return " and ".join(f"{c.subject.text} {c.state}" + (f" {c.amount.text}" if c.amount else "")
                        for c in expect.conditions)


def _unknown(case: Case, expect: Expect) -> Found | None:
    for subject in (expect.subject, *(condition.subject for condition in expect.conditions)):
        if isinstance(subject, Pin | Bare) and _pin(case, subject) is None and _part(case, subject) is None:
            return Found(rule="unknown-point", severity="fault", span=subject.span, case="no-such-part",
                         points=(subject.text,), facts={"name": subject.text, "offered": ""})
    return None


def _part(case: Case, subject: Point) -> str | None:
    key = subject.text.lower()
    return key if key in case.bench.parts else None


def _pin(case: Case, subject: Point) -> tuple[str, str] | None:
    if not isinstance(subject, Pin):
        return None
    part = case.bench.part(subject.part)
    if part is None or part.entry is None:
        return None
    pin = pin_named(part.entry, subject.pin)
    return (subject.part.lower(), pin) if pin is not None else None


def _meets(case: Case, expect: Expect, point: OperatingPoint) -> bool:
    """True where a steady point is in a state that the conditions describe."""
    if point.phase != "steady":
        return False
    for condition in expect.conditions:
        pin = _pin(case, condition.subject)
        part = _part(case, condition.subject)
        name = case.pin_name(*pin) if pin else case.name(part) if part else condition.subject.text
        option = point.state.get(name)
        wanted = condition.state
        if wanted == "at" and condition.amount is not None:
            wanted = _nearest_position(condition.amount.text)
        if option is None or not _same_state(option, wanted):
            return False
    return True


def _nearest_position(text: str) -> str:
    share = read_quantity(text).value
    share = share / 100.0 if share > 1.0 else share
    return min(("0%", "50%", "100%"), key=lambda option: abs(float(option[:-1]) / 100.0 - share))


SYNONYMS = {"on": ("pressed", "closed", "high", "pulled-in"), "off": ("released", "open", "low"),
            "pressed": ("closed",), "released": ("open", "input"), "closed": ("pressed",), "open": ("released",),
            "low": ("0",), "high": ("1",), "input": ("pullup",)}


def _same_state(option: str, wanted: str) -> bool:
    if wanted.startswith("not-") or wanted.startswith("not "):
        return not _same_state(option, wanted[4:])
    return option == wanted or option in SYNONYMS.get(wanted, ())


def _judged(case: Case, expect: Expect) -> tuple[Floats, str, str, float | None, float | None]:
    """The quantity at each point with its name, unit and bounds."""
    low = expect.bound.low if expect.bound else None
    high = expect.bound.high if expect.bound else None
    verb = expect.verb
    if verb == "at":
        return _volts(case, expect.subject), "voltage", "V", low, high
    pin = _pin(case, expect.subject)
    part = _part(case, expect.subject)
    if verb in ("high", "low") and pin is not None:
        supply = float(np.max(np.abs(case.operating.volts)))
        middle = 0.5 * min(supply, 5.0)
        return _volts(case, expect.subject), "voltage", "V", middle if verb == "high" else None, \
            middle if verb == "low" else None
    if part is None:
        amps = np.abs(case.amps(*pin)) if pin else np.zeros(len(case.operating.points))
        return amps, "current", "A", low, high
    pins = case.bench.parts[part].pins
    if verb == "drops":
        return np.abs(case.volts(part, pins[0], pins[1])), "voltage", "V", low, high
    if verb == "dissipates":
        return case.power(part), "power", "W", low, high
    amps = case.amps(part, pins[0])
    amps = amps if low is not None and low < 0 else np.abs(amps)
    if verb == "carries":
        return amps, "current", "A", low, high
    least = _working_amps(case, part)
    on = verb in ("lit", "on", "runs", "sounds", "bright")
    return amps, "current", "A", least if on else None, None if on else least


def _working_amps(case: Case, key: str) -> float:
    entry = case.bench.parts[key].entry
    if isinstance(entry, Load) and entry.voltage:
        return WORKING * float(entry.voltage) / load_ohms(entry)[0]
    if isinstance(entry, Relay) and entry.voltage:
        return float(entry.must_operate * entry.voltage) / relay_ohms(entry)
    return LIT_AMPS


def _volts(case: Case, subject: Point) -> Floats:
    """Volts of a point from the reference ground."""
    circuit = case.circuit
    pin = _pin(case, subject)
    if pin is not None:
        return case.operating.volts_at(*pin)
    conductor = conductor_at(circuit, subject)
    net = circuit.net_of.get(conductor) if conductor is not None else None
    if net is None:
        return np.full(len(case.operating.points), np.nan)
    volts: Floats = case.operating.volts[:, net]
    return volts

EXPLANATION = """
# What it means
The list says with `expect` what the circuit should do, and the computed value is outside. The circuit may be harmless
and do something; it does not do what you wrote down. It is judged with everything at its stated value; missed only with
a weak battery or a stalled motor it is a note.

# Why it matters
Either the circuit or the expectation is wrong, and both are worth knowing before power is on. Here 2.2 kΩ lets 5 V less
1.8 V over 2.2 kΩ through, which is 1.4 mA: a glow, not the 8 to 20 mA that were wanted. 220 Ω gives 14 mA.

# A list that has it
title "Bird feeder: the night light"
board half
supply PACK 5V on L+ L-
part NIGHT led yellow in c10 c11 long c10
part R1 2k2 in b5 b10
wire L+5 to a5
wire L-11 to a11
expect NIGHT carries 8mA to 20mA

# The same list mended
title "Bird feeder: the night light"
board half
supply PACK 5V on L+ L-
part NIGHT led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11
expect NIGHT carries 8mA to 20mA

# How to check with a meter
Measure what the line names. For a current, measure the volts across a resistor in the same path and divide by its ohms,
or put the meter in series on the mA range. For a point such as `a10`, measure its volts against the minus of the
supply. Then compare with both bounds.

# Source
Common practice, no source: a circuit is checked against what it is required to do, written down beforehand.
"""

RULE = Rule("expectation-missed", "behaviour", EXPLANATION, find)
