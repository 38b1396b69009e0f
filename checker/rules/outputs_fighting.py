"""Two outputs on one net, one driving high, the other low."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from parts_library.schema import Chip, Controller


def find(case: Case) -> Iterator[Found]:
    """Outputs that overload each other: a pin's current is above its maximum and another output takes it."""
    seen = set()
    for rating in ratings_of(case):
        if rating.kind != "pin":
            continue
        others = opponents(case, rating)
        net = case.net(rating.key, rating.pins[0])
        if not others or net in seen:
            continue
        if (found := over_limit(case, rating, "outputs-fighting", "pins")):
            seen.add(net)
            yield Found(rule=found.rule, severity=found.severity, span=found.span, case=found.case,
                        parts=tuple(dict.fromkeys([*found.parts, *(case.name(key) for key, _ in others)])),
                        points=(rating.of, *(case.pin_name(*other) for other in others)),
                        facts={"of": rating.of, "others": ", ".join(case.pin_name(*other) for other in others)},
                        evidence=found.evidence, weight=found.weight)


def opponents(case: Case, rating: Rating) -> list[tuple[str, str]]:
    """Other outputs on the pin's net that carry a like current the other way at the worst point."""
    if rating.kind != "pin":
        return []
    key, pin = rating.key, rating.pins[0]
    worst = case.worst(rating.values, case.mask("steady"))
    if worst is None or worst[0] <= 0.0:
        return []
    at = case.operating.points.index(worst[1])
    amps = case.amps(key, pin)[at]
    found = []
    for other, its_pin in case.pins_on(case.net(key, pin)):
        if (other, its_pin) != (key, pin) and _is_output(case, other, its_pin):
            if case.amps(other, its_pin)[at] * amps < 0 and abs(case.amps(other, its_pin)[at]) > abs(amps) / 4:
                found.append((other, its_pin))
    return found


def _is_output(case: Case, key: str, pin: str) -> bool:
    entry = case.bench.parts[key].entry
    if isinstance(entry, Controller):
        return pin in entry.digital or pin in entry.analog
    return isinstance(entry, Chip) and any(pin in output.pins for output in entry.outputs)

EXPLANATION = """
"""

RULE = Rule("outputs-fighting", "shorts", EXPLANATION, find)
