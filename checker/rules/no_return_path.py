"""A part on a path that goes nowhere: current that cannot return does not flow."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import LIGHTS_AND_LOADS, Case, paths_of
from parts_library.schema import LedGroup


def find(case: Case) -> Iterator[Found]:
    """Loads and LEDs that lie on no loop although both ends are wired to something."""
    for key, part in case.parts(*LIGHTS_AND_LOADS):
        own = [pins for name, pins in case.bridges if name == key]
        paths = [pins for pins in paths_of(part) if all((key, pin) in case.circuit.touched for pin in pins)]
        if not own or len(own) < len(paths) or isinstance(part.entry, LedGroup):
            continue
        nets = {case.net(key, pin) for pins in own for pin in pins}
        if any(case.circuit.is_alone(net) or net in case.circuit.uncertain for net in nets):
            continue
        pins = own[0]
        yield Found(rule="no-return-path", severity="fault", span=part.span, case="load", parts=(part.name,),
                    points=tuple(case.where(key, pin) for pin in pins), needs_whole_list=True)

EXPLANATION = """
"""

RULE = Rule("no-return-path", "grounding", EXPLANATION, find)
