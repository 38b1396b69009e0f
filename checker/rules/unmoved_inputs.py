"""Digital inputs that a button or switch is to move and that read the same in all its positions: part of ``level-mismatch``."""

from __future__ import annotations

from collections.abc import Iterator

from checker.operating.points import Floats
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.rules.case import Case
from checker.rules.held import is_held
from parts_library.schema import Resistor, Switch

MOST_RESISTORS = 3
"""Resistors between a contact and an input that it moves: a series resistor, and two of a filter (common practice, no source)."""


def unmoved_input(case: Case, key: str, pin: str, volts: Floats, low: Floats, high: Floats, margin: float) -> Iterator[Found]:
    """An input that a contact is wired to but that stays within what it reads as low, or as high, in every nominal state."""
    mask = case.mask("nominal")
    switch = _switch_near(case, key, pin)
    if switch is None or not mask.any() or case.operating.plan.bounded:
        return
    points = [point for point, used in zip(case.operating.points, mask, strict=True) if used]
    held = "pullup" in case.bench.role_of(key, pin) or all(is_held(case, key, pin, point) for point in points)
    if len({point.state.get(case.name(switch)) for point in points}) < 2 or not held:
        return
    for level, stuck, least, limit in (("low", volts <= low + margin, False, high), ("high", volts >= high - margin, True, low)):
        worst = case.worst(volts, mask, least) if bool(stuck[mask].all()) else None
        if worst is not None:
            part = case.bench.parts[key]
            name = case.pin_name(key, pin)
            bound = float(limit[case.operating.points.index(worst[1])])
            yield Found(rule="level-mismatch", severity="fault", span=case.bench.roles.get((key, pin), ((), part.span))[1],
                        case="unmoved", parts=(part.name,), points=(name,), needs_whole_list=True,
                        facts={"level": level, "switch": case.name(switch), "other": "low" if least else "high"},
                        evidence=(case.evidence("voltage", name, "V", *worst, bound, not least),))
            return


def _switch_near(case: Case, key: str, pin: str) -> str | None:
    """The first switch with a contact that leads on from a net that the input reaches through resistors alone."""
    stiff = stiff_nets(case.circuit)
    seen, border = set(), {case.net(key, pin)} - stiff
    for _ in range(MOST_RESISTORS + 1):
        seen |= border
        for net in sorted(border):
            for other, _pin in case.pins_on(net):
                entry = case.bench.parts[other].entry
                if isinstance(entry, Switch) and any(contact.when and _leads(case, other, contact.pins, net)
                                                     for contact in entry.contacts):
                    return other
        border = {case.net(other, end) for net in border for other, its in case.pins_on(net)
                  if isinstance(case.bench.parts[other].entry, Resistor) for end in ("1", "2") if end != its} - seen - stiff
    return None


def _leads(case: Case, key: str, pins: tuple[str, str], net: int) -> bool:
    """True where a contact joins a net to another one that something else is on."""
    ends = {case.net(key, pin) for pin in pins}
    return net in ends and len(ends) == 2 and all(
        any(other != key for other, _ in case.pins_on(end)) for end in ends) and not (ends & case.circuit.uncertain)
