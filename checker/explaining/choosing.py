"""Choosing: of what is proven, the candidate that explains the most names the cause; what it clears are its consequences.

Input: proofs and the findings that remain; output: one finding explained at a time.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from checker.explaining.following import Following, leading
from checker.explaining.model import EFFECT_RULES, Explained, Proof
from checker.fixes.candidate import Candidate
from checker.rules.base import Found

NAMED_BONUS = 1.5
"""How much less effort a candidate counts whose cause a rule has found by itself."""

GUESSED_MOVE = 1.0
"""How much more effort a move by a row counts where nothing hangs loose: then it is a guess that happens to help."""

SURE_EFFORT = 1.2
"""Where turning a part round or moving a lead to the other rail cures everything, nothing else is suggested."""

SPREAD_OF_EFFORT = 0.6

SHORTS = ("rails-shorted", "supply-shorted", "supplies-fighting")
"""What a wire does, so that the place to look at is the wire whose move cures it."""

TURNED_RULES = ("led-reversed", "capacitor-reversed", "chip-reversed")
"""Findings that name a part as turned: not the cause where a candidate of another kind cures."""

BY_THEMSELVES = ("part-bridged", "button-always-closed")
"""What can be seen on the board and needs no other cause: the name of what goes away with it, however grave that is."""

MISSING = ("supply-pin-open",)
"""The same where the cure is a wire that was left out."""

FIXES_SHOWN = 3

PLAIN_ORDER = ("hazardous-voltage", "rails-shorted", "supply-shorted", "supplies-fighting", "outputs-fighting", "chip-reversed",
               "capacitor-reversed", "led-reversed", "no-current-limit", "pin-overload", "no-clamp", "too-much-voltage",
               "too-much-current", "too-much-power", "too-hot", "supply-overload", "supply-sags",
               "hole-taken", "outside-board", "leads-do-not-reach", "not-across-channel", "part-bridged", "chip-stopped",
               "button-always-closed", "grounds-not-joined", "dangling-lead", "supply-pin-open", "nothing-powered",
               "no-return-path", "weak-drive", "never-switches", "never-conducts")


def best(proofs: Sequence[Proof], remaining: Sequence[Found], following: Following) -> tuple[Explained, frozenset[object]]:
    """The cause that explains the most of what remains, and the keys of what it explains."""
    first_ones = leading(remaining, following)
    useful = [proof for proof in proofs if proof.gain(first_ones) > 0.0]
    if not useful:
        return _unmended(first_ones, remaining, following)
    named = {f.rule for f in remaining}

    def order(proof: Proof) -> tuple[float, float]:
        return -proof.gain(remaining), _effort(proof, remaining, named)

    first = min(useful, key=order)
    cleared = [f for f in remaining if f.key in first.cleared]
    root, told = _root(first.candidate, cleared, first.candidate.edits[0].line > following.lines)
    consequences = tuple(f for f in (*cleared, *first.notes)
                         if f is not told and f.key != root.key
                         and (f.rule, set(f.parts)) != (root.rule, set(root.parts)))
    alternatives = [p for p in useful if all(f.key in p.cleared for f in cleared) or p is first]
    alternatives.sort(key=order)
    likely = alternatives[:1] if first.candidate.effort <= SURE_EFFORT else [
        p for p in alternatives if p.candidate.effort <= first.candidate.effort + SPREAD_OF_EFFORT]
    shown = _various([p.candidate for p in likely])
    others = _various([p.candidate for p in alternatives if p.candidate not in shown])
    return Explained(root, consequences, shown, others), first.cleared


def surest(candidates: Sequence[Candidate], found: Sequence[Found]) -> tuple[list[Candidate], list[Candidate]]:
    """The candidates beside which no other would be shown if one of them cured all, and the others."""
    named = {f.rule for f in found}
    sure = [c for c in candidates if _counted(c, named) <= SURE_EFFORT]
    return sure, [c for c in candidates if _counted(c, named) > SURE_EFFORT]


def is_settled(proofs: Sequence[Proof], found: Sequence[Found]) -> bool:
    """True where the candidate that would be chosen of these cures all, and would be shown alone."""
    whole = [proof for proof in proofs if all(f.key in proof.cleared for f in found)]
    named = {f.rule for f in found}
    return bool(whole) and min(whole, key=lambda p: _effort(p, found, named)).candidate.effort <= SURE_EFFORT


def _unmended(first_ones: Sequence[Found], remaining: Sequence[Found],
              following: Following) -> tuple[Explained, frozenset[object]]:
    """Where nothing is proven: the plainest of the worst, with what goes with it."""
    plain = min(first_ones, key=lambda f: (f.rank, _plainness(f), -f.weight))
    same = tuple(f for f in remaining if f.key != plain.key and following.goes_with(plain, f))
    return Explained(plain, same), frozenset({plain.key, *(f.key for f in same)})


def _effort(proof: Proof, remaining: Sequence[Found], named: set[str]) -> float:
    """The effort of a candidate, less where a rule has named its cause, more where it is a guess."""
    effort = _counted(proof.candidate, named)
    moved = proof.candidate.cause == "next-strip"
    if moved and not _names_cause(proof.candidate, [f for f in remaining if f.key in proof.cleared]):
        effort += GUESSED_MOVE
    return effort


def _counted(candidate: Candidate, named: set[str]) -> float:
    return candidate.effort - (NAMED_BONUS if candidate.cause in named else 0.0)


def _root(candidate: Candidate, cleared: Sequence[Found], only_adds: bool) -> tuple[Found, Found]:
    """The finding that is shown as the cause, and which of the cleared ones it stands for; ``only_adds`` where nothing that is
    there changes."""
    honest = [f for f in cleared if f.rule in (*BY_THEMSELVES, *(MISSING if only_adds else ()))] or [
        f for f in cleared if f.rule not in TURNED_RULES or f.rule == candidate.cause] or cleared
    worst = min(honest, key=lambda f: (f.rank, _plainness(f), f.span.line != candidate.line, -f.weight))
    root = worst
    if _names_cause(candidate, cleared):
        # a cause is told by the worst that it does
        root = _caused(candidate, min(cleared, key=lambda f: (f.rank, -f.weight)))
    if {"wrong", "ends"} & set(candidate.facts) and root.rule in EFFECT_RULES:
        root = structs.replace(root, facts={**root.facts, **candidate.facts})
    gravest = min(cleared, key=lambda f: f.rank)
    if gravest.rank < root.rank:
        # a cause is as grave as the worst that it does
        root = structs.replace(root, severity=gravest.severity)
    if root.rule in SHORTS:
        root = structs.replace(root, facts={**root.facts, "line": str(candidate.line)})
    if "resistor" in candidate.facts and candidate.parts[0] not in root.parts:
        root = structs.replace(root, parts=(*root.parts, *candidate.parts),
                               facts={**root.facts, "line": str(candidate.line)})
    return root, root if root.case == "cause" else worst


def _various(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """The first few candidates that begin at different lines: one value of a resistor, not three."""
    shown: dict[int, Candidate] = {}
    for candidate in candidates:
        shown.setdefault(candidate.edits[0].line, candidate)
    return tuple(shown.values())[:FIXES_SHOWN]


def _plainness(found: Found) -> float:
    """Among equals, what names a cause comes before what names an effect."""
    place = PLAIN_ORDER.index(found.rule) if found.rule in PLAIN_ORDER else len(PLAIN_ORDER)
    if found.case == "regulator":
        return place - 0.5
    return place + (0.5 if found.rule == "too-much-voltage" and found.case == "pin" else 0.0)


def _names_cause(candidate: Candidate, cleared: Sequence[Found]) -> bool:
    """True where the candidate's cause says more than the finding itself. A lead is one row off only where something
    hangs loose or is bridged, not where any move happens to help."""
    if not candidate.cause:
        return False
    if candidate.cause == "next-strip":
        return any(f.rule in ("dangling-lead", "part-bridged", "supply-pin-open", "button-always-closed",
                              "not-across-channel") for f in cleared)
    return True


def _caused(candidate: Candidate, worst: Found) -> Found:
    """The finding under the name of its cause, with the evidence of the worst that it does."""
    return Found(rule=candidate.cause, severity=worst.severity, span=worst.span, case="cause",
                 parts=candidate.parts or worst.parts, points=candidate.points or worst.points,
                 facts={**candidate.facts, "line": str(candidate.line), "effect": worst.rule, "say": candidate.say},
                 evidence=worst.evidence, weight=worst.weight)
