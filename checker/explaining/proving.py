"""Proving: candidates are surveyed, and kept where they clear something and break nothing.

Input: the survey of a list and its findings that are worth curing; output: proofs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from checker.explaining.candidates import MOST_VOLTS, PLACEMENT_ONLY, candidates_of
from checker.explaining.choosing import is_settled, surest
from checker.explaining.conditions import cuts_off, detaches, leaves_idle, leaves_past_supply, worsens
from checker.explaining.controls import heeded, runs_for_ever, wired_controls
from checker.explaining.model import WEIGHTS, WORTH_CURING, Look, Proof
from checker.explaining.pairs import LIKELY_CAUSES, next_steps, paired
from checker.fixes.candidate import Candidate
from checker.fixes.draft import applied
from checker.judge import READING_RULES
from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS
from checker.survey import Survey, keeps, survey
from parts_library import Library
from parts_library.schema import Regulator

SHORTLISTED = 6
"""Candidates a finding that are surveyed in all corners after a first look: more than are ever shown."""

MOST_FIRST_STEPS, STEPS_LEAST = 4, 8
"""First steps that are gone on from, and how many second steps are tried however large the list."""

TURNED_TWO_LEGS = ("diode-reversed", "led-reversed", "capacitor-reversed", "supply-reversed")
"""What cannot be right whatever else is wrong, so that a lesser fault which shows once it is turned does not speak against it."""

BACKWARDS = ("supply-reversed", "chip-reversed", "transistor-legs-swapped", "regulator-legs-swapped")
"""Where what was fed backwards is fed forwards, or each lead is at the leg it was meant for, other resistors carry a current than
before."""

OTHER_LEGS = ("transistor-legs-swapped", "regulator-legs-swapped")

REVEALED = ("weak-drive", "never-switches")
"""What may show once something graver is turned round: the graver one hid it."""


class Proving:
    """The proofs for one list. ``singles`` are of one change; where they leave the list with faults, ``in_two_steps`` looks for a
    second change after one of those that only fail because something else shows."""

    def __init__(self, base: Survey, curable: Sequence[Found], library: Library) -> None:
        self._base, self._curable, self._library = base, curable, library
        candidates = candidates_of(base, curable)
        sure, rest = surest(candidates, curable)
        self.singles, self._looks = _twice(base, curable, sure, library)
        if is_settled(self.singles, curable):
            return
        more, looks = _twice(base, curable, rest, library)
        self.singles, self._looks = [*self.singles, *more], [*self._looks, *looks]
        if not _worst_is_cleared(curable, self.singles):
            pairs = paired([c for c in candidates if not _is_right(base, c)])
            self.singles += _proven(base, curable, _looked_at(base, pairs, library, None))

    def in_two_steps(self) -> list[Proof]:
        """Proofs of two changes, one after the other, that leave nothing to mend."""
        near = [candidate for candidate, _ in _near_misses(self._base, self._curable, self._looks)][:MOST_FIRST_STEPS]
        steps = next_steps(_looked_at(self._base, near, self._library, None))
        most = max(STEPS_LEAST, MOST_VOLTS // 2 // max(self._base.operatings[0].volts.size, 1))
        return _twice(self._base, self._curable, steps[:most], self._library)[0]


def _worst_is_cleared(curable: Sequence[Found], proofs: Sequence[Proof]) -> bool:
    worst = min(f.rank for f in curable)
    return any(f.key in proof.cleared for f in curable if f.rank == worst for proof in proofs)


def _near_misses(base: Survey, curable: Sequence[Found], looks: Sequence[Look]) -> list[Look]:
    """Those that clear one of the worst findings and stop nothing that worked: parts turned and joins missing first, then those
    that leave the least harm."""
    worst = min(f.rank for f in curable)
    keys = {f.key for f in curable if f.rank == worst}
    useful = [(candidate, after) for candidate, after in looks
              if keys - {f.key for f in after.found} and keeps(base, after, candidate.cause not in BACKWARDS)
              and not detaches(base, after, curable) and not cuts_off(base, after, candidate)]
    return sorted(useful, key=lambda look: (look[0].cause not in LIKELY_CAUSES, sum(WEIGHTS[f.severity] for f in look[1].found),
                                            look[0].effort))


def _is_right(base: Survey, candidate: Candidate) -> bool:
    """True for a part that works as it is, and for a supply that something works on: turning it mends nothing."""
    if candidate.cause == "supply-reversed":
        return any(":" not in name for name in base.working)
    return any(name.lower() in base.working for name in candidate.parts)


def _twice(base: Survey, curable: Sequence[Found], candidates: Sequence[Candidate],
           library: Library) -> tuple[list[Proof], list[Look]]:
    """Many candidates get a first look, in the corners in which something was found; those that pass it and could be shown
    are then surveyed in all corners. The proofs, and all first looks."""
    corners = {evidence.corner for f in curable for evidence in f.evidence} - {"nominal"}
    looks = _looked_at(base, candidates, library, corners)
    passed = _proven(base, curable, looks)
    shortlist: dict[int, Proof] = {}
    for key in [f.key for f in curable]:
        useful = sorted((p for p in passed if key in p.cleared), key=lambda p: (-p.gain(curable), p.candidate.effort))
        shortlist.update((id(p), p) for p in useful[:SHORTLISTED])
    again = _looked_at(base, [*(proof.candidate for proof in shortlist.values()), *_unsolved(looks)], library, None)
    return _proven(base, curable, again), looks


def _unsolved(looks: Sequence[Look]) -> list[Candidate]:
    """Those of which a first look, which gives up early, could not say what they do."""
    open_ones = [candidate for candidate, after in looks if after.operatings and not after.operatings[0].converged.all()]
    return sorted(open_ones, key=lambda candidate: candidate.effort)[:SHORTLISTED]


def _looked_at(base: Survey, candidates: Sequence[Candidate], library: Library, corners: set[str] | None) -> list[Look]:
    lines = base.bench.tree.lines
    return list(zip(candidates, survey([applied(lines, c.edits) for c in candidates], library, corners), strict=True))


def _proven(base: Survey, curable: Sequence[Found], looks: Sequence[Look]) -> list[Proof]:
    notes = [f for f in base.found if f.severity == "note"]
    return [proof for candidate, after in looks if (proof := _prove(base, after, candidate, curable, notes)) is not None]


def _prove(base: Survey, after: Survey, candidate: Candidate, curable: Sequence[Found],
           notes: Sequence[Found]) -> Proof | None:
    """What a candidate clears, or None where it clears nothing or breaks something."""
    if {"resistor", "volts"} & set(candidate.facts) and any(f.rule == "never-switches" for f in _in_any_reading(after)):
        # another value cannot be right where the load then still runs for ever
        return None
    cleared = _cleared(base, after, candidate, curable)
    if candidate.cause in OTHER_LEGS and _does_its_work(base, candidate, [f for f in curable if f.key in cleared]):
        return None
    if candidate.pair and any(f.severity in WORTH_CURING for f in after.found):
        # two changes at once are believed only where nothing is left to mend
        return None
    if not cleared or not keeps(base, after, candidate.cause not in BACKWARDS) or not _worth_it(candidate, after):
        return None
    before = {f.key: f for f in base.found}
    worst = min(before[key].rank for key in cleared)
    news = [f for f in after.found if f.key not in before and not _is_revealed(candidate, f, worst)]
    if any(f.rank <= worst or f.severity in WORTH_CURING or f.rule in READING_RULES for f in news):
        return None
    if any(f.rule in ("weak-drive", "too-much-voltage") for f in news):
        return None
    if any(worsens(before[f.key], f) for f in after.found if f.key in before):
        return None
    gone = [before[key] for key in cleared]
    if not _is_heeded(base, after, gone) or detaches(base, after, gone) or cuts_off(base, after, candidate):
        return None
    if _leaves_half(candidate, gone, after) or leaves_past_supply(after, gone) or leaves_idle(gone, after):
        return None
    return Proof(candidate, cleared, tuple(f for f in notes if f.key not in {one.key for one in after.found}))


def _does_its_work(base: Survey, candidate: Candidate, cleared: Sequence[Found]) -> bool:
    """True where every load works, and can be switched off, as the legs are, and nothing says that the part is fed backwards:
    with another order of its legs something only gets less than it got too much of."""
    against = [f for f in (*cleared, *base.found) if set(f.parts) & set(candidate.parts)]
    if any(f.rule in ("too-much-voltage", "supply-pin-open", *OTHER_LEGS) for f in against):
        return False
    loads = [key for key, part in base.bench.parts.items() if isinstance(part.entry, LIGHTS_AND_LOADS)]
    return bool(loads) and all({key, f"{key}:off"} <= base.working for key in loads)


def _in_any_reading(after: Survey) -> Iterator[Found]:
    """All that was found, and what would be found if a question about the board were answered in one way or another."""
    for found in after.found:
        yield from (found, *(then for answer in found.answers for then in answer.then))


Key: TypeAlias = tuple[str, tuple[str, ...], str]


def _cleared(base: Survey, after: Survey, candidate: Candidate, curable: Sequence[Found]) -> frozenset[Key]:
    """The keys of the findings that a candidate clears and may claim."""
    still = {f.key for f in after.found if f.severity != "note"}
    gone = [f for f in curable if f.key not in still]
    if candidate.cures:
        gone = [f for f in gone if f.rule in candidate.cures]
    elif all(f.rule in PLACEMENT_ONLY for f in gone):
        # whatever moves something away would cure these; who cures what the circuit does may claim them besides
        gone = []
    if not any(name.endswith(":off") for name in after.working - base.working) and not _newly_heeded(base, after, gone):
        gone = [f for f in gone if f.rule != "never-switches" or f.case == "output"]
    legs = candidate.cause == "regulator-legs-swapped" and all(f.rule == "too-hot" for f in gone)
    if legs or {"resistor", "wrong"} & set(candidate.facts):
        # a regulator that is spared by a load that gets less, or hangs elsewhere, is no cure; nor is heat all that wrong legs do
        gone = [f for f in gone if not (f.rule == "too-hot" and f.parts and _is_regulator(base, f.parts[0]))]
    return frozenset(f.key for f in gone)


def _newly_heeded(base: Survey, after: Survey, gone: Sequence[Found]) -> bool:
    """True where a pin or button that nothing heeded is heeded now; asked only where something never switched."""
    return any(f.rule == "never-switches" for f in gone) and bool(heeded(after.operatings[0]) - heeded(base.operatings[0]))


def _leaves_half(candidate: Candidate, gone: Sequence[Found], after: Survey) -> bool:
    """True where a part is no longer bridged but gets no current, or where another value leaves an expectation of the same part
    missed: then it was not the slip."""
    names = {name for f in gone for name in f.parts}
    bridged = {name for f in gone if f.rule == "part-bridged" for name in f.parts}
    by_value = bool({"resistor", "volts"} & set(candidate.facts))
    return any((f.rule == "never-conducts" and bridged & set(f.parts))
               or (by_value and f.rule == "expectation-missed" and f.severity == "fault" and names & set(f.parts))
               for f in after.found)


def _is_regulator(base: Survey, name: str) -> bool:
    part = base.bench.part(name)
    return part is not None and isinstance(part.entry, Regulator)


def _is_revealed(candidate: Candidate, new: Found, worst: int) -> bool:
    """True for a lesser fault that only shows since something graver was turned round."""
    return candidate.cause in TURNED_TWO_LEGS and new.rule in REVEALED and new.rank > worst


def _is_heeded(base: Survey, after: Survey, cleared: Sequence[Found]) -> bool:
    """True where every pin and button that was heeded still is, and no load newly runs for ever beside one that is not."""
    circuit = base.operatings[0].circuit
    controls = wired_controls(circuit)
    if not controls:
        return True
    mattering = heeded(after.operatings[0])
    lost = controls.keys() - mattering
    # a pin may be exchanged for another one, and one of two that fight may go
    others = len(mattering - controls.keys()) + sum(f.rule == "outputs-fighting" for f in cleared)
    if lost and len(lost & heeded(base.operatings[0])) > others:
        return False
    newly = {name for name in after.working - base.working if ":" not in name and f"{name}:off" not in after.working}
    newly = {name for name in newly if isinstance(after.bench.parts[name].entry, LIGHTS_AND_LOADS)}
    idle = {name: controls[name] for name in lost}
    return not idle or not any(runs_for_ever(circuit, name, idle) for name in newly)


def _worth_it(candidate: Candidate, after: Survey) -> bool:
    """A supply or a transistor counts as the wrong way round only where everything works once it is turned: turning it stops
    much harm by chance."""
    if candidate.cause not in ("supply-reversed", "transistor-legs-swapped", "regulator-legs-swapped", "chip-reversed"):
        return True
    if any(f.severity in ("danger", "damage") and set(f.parts) & set(candidate.parts) for f in after.found):
        return False
    if "exchanged" in candidate.facts:
        return True
    return all(key in after.working for key, part in after.bench.parts.items() if isinstance(part.entry, LIGHTS_AND_LOADS))
