"""A pin that the program is to pulse, but that has no pulse hardware."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Controller


def find(case: Case) -> Iterator[Found]:
    """Controller pins with the role pwm that cannot do it."""
    for key, part in case.parts(Controller):
        entry = part.entry
        assert isinstance(entry, Controller)
        for (owner, pin), (roles, span) in case.bench.roles.items():
            if owner == key and "pwm" in roles and pin not in entry.pwm:
                yield Found(rule="pin-cannot-pwm", severity="fault", span=span, case="pin", parts=(part.name,),
                            points=(f"{part.name}.{pin}",), facts={"pin": pin, "able": " ".join(entry.pwm)})

EXPLANATION = """
"""

RULE = Rule("pin-cannot-pwm", "function", EXPLANATION, find)
