"""A load or light that gets no current in any state."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case
from checker.rules.loads import gets_nothing
from checker.rules.nothing_powered import unfed
from checker.seating.boards import RailPiece


def find(case: Case) -> Iterator[Found]:
    """Loads, LEDs and relay coils without current in every state that the program or the hand can bring about."""
    fed_by_nothing = unfed(case)
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        if not case.is_used(key) or _uncertain(case, key):
            continue
        pins = ("A1", "A2") if "A1" in part.pins else part.pins
        if key not in fed_by_nothing and gets_nothing(case, key, part):
            yield Found(rule="never-conducts", severity="fault", span=part.span, case="load", parts=(part.name,),
                        points=tuple(case.where(key, pin) for pin in pins[:2]), needs_whole_list=True,
                        facts=_why(case, key, pins))


def _uncertain(case: Case, key: str) -> bool:
    return any(case.net(key, pin) in case.circuit.uncertain for pin in case.bench.parts[key].pins)


def _why(case: Case, key: str, pins: tuple[str, ...]) -> dict[str, str]:
    """What each end hangs on, in the reader's words: rails and pins of the same net."""
    return {f"end{number}": _hangs_on(case, key, pin) for number, pin in enumerate(pins[:2])}


def _hangs_on(case: Case, key: str, pin: str) -> str:
    net = case.net(key, pin)
    rails = sorted({str(c) for c in case.circuit.members[net] if isinstance(c, RailPiece)})
    sources = [case.pin_name(other, its) for other, its in case.pins_on(net)
               if other != key and (case.bench.parts[other].is_supply or case.bench.parts[other].is_controller)]
    return " and ".join([*rails, *sources][:2])


EXPLANATION = """
"""

RULE = Rule("never-conducts", "function", EXPLANATION, find)
