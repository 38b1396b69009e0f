"""What a cure may not do: detach what the list says is used, cut a supply off, or make worse what it leaves.

Input: surveys of the list before and after a candidate; output: whether something speaks against it. What works before and
after is compared by `survey.keeps`; who heeds which pin by `controls`.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.rules.base import Found
from checker.survey import Survey
from parts_library.schema import Chip, Controller, Regulator

WORSE = 1.1
"""How much farther beyond its limit something may lie after a cure of something else: a tenth is the give of supplies."""

HIGHEST = 1.05
"""A board's own supply at its upper end."""

SPARED_ROLES = ("unused",)


def detaches(base: Survey, after: Survey, cleared: Sequence[Found]) -> bool:
    """True where a pin of which the list says what the program does with it is left on nothing. It may be exchanged for another
    pin, and one of two outputs that fight may go."""
    before, left = _spoken_pins(base.operatings[0].circuit), _spoken_pins(after.operatings[0].circuit)
    allowed = len(left - before) + sum(f.rule == "outputs-fighting" for f in cleared)
    return len(before - left) > allowed


def _spoken_pins(circuit: Circuit) -> set[tuple[str, str]]:
    """The pins with a stated role that share a net with another pin."""
    return {pin for pin, (roles, _) in circuit.bench.roles.items()
            if not set(roles) & set(SPARED_ROLES) and _is_joined(circuit, pin)}


def _is_joined(circuit: Circuit, pin: tuple[str, str]) -> bool:
    return pin in circuit.pin_net and any(other != pin[0] for other, _ in circuit.pins_on[circuit.pin_net[pin]])


def cuts_off(base: Survey, after: Survey, candidate: Candidate) -> bool:
    """True where a supply or ground pin of a part that stays where it is loses what it was joined to."""
    before, then = base.operatings[0].circuit, after.operatings[0].circuit
    lines = {edit.line for edit in candidate.edits}
    return any(_is_joined(before, pin) and not _is_joined(then, pin) for pin in _supply_pins(before)
               if pin in then.pin_net and before.part(pin[0]).span.line not in lines)


def _supply_pins(circuit: Circuit) -> list[tuple[str, str]]:
    found = []
    for key, part in circuit.bench.parts.items():
        entry = part.entry
        if isinstance(entry, Chip):
            pins = entry.supply_pins
        elif isinstance(entry, Regulator):
            pins = ("IN", "GND", "OUT")
        else:
            continue
        found += [(key, pin) for pin in pins if (key, pin) in circuit.pin_net]
    return found


def worsens(before: Found, after: Found) -> bool:
    """True where a finding that stays has become graver, lies farther beyond its limit, or is now also of something else."""
    if after.rank > before.rank or after.severity in ("look", "note"):
        return False
    if after.rank < before.rank or {e.of for e in after.evidence} - {e.of for e in before.evidence}:
        return True
    return _excess(after) > WORSE * _excess(before) > 0.0


def _excess(found: Found) -> float:
    """The largest ratio of a value to its limit, or the other way round where it should have been at least that; 0 without
    numbers."""
    ratios = [abs(e.limit / e.value) if e.least else abs(e.value / e.limit)
              for e in found.evidence if e.limit and e.value]
    return max(ratios, default=0.0)


IDLE = ("never-switches", "never-conducts", "nothing-powered")


def leaves_idle(cleared: Sequence[Found], after: Survey) -> bool:
    """True where a lead that hung loose is all that was mended, and its part still does nothing: it was led to a wrong place."""
    parts = {name for found in cleared for name in found.parts}
    return all(found.rule == "dangling-lead" for found in cleared) and any(
        parts & set(found.parts) for found in after.found if found.rule in IDLE)


PAST = 0.3
"""Volts beyond its own supply at which a pin's protection diode begins to carry something."""


def leaves_past_supply(after: Survey, cleared: Sequence[Found]) -> bool:
    """True where a pin that was driven past its own supply still is, if with a current that it can take: that is no cure."""
    operating = after.operatings[0]
    steady = operating.mask("steady") & operating.converged
    for name in {one.of for found in cleared if found.rule == "too-much-voltage" for one in found.evidence if one.unit == "A"}:
        part, _, pin = name.partition(".")
        board = operating.circuit.bench.part(part)
        if board is None or not isinstance(board.entry, Controller) or (part.lower(), pin) not in operating.circuit.pin_net:
            continue
        ground, high = operating.volts_at(part.lower(), "GND"), float(board.entry.logic) * HIGHEST
        if bool((operating.volts_at(part.lower(), pin) - ground > high + PAST)[steady].any()):
            return True
    return False
