"""What explaining hands on: a finding with its consequences and fixes, and what one candidate was proven to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from msgspec import Struct

from checker.fixes.candidate import Candidate
from checker.rules.base import Found
from checker.survey import Survey

Look: TypeAlias = tuple[Candidate, Survey]
"""A candidate and the survey of the list that it makes."""

WEIGHTS = {"danger": 1000.0, "damage": 100.0, "fault": 10.0, "look": 1.0, "note": 0.0}
WORTH_CURING = ("danger", "damage", "fault")

EFFECT_RULES = ("level-mismatch", "never-conducts", "expectation-missed", "no-return-path")
"""What something else usually causes: shown after the other findings of its severity."""


class Explained(Struct, frozen=True):
    """A finding as it is shown: its cause first, its consequences under it, the fixes that are proven for it and likely enough
    to be shown; ``others`` are proven too, but much more to do."""

    root: Found
    consequences: tuple[Found, ...] = ()
    fixes: tuple[Candidate, ...] = ()
    others: tuple[Candidate, ...] = ()

    @property
    def choices(self) -> tuple[Candidate, ...]:
        return (*self.fixes, *self.others)


class Proof(Struct, frozen=True):
    """What a candidate does: the keys of the findings that it clears, and the notes that go with them."""

    candidate: Candidate
    cleared: frozenset[object]
    notes: tuple[Found, ...]

    def gain(self, found: Sequence[Found]) -> float:
        """The weight of what it clears of these findings."""
        return sum(WEIGHTS[f.severity] for f in found if f.key in self.cleared)
