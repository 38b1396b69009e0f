"""Explaining: from findings to causes, consequences and proven fixes.

Candidates for a fix are generated from the circuit and surveyed together. One that clears a finding, brings nothing as
bad, and leaves every load and every expectation that held, is proven. The candidate that clears the most names the
cause; what it clears are its consequences; the rest is explained in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from checker.explaining.choosing import best
from checker.explaining.following import Following
from checker.explaining.model import EFFECT_RULES, WORTH_CURING, Explained, Proof
from checker.explaining.proving import Proving
from checker.explaining.together import together
from checker.judge import READING_RULES
from checker.rules.base import Found
from checker.survey import Survey
from parts_library import Library

__all__ = ["Explained", "explain"]

MOST_CURED = 40
"""Findings for which a cure is looked for: a list with more is not mended one finding at a time."""


def explain(found: Survey, library: Library) -> tuple[Explained, ...]:
    """The findings of a survey, causes first."""
    curable = [f for f in found.found if f.severity in WORTH_CURING and f.rule not in READING_RULES][:MOST_CURED]
    # a list that can hurt its reader gets no advice on how to run it
    is_hazardous = any(f.rule == "hazardous-voltage" for f in found.found)
    if curable and found.operatings and not is_hazardous:
        explained = _proven(found, curable, library)
    else:
        explained = _chosen([], curable, Following(found.operatings[0].circuit if found.operatings else None))
    nested = {id(f) for e in explained for f in e.consequences}
    named = {(e.root.rule, e.root.parts) for e in explained}
    others = [Explained(f) for f in found.found
              if f not in curable and id(f) not in nested and (f.rule, f.parts) not in named]
    return tuple(sorted((*explained, *others), key=lambda e: (
        e.root.rank, e.root.rule != "outside-board", not e.fixes and e.root.rule in EFFECT_RULES)))


def _proven(found: Survey, curable: Sequence[Found], library: Library) -> list[Explained]:
    """The causes with what is proven for them; in two steps where single ones do not cure the list."""
    proving, following = Proving(found, curable, library), Following(found.operatings[0].circuit)
    explained, cured = together(found, _chosen(proving.singles, curable, following), library)
    if not cured and (more := proving.in_two_steps()):
        explained, _ = together(found, _chosen([*proving.singles, *more], curable, following), library)
    return explained


def _chosen(proofs: Sequence[Proof], curable: Sequence[Found], following: Following) -> list[Explained]:
    explained = []
    remaining = list(curable)
    while remaining:
        chosen, gone = best(proofs, remaining, following)
        explained.append(chosen)
        remaining = [f for f in remaining if f.key not in gone]
    return _effects_under_causes(explained)


def _effects_under_causes(explained: Sequence[Explained]) -> list[Explained]:
    """What is missed beside another fault, and that no fix of its own mends, goes under the first fault."""
    causes = [e for e in explained if e.root.rule not in ("expectation-missed", "never-switches") or e.fixes]
    effects = [e.root for e in explained if e not in causes]
    if not causes or not effects:
        return list(explained)
    first = causes[0]
    root = next((structs.replace(first.root, facts={**first.root.facts, **effect.facts}) for effect in effects
                 if effect.facts.get("pin") and effect.facts["pin"] in first.root.points), first.root)
    return [structs.replace(first, root=root, consequences=(*first.consequences, *effects)), *causes[1:]]
