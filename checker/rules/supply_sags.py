"""A source whose voltage falls below what hangs on it needs."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case, Mask
from parts_library.schema import Chip, SupplyKind

SAGGED = 0.8
"""Share of its nominal voltage below which a loaded supply counts as sagging: from memory, 9 V blocks and AA cells count as
flat at about two thirds to four fifths of their nominal voltage."""


def find(case: Case) -> Iterator[Found]:
    """A supply below four fifths of its nominal voltage under its running load; a chip fed below its minimum."""
    for key, part in case.parts(SupplyKind):
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        nominal = float(entry.voltage or 0.0)
        for mask, severity in (("nominal", "fault"), ("steady", "note")):
            worst = case.worst(case.volts(key, "+", "-"), case.mask(mask) & _not_spent(case), least=True)
            if worst is not None and worst[0] < SAGGED * nominal:
                yield Found(rule="supply-sags", severity=severity, span=part.span, case="supply", parts=(part.name,),
                            evidence=(case.evidence("voltage", part.name, "V", *worst, SAGGED * nominal, True),),
                            weight=nominal / max(worst[0], 0.01))
                break
    for key, part in case.parts(Chip):
        yield from _starved(case, key, part)


def _not_spent(case: Case) -> Mask:
    return np.array([point.corner.supply >= 0 and point.corner.skew == 0 for point in case.operating.points])


def _starved(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    entry = part.entry
    assert isinstance(entry, Chip)
    if not (entry.supply and entry.ground and entry.supply_min):
        return
    worst = case.worst(case.volts(key, entry.supply, entry.ground), case.mask("nominal"))
    if worst is not None and 0.5 < worst[0] < float(entry.supply_min) * 0.99:
        yield Found(rule="supply-sags", severity="fault", span=part.span, case="chip", parts=(part.name,),
                    points=(case.pin_name(key, entry.supply),),
                    evidence=(case.evidence("voltage", case.pin_name(key, entry.supply), "V", *worst,
                                            float(entry.supply_min), True),), needs_whole_list=True)

EXPLANATION = """
"""

RULE = Rule("supply-sags", "current", EXPLANATION, find)
