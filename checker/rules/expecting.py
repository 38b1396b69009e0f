"""How an expectation is judged: which state it is about, which quantity, within which bounds, and what comes out.

Input: a case and one ``expect``. Output: ``Judged``, which says whether it is met and by how much. The rule
``expectation-missed`` and the comparison with a reference both judge by this.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from checker.circuit.build import conductor_at
from checker.operating.models import load_ohms, relay_ohms
from checker.operating.points import Floats
from checker.operating.points import Point as OperatingPoint
from checker.rules.case import Case, Mask
from grammar import read_quantity
from grammar.syntax_tree import Bare, Condition, Expect, Hole, Pin, Point
from parts_library import pin_named
from parts_library.schema import Load, Relay

LIT_AMPS = 0.0005
"""Amps from which an LED counts as lit: from memory, a modern indicator shows at half a milliamp."""

WORKING = 0.5
"""Share of its rated current from which a load counts as running or on."""


class Judged(Struct, frozen=True, eq=False):
    """``outcome``: met; missed (with everything nominal) or weak (in a corner only); no-state where nothing meets the
    conditions, nowhere where the point leads nowhere, no-such-part, unknown-part. ``value`` is the worst beside ``bound``
    (``least`` where that is the lower one), at ``point``, and ``values`` those at all points; None where there is no number.
    ``subject`` is the one that is no part."""

    outcome: str
    quantity: str = ""
    unit: str = ""
    value: float | None = None
    bound: float | None = None
    least: bool = False
    point: OperatingPoint | None = None
    subject: Point | None = None
    values: Floats | None = None


def judge_expectation(case: Case, expect: Expect) -> Judged:
    """One ``expect`` in every nominal state that meets its conditions, and in every corner of these."""
    if any(_is_unknown(case, subject) for subject in (expect.subject, *(c.subject for c in expect.conditions))):
        return Judged("unknown-part")
    missing = _missing(case, expect)
    if missing is not None:
        return Judged("no-such-part", subject=missing)
    wanted = [(_name_of(case, condition), _wanted(condition)) for condition in expect.conditions]
    matching = np.array([_meets(wanted, point) for point in case.operating.points], dtype=bool)
    if not matching.any():
        return Judged("no-state")
    values, quantity, unit, low, high = _judged(case, expect)
    if np.isnan(values).all():
        return Judged("nowhere")
    for mask, outcome in (("nominal", "missed"), ("running", "weak")):
        for bound, least in ((low, True), (high, False)):
            worst = case.worst(values, case.mask(mask) & matching, least=least) if bound is not None else None
            if worst is not None and bound is not None and (worst[0] < bound if least else worst[0] > bound) \
                    and worst[1].phase == "steady":
                return Judged(outcome, quantity, unit, worst[0], bound, least, worst[1], values=values)
    return _met(case, case.mask("nominal") & matching, Judged("met", quantity, unit), values, (low, high))


def _met(case: Case, mask: Mask, judged: Judged, values: Floats, bounds: tuple[float | None, float | None]) -> Judged:
    """Met: with the value that is nearest to a bound."""
    nearest: tuple[float, Judged] | None = None
    for bound, least in zip(bounds, (True, False)):
        worst = case.worst(values, mask, least=least)
        if bound is not None and worst is not None:
            room = abs(worst[0] - bound) / max(abs(bound), 1e-12)
            if nearest is None or room < nearest[0]:
                nearest = room, Judged("met", judged.quantity, judged.unit, worst[0], bound, least, worst[1])
    return nearest[1] if nearest is not None else judged


def asked_states(case: Case, expect: Expect, point: OperatingPoint) -> dict[str, str]:
    """What the conditions speak of, and how it stands at a point."""
    names = [_name_of(case, condition) for condition in expect.conditions]
    return {name: point.state[name] for name in names if name in point.state}


def told_conditions(expect: Expect) -> str:
    """The conditions in the words of the list: "U1.D9 high and S1 pressed"."""
    return " and ".join(f"{c.subject.text} {c.state}" + (f" {c.amount.text}" if c.amount else "")
                        for c in expect.conditions)


def unmet(case: Case, expect: Expect) -> tuple[str, str]:
    """For conditions that nothing meets: what could be asked of the first that never holds (``S1 can be left or right``), and
    the controller's pin that a hole of its name was meant as; "" for each that there is not."""
    seen: dict[str, list[str]] = {}
    for point in case.operating.points:
        for name, option in point.state.items():
            if option not in seen.setdefault(name, []):
                seen[name].append(option)
    for condition in expect.conditions:
        name = _name_of(case, condition)
        if name not in seen:
            text = condition.subject.text.upper()
            owners = [part.name for part in case.bench.controllers() if isinstance(condition.subject, Hole) and text in part.pins]
            return "", f"{owners[0]}.{text}" if len(owners) == 1 else ""
        if not any(_same_state(option, _wanted(condition)) for option in seen[name]):
            *some, last = seen[name]
            return f"{name} can be {', '.join(some)}{' or ' if some else ''}{last}", ""
    return "", ""


def _is_unknown(case: Case, subject: Point) -> bool:
    """True for a part that the library does not know or whose line was not understood: it agrees with whatever is expected
    of it."""
    part = case.bench.part(subject.text.split(".")[0])
    return part is not None and (part.entry is None or case.circuit.is_unseated(part.name.lower()))


def _missing(case: Case, expect: Expect) -> Point | None:
    """The first subject that is no part and no pin."""
    for subject in (expect.subject, *(condition.subject for condition in expect.conditions)):
        if isinstance(subject, Pin | Bare) and _pin(case, subject) is None and _part(case, subject) is None:
            return subject
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


def _meets(wanted: Sequence[tuple[str, str]], point: OperatingPoint) -> bool:
    """True where a steady point is in a state that the conditions, each a name and a state, describe."""
    return point.phase == "steady" and all(
        name in point.state and _same_state(point.state[name], state) for name, state in wanted)


def _name_of(case: Case, condition: Condition) -> str:
    """The name in the states of what a condition is about."""
    pin, part = _pin(case, condition.subject), _part(case, condition.subject)
    return case.pin_name(*pin) if pin else case.name(part) if part else condition.subject.text


def _wanted(condition: Condition) -> str:
    if condition.state == "at" and condition.amount is not None:
        return _nearest_position(condition.amount.text)
    return condition.state


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
