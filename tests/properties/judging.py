"""What must stay the same: the verdict, and each finding's rule, severity and parts.

Two depths. ``found_in`` is what the rules find, before causes and fixes (a few hundredths of a second); ``reported`` is what
the reader sees: causes with their consequences, and the fixes.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

from msgspec import Struct

from checker.checking import check
from checker.compose import verdict_of
from checker.survey import Survey, survey
from parts_library import load_library

LIBRARY = load_library()
Told = Counter[tuple[str, str, tuple[str, ...]]]


class Judged(Struct, frozen=True):
    """A verdict and the findings as (rule, severity, parts in the order of the alphabet), each with how often it is there."""

    verdict: str
    findings: dict[tuple[str, str, tuple[str, ...]], int]

    def without(self, *rules: str) -> Judged:
        """The same with some rules not looked at; the verdict then says nothing and is left out too."""
        return Judged("", {key: count for key, count in self.findings.items() if key[0] not in rules})

    def in_letters(self) -> Judged:
        """The names of parts without their numbers."""
        told: Told = Counter()
        for (rule, severity, parts), count in self.findings.items():
            told[rule, severity, tuple(sorted(re.sub(r"\d+$", "", part) for part in parts))] += count
        return Judged(self.verdict, dict(told))

    def against(self, other: Judged) -> str:
        """What only one of the two says."""
        mine, others = set(self.findings.items()), set(other.findings.items())
        return f"{self.verdict} / {other.verdict}; only before: {sorted(mine - others)}; only after: {sorted(others - mine)}"

    def has(self, rule: str) -> bool:
        return any(key[0] == rule for key in self.findings)


@lru_cache(maxsize=512)
def surveyed(text: str) -> Survey:
    return survey([text], LIBRARY)[0]


def found_in(text: str) -> Judged:
    """What the rules find, and the verdict of that."""
    one = surveyed(text)
    told = Counter((f.rule, f.severity, tuple(sorted(part.lower() for part in f.parts))) for f in one.found)
    return Judged(verdict_of(one.found, one), dict(told))


@lru_cache(maxsize=512)
def reported(text: str) -> Judged:
    """What the report says: the verdict, and its findings without what follows from them."""
    report = check(text)
    told = Counter((f.rule, f.severity, tuple(sorted(part.lower() for part in f.parts))) for f in report.findings)
    return Judged(report.verdict, dict(told))
