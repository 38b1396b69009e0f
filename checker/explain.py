"""Explaining: from findings to causes, consequences and proven fixes.

Candidates for a fix are generated from the circuit and surveyed together. One that clears a finding, brings nothing as
bad, and leaves every load and every expectation that held, is proven. The candidate that clears the most names the
cause; what it clears are its consequences; the rest is explained in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, structs

from checker.fixes.adding import addings
from checker.fixes.candidate import Candidate
from checker.fixes.changing import changings
from checker.fixes.draft import applied
from checker.fixes.leads import lead_changes
from checker.fixes.moving import movings
from checker.fixes.supplying import supplyings
from checker.fixes.turning import turnings
from checker.judge import READING_RULES
from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS
from checker.survey import Survey, keeps, survey
from parts_library import Library

SHORTLISTED = 6
"""Candidates a finding that are surveyed in all corners after a first look: more than are ever shown."""

MOST_CANDIDATES = 100
"""Candidates that are surveyed: more would only be slower, the first are those about the parts that were found."""

SMALL_LIST, CANDIDATES_LEAST = 100, 8
"""Up to so many parts and wires all of them are surveyed; a list with more gets fewer, since each costs more."""

MOST_CURED = 40
"""Findings for which a cure is looked for: a list with more is not mended one finding at a time."""

WEIGHTS = {"danger": 1000.0, "damage": 100.0, "fault": 10.0, "look": 1.0, "note": 0.0}
NAMED_BONUS = 1.5
"""How much less effort a candidate counts whose cause a rule has found by itself."""

GUESSED_MOVE = 1.0
"""How much more effort a move by a row counts where nothing hangs loose: then it is a guess that happens to help."""

SURE_EFFORT = 1.2
"""Where turning a part round or moving a lead to the other rail cures everything, nothing else is suggested."""

SPREAD_OF_EFFORT = 0.6
OVERLOADS = ("pin-overload", "too-much-current", "too-much-power", "no-current-limit", "too-hot")

SHORTS = ("rails-shorted", "supply-shorted", "supplies-fighting")
"""What a wire does, so that the place to look at is the wire whose move cures it."""

TURNED_RULES = ("led-reversed", "capacitor-reversed", "chip-reversed")
"""Findings that name a part as turned: not the cause where a candidate of another kind cures."""

FIXES_SHOWN = 3
WORTH_CURING = ("danger", "damage", "fault")
PLACEMENT_ONLY = ("hole-taken", "outside-board", "leads-do-not-reach")
"""Findings without an electrical effect: only a move that keeps every net may cure them."""



class Explained(Struct, frozen=True):
    """A finding as it is shown: its cause first, its consequences under it, the fixes that are proven for it."""

    root: Found
    consequences: tuple[Found, ...] = ()
    fixes: tuple[Candidate, ...] = ()


class _Proof(Struct, frozen=True):
    """What a candidate does: the keys of the findings that it clears, and the notes that go with them."""

    candidate: Candidate
    cleared: frozenset[object]
    notes: tuple[Found, ...]

    def gain(self, found: Sequence[Found]) -> float:
        """The weight of what it clears of these findings."""
        return sum(WEIGHTS[f.severity] for f in found if f.key in self.cleared)


def explain(found: Survey, library: Library) -> tuple[Explained, ...]:
    """The findings of a survey, causes first."""
    curable = [f for f in found.found if f.severity in WORTH_CURING and f.rule not in READING_RULES][:MOST_CURED]
    proofs = _proofs(found, curable, library) if curable and found.operatings else []
    explained = []
    remaining = list(curable)
    while remaining:
        chosen, gone = _best(proofs, remaining)
        explained.append(chosen)
        remaining = [f for f in remaining if f.key not in gone]
    explained = _effects_under_causes(explained)
    nested = {id(f) for e in explained for f in e.consequences}
    named = {(e.root.rule, e.root.parts) for e in explained}
    others = [Explained(f) for f in found.found
              if f not in curable and id(f) not in nested and (f.rule, f.parts) not in named]
    return tuple(sorted((*explained, *others), key=lambda e: (
        e.root.rank, e.root.rule != "outside-board", not e.fixes and e.root.rule in EFFECT_RULES)))


def _effects_under_causes(explained: Sequence[Explained]) -> list[Explained]:
    """What is missed beside another fault, and that no fix of its own mends, goes under the first fault."""
    causes = [e for e in explained if e.root.rule not in ("expectation-missed", "never-switches") or e.fixes]
    effects = [e.root for e in explained if e not in causes]
    if not causes or not effects:
        return list(explained)
    first = causes[0]
    root = next((structs.replace(first.root, facts={**first.root.facts, **effect.facts}) for effect in effects
                 if effect.facts.get("pin") and effect.facts["pin"] in first.root.points), first.root)
    return [Explained(root, (*first.consequences, *effects), first.fixes), *causes[1:]]


# ── proving ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _proofs(base: Survey, curable: Sequence[Found], library: Library) -> list[_Proof]:
    """What is proven. Many candidates get a first look, in the corners in which something was found; those that pass it
    and could be shown are then surveyed in all corners."""
    corners = {evidence.corner for f in curable for evidence in f.evidence} - {"nominal"}
    passed = _surveyed(base, curable, _candidates(base, curable), library, corners)
    shortlist: dict[int, _Proof] = {}
    for key in [f.key for f in curable]:
        useful = sorted((p for p in passed if key in p.cleared), key=lambda p: (-p.gain(curable), p.candidate.effort))
        shortlist.update((id(p), p) for p in useful[:SHORTLISTED])
    return _surveyed(base, curable, [proof.candidate for proof in shortlist.values()], library, None)


def _surveyed(base: Survey, curable: Sequence[Found], candidates: Sequence[Candidate], library: Library,
              corners: set[str] | None) -> list[_Proof]:
    lines = base.bench.tree.lines
    surveys = survey([applied(lines, c.edits) for c in candidates], library, corners)
    notes = [f for f in base.found if f.severity == "note"]
    return [proof for candidate, after in zip(candidates, surveys, strict=True)
            if (proof := _prove(base, after, candidate, curable, notes)) is not None]


def _candidates(base: Survey, curable: Sequence[Found]) -> list[Candidate]:
    """The candidates, those about found parts first, without repeats, bounded."""
    circuit, operating = base.operatings[0].circuit, base.operatings[0]
    made = [*turnings(circuit), *movings(circuit, curable), *addings(circuit, operating, curable),
            *changings(circuit, curable), *lead_changes(circuit, curable), *supplyings(circuit, curable)]
    most = min(MOST_CANDIDATES, max(CANDIDATES_LEAST, MOST_CANDIDATES * SMALL_LIST // max(_size_of(base), 1)))
    if all(f.rule in PLACEMENT_ONLY for f in curable):
        made = [candidate for candidate in made if candidate.cures]
    about = {name.lower() for f in curable for name in f.parts} | {p.lower() for f in curable for p in f.points}
    unique = {candidate.edits: candidate for candidate in reversed(made)}
    # where something carries too much, another value moves nothing and is tried before any guess
    overloaded = any(f.rule in OVERLOADS for f in curable)
    ranked = sorted(unique.values(), key=lambda c: (
        not (overloaded and "resistor" in c.facts) and not about & {w.lower() for w in (*c.parts, *c.points)}, c.effort))
    return ranked[:most]


def _size_of(base: Survey) -> int:
    """Statements that cost: parts and wires."""
    return len(base.bench.parts) + len(base.bench.wires)


def _prove(base: Survey, after: Survey, candidate: Candidate, curable: Sequence[Found],
           notes: Sequence[Found]) -> _Proof | None:
    """What a candidate clears, or None where it clears nothing or breaks something."""
    before_keys = {f.key: f for f in base.found}
    after_keys = {f.key for f in after.found if f.severity != "note"}
    cleared = frozenset(f.key for f in curable if f.key not in after_keys)
    if candidate.cures:
        cleared = frozenset(key for key in cleared if before_keys[key].rule in candidate.cures)
    else:
        cleared = frozenset(key for key in cleared if before_keys[key].rule not in PLACEMENT_ONLY)
    if not any(name.endswith(":off") for name in after.working - base.working):
        cleared = frozenset(key for key in cleared if before_keys[key].rule != "never-switches")
    if {"resistor", "volts"} & set(candidate.facts) and any(f.rule == "never-switches" for f in after.found):
        # another value cannot be right where the load then still runs for ever
        return None
    if not cleared or not keeps(base, after) or not _worth_it(candidate, after):
        return None
    worst = min(before_keys[key].rank for key in cleared)
    news = [f for f in after.found if f.key not in before_keys]
    if any(f.rank <= worst or f.severity in WORTH_CURING or f.rule in READING_RULES for f in news):
        return None
    if any(f.rule in ("weak-drive", "expectation-missed") for f in news):
        return None
    if any(before_keys[f.key].rank > f.rank for f in after.found if f.key in before_keys):
        return None
    return _Proof(candidate, cleared, tuple(f for f in notes if f.key not in {one.key for one in after.found}))


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


# ── choosing ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _best(proofs: Sequence[_Proof], remaining: Sequence[Found]) -> tuple[Explained, frozenset[object]]:
    """The cause that explains the most of what remains, and the keys of what it explains."""
    leading = [f for f in remaining if not any(_follows(cause, f) for cause in remaining)]
    useful = [proof for proof in proofs if proof.gain(leading) > 0.0]
    if not useful:
        plain = min(leading, key=lambda f: (f.rank, _plainness(f), -f.weight))
        same = tuple(f for f in remaining if f.key != plain.key and _goes_with(plain, f))
        return Explained(plain, same), frozenset({plain.key, *(f.key for f in same)})
    named = {f.rule for f in remaining}

    def order(proof: _Proof) -> tuple[float, float]:
        effort = proof.candidate.effort - (NAMED_BONUS if proof.candidate.cause in named else 0.0)
        moved = proof.candidate.cause == "next-strip"
        if moved and not _names_cause(proof.candidate, [f for f in remaining if f.key in proof.cleared]):
            effort += GUESSED_MOVE
        return -proof.gain(remaining), effort

    first = min(useful, key=order)
    cleared = [f for f in remaining if f.key in first.cleared]
    honest = [f for f in cleared if f.rule not in TURNED_RULES or f.rule == first.candidate.cause] or cleared
    worst = min(honest, key=lambda f: (f.rank, _plainness(f), f.span.line != first.candidate.line, -f.weight))
    if _names_cause(first.candidate, cleared):
        # a cause is told by the worst that it does
        root = _caused(first.candidate, min(cleared, key=lambda f: (f.rank, -f.weight)))
    else:
        root = worst
    if "wrong" in first.candidate.facts and root.rule in EFFECT_RULES:
        root = structs.replace(root, facts={**root.facts, **first.candidate.facts})
    gravest = min(cleared, key=lambda f: f.rank)
    if gravest.rank < root.rank:
        # a cause is as grave as the worst that it does
        root = structs.replace(root, severity=gravest.severity)
    if root.rule in SHORTS:
        root = structs.replace(root, facts={**root.facts, "line": str(first.candidate.line)})
    if "resistor" in first.candidate.facts and first.candidate.parts[0] not in root.parts:
        root = structs.replace(root, parts=(*root.parts, *first.candidate.parts),
                               facts={**root.facts, "line": str(first.candidate.line)})
    told = root if root.case == "cause" else worst
    consequences = tuple(f for f in (*cleared, *first.notes)
                         if f is not told and f.key != root.key
                         and (f.rule, set(f.parts)) != (root.rule, set(root.parts)))
    alternatives = [p for p in useful if all(f.key in p.cleared for f in cleared) or p is first]
    alternatives.sort(key=order)
    if first.candidate.effort <= SURE_EFFORT:
        alternatives = alternatives[:1]
    alternatives = [p for p in alternatives if p.candidate.effort <= first.candidate.effort + SPREAD_OF_EFFORT]
    return Explained(root, consequences, _various([p.candidate for p in alternatives])), first.cleared


def _various(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """The first few candidates that begin at different lines: one value of a resistor, not three."""
    shown: dict[int, Candidate] = {}
    for candidate in candidates:
        shown.setdefault(candidate.edits[0].line, candidate)
    return tuple(shown.values())[:FIXES_SHOWN]


EFFECT_RULES = ("level-mismatch", "never-conducts", "expectation-missed", "no-return-path")
"""What something else usually causes: shown after the other findings of its severity."""


def _goes_with(root: Found, other: Found) -> bool:
    """True where one overload shows twice: a pin that carries a coil also takes its clamp current."""
    if _follows(root, other):
        return True
    return root.rule == "pin-overload" and other.rule in ("no-clamp", "too-much-voltage") and bool(
        set(root.parts) & set(other.parts))


def _follows(root: Found, other: Found) -> bool:
    """True for what a fix of its own would not mend: what hangs on a regulator that gets too little in, and what a chip that is
    fed backwards does to itself."""
    if root is other:
        return False
    if root.rule == "supply-sags" and root.case == "regulator":
        return other.rule in STARVED_RULES and other.case != "regulator"
    return root.rule == "chip-reversed" and other.rule in BURNING_RULES and set(other.parts) <= set(root.parts)


BURNING_RULES = ("too-much-voltage", "too-much-current", "too-much-power", "too-hot", "pin-overload")
STARVED_RULES = ("supply-sags", "never-conducts", "weak-drive", "level-mismatch", "expectation-missed", "never-switches")

PLAIN_ORDER = ("hazardous-voltage", "rails-shorted", "supply-shorted", "supplies-fighting", "outputs-fighting", "chip-reversed",
               "capacitor-reversed", "led-reversed", "no-current-limit", "pin-overload", "no-clamp", "too-much-voltage",
               "too-much-current", "too-much-power", "too-hot", "supply-overload", "supply-sags",
               "hole-taken", "outside-board", "leads-do-not-reach", "not-across-channel", "part-bridged",
               "button-always-closed", "grounds-not-joined", "dangling-lead", "supply-pin-open", "nothing-powered",
               "no-return-path", "weak-drive", "never-switches", "never-conducts")


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
