"""The tally of a class: what its rows have in common, counted row by row.

Input: rows with their outcomes. Output: verdicts, the commonest mistakes, the parts most lists got wrong, the marks. It grows
with the number of different mistakes and parts, not with the number of lists.
"""

from __future__ import annotations

from collections import Counter

from msgspec import Struct

from checker.batch.limits import MOST_NAMED
from checker.batch.model import MISSING, NOT_CHECKED, Outcome, Row
from checker.batch.words import is_beside_the_point
from checker.report.model import VERDICTS

PartKey = tuple[str, str]
"""The reference's name for a part, or else what it is."""

HARMS = ("danger", "damage", "fault", "look")
MARK_STEPS = 10


class Mistake(Struct, frozen=True, kw_only=True):
    """One rule over a class: in how many ``lists`` it is a cause, the gravest severity, and one of its messages."""

    rule: str
    lists: int
    severity: str
    message: str


class PartTally(Struct, frozen=True, kw_only=True):
    """One part over a class: what it is, its name where the reference has one for it, in how many lists it is, and in how
    many something is wrong with it."""

    name: str
    kind: str
    lists: int
    wrong: int


class ClassTally(Struct, frozen=True, kw_only=True):
    """A class in numbers. ``title`` is that of more than half of the lists, ``marks`` counts marks of what was handed in by
    tenths of the maximum (the last tenth holds full marks); ``another`` of those that are clear are another circuit than
    the reference; ``alike`` are groups of row numbers; ``alike_bounded`` where
    there were too many lists to look for them."""

    title: str = ""
    lists: int
    checked: int
    different: int
    missing: int
    verdicts: dict[str, int]
    another: int = 0
    mistakes: tuple[Mistake, ...]
    parts: tuple[PartTally, ...]
    expected: int = 0
    met: int = 0
    marked: int = 0
    mark_mean: float = 0.0
    mark_most: float = 0.0
    marks: tuple[int, ...] = ()
    alike: tuple[tuple[int, ...], ...] = ()
    alike_bounded: bool = False


class Tallying:
    """Counts while rows go by."""

    def __init__(self) -> None:
        self.verdicts: Counter[str] = Counter()
        self.rules: Counter[str] = Counter()
        self.worst: dict[str, tuple[int, str, str]] = {}
        self.have: Counter[PartKey] = Counter()
        self.wrong: Counter[PartKey] = Counter()
        self.shown: dict[PartKey, str] = {}
        self.titles: Counter[str] = Counter()
        self.marks = [0] * MARK_STEPS
        self.mark_sum = self.mark_most = 0.0
        self.expected = self.met = self.another = 0

    def add(self, row: Row, outcome: Outcome | None) -> None:
        """One more row; ``outcome`` is None where nothing was checked."""
        self.verdicts[row.verdict] += 1
        self.expected += row.expected
        self.met += row.met
        self.another += is_beside_the_point(row)
        if row.mark is not None:
            self.mark_most = row.mark.most
        if row.verdict != MISSING and row.mark is not None and row.mark.points is not None and row.mark.most:
            self.mark_sum += row.mark.points
            self.marks[min(MARK_STEPS - 1, int(MARK_STEPS * row.mark.points / row.mark.most + 1e-9))] += 1
        if outcome is not None and outcome.report is not None:
            self._findings(outcome)

    def _findings(self, outcome: Outcome) -> None:
        assert outcome.report is not None
        serious = [found for found in outcome.report.findings if found.severity in HARMS]
        self.rules.update({found.rule for found in serious})
        for found in serious:
            rank = HARMS.index(found.severity)
            if found.rule not in self.worst or rank < self.worst[found.rule][0]:
                self.worst[found.rule] = (rank, found.severity, found.message)
        named = {name for found in serious for name in found.parts}
        keys = {name: (own, "") if (own := outcome.pairs.get(name.upper(), "")) else ("", kind.lower())
                for name, kind in outcome.kinds.items()}
        for name, key in keys.items():
            if key in self.shown or len(self.shown) < MOST_NAMED:
                self.shown.setdefault(key, outcome.kinds[name])
        self.have.update(key for key in set(keys.values()) if key in self.shown)
        self.wrong.update(key for key in {keys[name] for name in named if name in keys} if key in self.shown)
        if outcome.report.title and (outcome.report.title in self.titles or len(self.titles) < MOST_NAMED):
            self.titles[outcome.report.title] += 1

    def tally(self, different: int, alike: tuple[tuple[int, ...], ...] = (), alike_bounded: bool = False) -> ClassTally:
        """What was counted so far."""
        marked = sum(self.marks)
        lists = sum(self.verdicts.values()) - self.verdicts[MISSING]
        checked = lists - self.verdicts[NOT_CHECKED]
        return ClassTally(
            title=self._title(checked), lists=lists, checked=checked, different=different, missing=self.verdicts[MISSING],
            verdicts={verdict: self.verdicts[verdict] for verdict in (*VERDICTS, NOT_CHECKED)},
            another=self.another, mistakes=self._mistakes(), parts=self._parts(), expected=self.expected, met=self.met,
            marked=marked,
            mark_mean=round(self.mark_sum / marked, 2) if marked else 0.0, mark_most=self.mark_most,
            marks=tuple(self.marks) if marked else (), alike=alike, alike_bounded=alike_bounded)

    def _mistakes(self) -> tuple[Mistake, ...]:
        ranked = sorted(self.rules.items(), key=lambda item: (-item[1], self.worst[item[0]][0], item[0]))
        return tuple(Mistake(rule=rule, lists=count, severity=self.worst[rule][1], message=self.worst[rule][2])
                     for rule, count in ranked)

    def _parts(self) -> tuple[PartTally, ...]:
        ranked = sorted(self.wrong.items(), key=lambda item: (-item[1], item[0]))
        return tuple(PartTally(name=key[0], kind=self.shown[key], lists=self.have[key], wrong=count)
                     for key, count in ranked)

    def _title(self, checked: int) -> str:
        return next((title for title, count in self.titles.most_common(1) if 2 * count > checked), "")
