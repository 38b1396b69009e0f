"""A chip or button that does not straddle the channel, so that its pins are joined."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.part_bridged import share_strip
from parts_library.schema import Chip, LedGroup, Switch


def find(case: Case) -> Iterator[Found]:
    """Chips with two pins in one strip; buttons whose two contacts share one."""
    for key, part in case.parts(Chip, Switch, LedGroup):
        if len(part.pins) < 4 or key not in case.circuit.reading.seats:
            continue
        entry = part.entry
        joined = [set(c.pins) for c in entry.contacts if not c.when] if isinstance(entry, Switch) else []
        for number, one in enumerate(part.pins):
            for other in part.pins[number + 1:]:
                if {one, other} not in joined and share_strip(case, key, one, other):
                    yield Found(rule="not-across-channel", severity="fault", span=part.span, case="pins",
                                parts=(part.name,), points=(case.where(key, one), case.where(key, other)),
                                facts={"pins": f"{one} and {other}"})
                    break
            else:
                continue
            break

EXPLANATION = """
"""

RULE = Rule("not-across-channel", "placement", EXPLANATION, find)
