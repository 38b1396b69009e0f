"""One fault against the checker: what the oracle says happens, what the report says, and whether the two agree.

Input: a correct list's outcome and a ``Fault``. Output: a ``Result``. "Harmful" is a rating passed by more than the oracle's
margin; "dead" is a lamp or load that worked and does so no longer, or is always on. What is near a limit is left out.
"""

from __future__ import annotations

import time

from msgspec import Struct

from checker import Report, check
from checker.fixes.draft import made
from tests.faults.edits import Fault
from tests.faults.geometry import NotCovered
from tests.faults.nets import Wired, wired
from tests.faults.oracle import Outcome, outcome
from tests.faults.solve import Unsolved

LIT = 3e-4
"""Amps from which an LED is seen to glow."""

AT_WORK = 0.5
"""Share of its usual current from which a load other than an LED does its work."""


class Result(Struct):
    """``truth``: harmful, dead, same, near, unknown. ``named``: the first finding is about the cause; ``fix``: it has a checked
    fix; ``cured``: with that fix made the oracle finds nothing harmful, and every load works that worked before."""

    base: str
    kind: str
    say: str
    truth: str
    harm: str = ""
    verdict: str = ""
    first: str = ""
    named: bool = False
    fix: bool = False
    cured: bool = True
    seconds: float = 0.0
    text: str = ""


def truth(base: Outcome, text: str) -> tuple[str, str]:
    """What becomes of the list: the class and the worst stress."""
    try:
        now = outcome(text)
    except NotCovered as reason:
        return "unknown", str(reason)
    except Unsolved:
        return "unknown", "no operating point"
    if now.harms:
        what, factor, state = now.harms[0]
        return "harmful", f"{what} {factor:.2f} times its limit ({state})"
    if now.borderline or now.unknown:
        return "near", now.unknown or now.borderline[0][0]
    if now.partial:
        return "unknown", "a chip of which only the supply is modelled"
    dead = _dead(base, now)
    return ("dead", dead) if dead else ("same", "")


def _dead(base: Outcome, now: Outcome) -> str:
    """The first load that has stopped working, or that cannot be switched off any more."""
    for name, before in base.active.items():
        after = now.active.get(name)
        if after is None:
            continue
        least = max(LIT, 0.0 if name.startswith(("led", "d")) and max(before.values()) < 0.03 else AT_WORK * max(before.values()))
        was, is_now = [a >= least for a in before.values()], [a >= least for a in after.values()]
        if any(was) and not any(is_now):
            return f"{name} no longer works"
        if any(was) and not all(was) and is_now and all(is_now):
            return f"{name} is always on"
    return ""


def judged(name: str, base_text: str, base: Outcome, fault: Fault, asked: tuple[str, ...]) -> Result:
    """The result of one fault; the checker is asked about those whose truth is in ``asked``."""
    what, harm = truth(base, fault.text)
    result = Result(name, fault.kind, fault.say, what, harm, text=fault.text)
    if what in asked:
        began = time.perf_counter()
        report = check(fault.text)
        result.seconds = time.perf_counter() - began
        result.verdict = report.verdict
        _first(result, report, fault, wired(base_text), base)
    return result


def _first(result: Result, report: Report, fault: Fault, base: Wired, before: Outcome) -> None:
    if not report.findings:
        return
    first = report.findings[0]
    result.first = f"{first.severity} {first.rule} {' '.join(first.parts)} line {first.span.line}: {first.message}"
    proven = [fix for fix in first.fixes if fix.checked]
    result.fix = bool(proven)
    touched = {edit.line for fix in proven for edit in fix.edits}
    named = {part.lower() for part in first.parts}
    result.named = bool(first.span.line in fault.lines or named & fault.parts or touched & fault.lines
                        or {p.lower() for p in first.points} & {p.lower() for p in fault.points})
    if not result.named and fault.missing:
        result.named = bool(named & _neighbours(fault, base)) or bool(_strips(first.points) & _strips(tuple(fault.points)))
    if proven and result.truth == "harmful":
        result.cured = _is_cured(made(report.lines, proven[0].edits), before)


def _is_cured(text: str, before: Outcome) -> bool:
    try:
        now = outcome(text)
        return not now.harms and (now.partial or not _dead(before, now))
    except (NotCovered, Unsolved):
        return True


def _neighbours(fault: Fault, base: Wired) -> set[str]:
    """The parts that share a net with what is missing."""
    nets = {net for (part, _), net in base.nets.items() if part in fault.parts and len(fault.points) == 0}
    nets |= {base.net_of[strip] for strip in _strips(tuple(fault.points)) if strip in base.net_of}
    nets |= {base.net_of[point.lower()] for point in fault.points if point.lower() in base.net_of}
    return {part for (part, _), net in base.nets.items() if net in nets}


def _strips(points: tuple[str, ...]) -> set[str]:
    """Strips (``left 12``, ``right 12``) and rails (``L+``) of points as they are written."""
    found = set()
    for point in points:
        board, _, bare = point.lower().rpartition(":")
        if len(bare) > 1 and bare[0] in "abcdefghij" and bare[1:].isdigit():
            found.add(f"{board} {'left' if bare[0] in 'abcde' else 'right'} {bare[1:]}")
        elif bare[:2] in ("l+", "l-", "r+", "r-"):
            found.add(f"{board} {bare[:2]}")
    return found
