"""A button wired through two legs that are one piece of metal."""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Switch


def find(case: Case) -> Iterator[Found]:
    """Switches of which only legs that are always joined are used, and switches whose contact a wire bypasses."""
    for key, part in case.parts(Switch):
        entry = part.entry
        assert isinstance(entry, Switch)
        used = [pin for pin in part.pins if len(case.pins_on(case.net(key, pin))) > 1]
        always = [contact.pins for contact in entry.contacts if not contact.when]
        switched = [contact.pins for contact in entry.contacts if contact.when]
        for one, other in always:
            if set(used) == {one, other} and case.net(key, one) != case.net(key, other):
                yield _found(case, key, part, (one, other), "same-contact")
        for one, other in switched:
            if case.net(key, one) == case.net(key, other) and len(used) >= 2:
                yield _found(case, key, part, (one, other), "bypassed")
                break


def _found(case: Case, key: str, part: BenchPart, pins: tuple[str, str], words: str) -> Found:
    return Found(rule="button-always-closed", severity="fault", span=part.span, case=words, parts=(part.name,),
                 points=tuple(case.where(key, pin) for pin in pins), facts={"pins": " and ".join(pins)})

EXPLANATION = """
"""

RULE = Rule("button-always-closed", "function", EXPLANATION, find)
