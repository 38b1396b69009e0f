"""Small words: quantities, lists of names, states, as they stand in a sentence."""

from __future__ import annotations

import re
from collections.abc import Sequence

from checker.report.model import Evidence
from checker.report.words import value_in_words
from checker.rules.base import Found
from grammar import show_quantity


def listed(names: Sequence[str]) -> str:
    """"R1", "R1 and R2", "R1, R2 and R3"."""
    unique = list(dict.fromkeys(names))
    if len(unique) <= 1:
        return unique[0] if unique else ""
    return ", ".join(unique[:-1]) + " and " + unique[-1]


LEGS = {"E": "emitter", "B": "base", "C": "collector", "G": "gate", "D": "drain", "S": "source", "A": "anode", "K": "cathode"}
"""What the letters of a transistor's or diode's legs stand for, in sentences about the volts between two of them."""

_BETWEEN_LEGS = re.compile(r"(\S+) (\w+)-(\w+)")


def gets(of: str, volts: str, limit_words: str, would: bool = False) -> str:
    """Volts beside their limit: "Q1 gets 6.4 V between emitter and base; it may get 6 V". ``of`` is as ratings write it."""
    match = _BETWEEN_LEGS.fullmatch(of)
    get = "would get" if would else "gets"
    if match is None:
        name, _, coil = of.partition(" ")
        return f"{name}{chr(39) + 's ' + coil if coil else ''} {get} {volts}; it may get {limit_words}"
    name, *legs = match.groups()
    if legs == ["OUT", "IN"]:
        return f"{name}'s output {'would be' if would else 'is'} {volts} above its input; {limit_words} is the limit"
    return f"{name} {get} {volts} between {' and '.join(LEGS.get(leg, leg) for leg in legs)}; it may get {limit_words}"


HOTTER_THAN_ANY = 400.0
"""Above this temperature a part has long failed: the number says no more."""


def amount(evidence: Evidence) -> str:
    """The value of an evidence with its unit."""
    if evidence.unit == "degC" and evidence.value > HOTTER_THAN_ANY:
        return f"more than {show_quantity(HOTTER_THAN_ANY, evidence.unit)}"
    return value_in_words(evidence)


def limit(evidence: Evidence) -> str:
    """Its limit with the unit, or "" without one."""
    return show_quantity(evidence.limit, evidence.unit) if evidence.limit is not None else ""


def part(found: Found, number: int = 0) -> str:
    """The name of a part that a finding concerns, or "the part"."""
    return found.parts[number] if number < len(found.parts) else "the part"


def point(found: Found, number: int = 0) -> str:
    """A point that a finding concerns."""
    return found.points[number] if number < len(found.points) else ""


def moved(found: Found) -> str:
    """What is to be moved: "the red wire", "LDR1's leg"; "a lead" where that is not known."""
    return found.facts.get("moved", "a lead")


def first(found: Found) -> Evidence | None:
    """The first evidence of a finding."""
    return found.evidence[0] if found.evidence else None


def measured(found: Found, number: int = 0) -> str:
    """The value of one of a finding's evidences, or ""."""
    return amount(found.evidence[number]) if number < len(found.evidence) else ""


def allowed(found: Found, number: int = 0) -> str:
    """The limit of one of a finding's evidences, or ""."""
    return limit(found.evidence[number]) if number < len(found.evidence) else ""


def out_of_reach(found: Found) -> str:
    """What a transistor at a plus that its pin never comes up to wants; "" for any other finding."""
    if "reaches" not in found.facts:
        return ""
    return (f"{found.facts['pin']} reaches {found.facts['reaches']} V, and {found.facts['switch']} switches off only near its "
            f"{found.facts['stands']} V: it wants an NPN transistor between them")
