"""Chips without a capacitor at their supply."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Capacitor, Chip


def find(case: Case) -> Iterator[Found]:
    """One note for all chips with no capacitor between their supply and ground net."""
    bare = []
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        if not (entry.wants_decoupling and entry.supply and entry.ground) or not part.placed:
            continue
        nets = {case.net(key, entry.supply), case.net(key, entry.ground)}
        if len(nets) == 2 and not any({case.net(k, p) for p in cap.pins} == nets for k, cap in case.parts(Capacitor)):
            bare.append(key)
    if bare:
        part = case.bench.parts[bare[0]]
        yield Found(rule="no-decoupling", severity="note", span=part.span, case="chips",
                    parts=tuple(case.name(key) for key in bare))

EXPLANATION = """
"""

RULE = Rule("no-decoupling", "function", EXPLANATION, find)
