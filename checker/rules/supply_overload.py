"""A source asked for more current than it gives."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import ROUNDING, over_limit
from checker.rules.ratings import ratings_of
from parts_library.schema import SupplyKind

LIMIT_REACHED = 0.99
"""An electronic limit counts as reached from here; the source is then no longer a voltage source."""


def find(case: Case) -> Iterator[Found]:
    """Outputs of controllers and regulators above their rating (damage), supplies above theirs or in their limit (fault; a
    note where only a start or a stall does it: they then sag for a moment)."""
    for rating in ratings_of(case):
        if rating.kind == "supply" and (found := over_limit(case, rating, "supply-overload", "output")):
            yield found
    for key, part in case.parts(SupplyKind):
        most, words = _most(part)
        if most is None or case.net(key, "+") == case.net(key, "-"):
            continue
        worst = case.worst(-case.amps(key, "+"), case.mask("steady"))
        reached = most * (LIMIT_REACHED if words == "limit" else ROUNDING)
        if worst is not None and worst[0] > reached:
            nominal = case.worst(-case.amps(key, "+"), case.mask("nominal"))
            settled = nominal is not None and nominal[0] > reached
            value, point = nominal if settled and nominal is not None else worst
            yield Found(rule="supply-overload", severity="fault" if settled else "note",
                        span=part.span, case=words, parts=(part.name,), points=(f"{part.name}.+",),
                        evidence=(case.evidence("current", part.name, "A", value, point, most),), weight=value / most)


def _most(part: BenchPart) -> tuple[float | None, str]:
    entry = part.entry
    assert isinstance(entry, SupplyKind)
    if part.limit is not None:
        return part.limit, "limit"
    if entry.rated is not None:
        return float(entry.rated), "rated"
    if entry.limit is not None:
        return float(entry.limit), "limit" if entry.limit_by == "electronics" else "fuse"
    return None, ""

EXPLANATION = """
"""

RULE = Rule("supply-overload", "current", EXPLANATION, find)
