"""A chip or regulator whose supply or ground leg reaches nothing."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Chip, Regulator


def find(case: Case) -> Iterator[Found]:
    """Chips, modules and regulators in use whose supply or ground pin has nothing else on its net."""
    for key, part in case.parts(Chip, Regulator):
        if not case.is_used(key):
            continue
        for pin in _supply_pins(part):
            net = case.net(key, pin)
            if case.circuit.is_alone(net) and net not in case.circuit.uncertain:
                yield Found(rule="supply-pin-open", severity="fault", span=part.span, case="open", parts=(part.name,),
                            points=(case.where(key, pin),), facts={"pin": pin}, needs_whole_list=True, weight=5.0)


def _supply_pins(part: BenchPart) -> tuple[str, ...]:
    entry = part.entry
    if isinstance(entry, Regulator):
        return ("IN", "ADJ") if entry.adjustable else ("IN", "GND")
    if isinstance(entry, Chip):
        return tuple(pin for pin in (entry.supply, entry.ground, *entry.more_supplies) if pin)
    return ()

EXPLANATION = """
"""

RULE = Rule("supply-pin-open", "function", EXPLANATION, find)
