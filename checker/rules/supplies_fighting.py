"""Two sources on one net that push current into each other."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checker.bench.model import BenchPart
from checker.operating.points import Point
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Controller, Regulator, SupplyKind

LEAST_AMPS = 0.02
"""Below 20 mA a battery or module takes no harm from a neighbour (common practice, no source)."""

RECHARGEABLE = ("nimh", "nicd", "lead", "lead-acid", "lithium", "lipo", "li-ion")


def find(case: Case) -> Iterator[Found]:
    """Supplies that are made to absorb current, with supplies that are nominally equal five per cent apart."""
    for key, part in case.parts(SupplyKind):
        if case.net(key, "+") == case.net(key, "-"):
            continue
        entry = part.entry
        assert isinstance(entry, SupplyKind)
        worst = case.worst(case.amps(key, "+"), case.mask("steady"))
        if worst is None or worst[0] <= LEAST_AMPS or _is_charging(case, key, entry):
            continue
        others = _others(case, key, worst[1])
        lithium = any(isinstance(e := case.bench.parts[k].entry, SupplyKind) and "li" in e.chemistry.lower()[:2]
                      for k in (key, *others))
        yield Found(rule="supplies-fighting", severity="danger" if lithium else "damage", span=part.span,
                    case="supplies", parts=tuple(case.name(k) for k in (key, *others)),
                    points=(case.where(key, "+"),), weight=worst[0],
                    evidence=(case.evidence("current", f"into {part.name}", "A", *worst, LEAST_AMPS),))
    for key, part in case.parts(Controller):
        yield from _into_usb(case, key, part)


def _into_usb(case: Case, key: str, part: BenchPart) -> Iterator[Found]:
    """Current that an outside supply pushes through the 5V pin into a plugged USB port."""
    name = f"{part.name} USB"
    plugged = np.array([point.state.get(name, "plugged") == "plugged" for point in case.operating.points])
    power = case.bench.powers.get(key)
    if (power is not None and "usb" not in power.ways) or (key, "5V") not in case.circuit.touched:
        return
    into = case.amps(key, "5V") - 0.06
    worst = case.worst(into, case.mask("steady") & plugged)
    if worst is not None and worst[0] > LEAST_AMPS:
        others = [case.name(k) for k in _others(case, key, worst[1])]
        yield Found(rule="supplies-fighting", severity="damage", span=part.span, case="usb",
                    parts=(part.name, *others), points=(f"{part.name}.5V",), weight=worst[0],
                    evidence=(case.evidence("current", f"into {part.name}.5V", "A", *worst, LEAST_AMPS),))


def _is_charging(case: Case, key: str, entry: SupplyKind) -> bool:
    """A solar cell may charge cells that are made for it."""
    solar = any(isinstance(e := other.entry, SupplyKind) and e.chemistry == "solar" for _, other in case.parts())
    return solar and entry.chemistry.lower() in RECHARGEABLE[:4]


def _others(case: Case, key: str, point: Point) -> list[str]:
    """The sources that deliver where this one absorbs."""
    at = case.operating.points.index(point)
    others = [k for k, _ in case.parts(SupplyKind) if k != key and case.amps(k, "+")[at] < -LEAST_AMPS]
    return others or [k for k, _ in case.parts(Controller, Regulator) if k != key][:1]

EXPLANATION = """
"""

RULE = Rule("supplies-fighting", "shorts", EXPLANATION, find)
