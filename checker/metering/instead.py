"""What another reading means: the likeliest faults behind each value that a meter tells from the others.

Input: the faults that a reading shows, each with its value. Output: ``Instead``, the likeliest first. Values that are too near
each other for two probes and a tired battery are one; faults of one part or wire are said once.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isinf

from checker.metering.model import Instead
from checker.metering.words import shows, volts_show
from checker.suspects import Suspect

MOST_INSTEAD, MOST_MEANS = 3, 3

APART_OHMS, APART_DIODE = 1.2, 0.15
"""Values that lie within this ratio, and within so many volts on diode test, nobody tells apart: tolerances and temperature
alone move them so far (common practice, no source)."""

APART_VOLTS, APART_SHARE = 0.25, 0.08
"""The same for a voltage: volts, and as a share; a battery that is not quite fresh moves it by as much."""

Fault = tuple[Suspect, float]


def instead(kind: str, faults: Sequence[Fault], short: float = 0.0) -> tuple[Instead, ...]:
    """The other readings of a ``kind`` ("ohms", "diode" or "volts") and their likeliest faults; ohms under ``short`` are a
    short."""
    groups = [_group(kind, found, short) for found in _clusters(kind, faults, short)]
    ranked = sorted(groups, key=lambda group: -sum(suspect.prior for suspect in group[1]))[:MOST_INSTEAD]
    order = {id(suspect): number for number, (suspect, _) in enumerate(faults)}
    return tuple(_meaning(shown, sorted(found, key=lambda suspect: (-suspect.prior, order[id(suspect)])))
                 for shown, found in ranked)


def _clusters(kind: str, faults: Sequence[Fault], short: float) -> list[list[Fault]]:
    """Faults whose values no meter tells apart, from the lowest value up."""
    clusters: list[list[Fault]] = []
    for fault in sorted(faults, key=lambda one: one[1]):
        if clusters and _alike(kind, clusters[-1][0][1], fault[1], short):
            clusters[-1].append(fault)
        else:
            clusters.append([fault])
    return clusters


def _alike(kind: str, one: float, other: float, short: float) -> bool:
    """True for two values, the lower one first, that look the same."""
    if isinf(one) or isinf(other):
        return isinf(one) and isinf(other)
    if kind == "ohms":
        return other < short or (one >= short and other <= APART_OHMS * one)
    return other - one <= (APART_DIODE if kind == "diode" else max(APART_VOLTS, APART_SHARE * abs(other)))


def _group(kind: str, found: Sequence[Fault], short: float) -> tuple[str, list[Suspect]]:
    """How the likeliest value of a cluster shows, and its faults."""
    value = max(found, key=lambda fault: fault[0].prior)[1]
    return volts_show(value) if kind == "volts" else shows(kind, value, short), [suspect for suspect, _ in found]


def _meaning(shown: str, found: Sequence[Suspect]) -> Instead:
    says = in_short(found)
    return Instead(shown, tuple(says[:MOST_MEANS]), max(len(says) - MOST_MEANS, 0))


LOOSE = "is loose"
PLACES = ("wire-loose", "leg-open", "row-off", "wrong-rail")
"""Kinds of faults of which the hand needs no more than where to look and for what."""


def in_short(suspects: Sequence[Suspect]) -> list[str]:
    """Faults in a few words, those of one leg or wire together: ``a leg of R1 is loose or in a wrong hole``. What is in
    one wrong hole only is named with that hole."""
    said: dict[str, list[Suspect]] = {}
    for suspect in suspects:
        said.setdefault(_subject(suspect) or suspect.say, []).append(suspect)
    return [_together(subject, found) for subject, found in said.items()]


def _subject(suspect: Suspect) -> str:
    """The leg, wire or lead that is loose or elsewhere; "" for any other fault."""
    match = re.match(r"(.+?) (?:is missing|makes no contact|is in |ends in )", suspect.say)
    if suspect.kind not in PLACES or match is None:
        return ""
    lead = re.fullmatch(r"(.+)'s (plus|minus)", match[1])
    if lead is not None:
        return f"the {'+' if lead[2] == 'plus' else '-'} lead of {lead[1]}"
    return re.sub(r"^(.+)'s leg( at .*)?$", r"a leg of \1", match[1])


def _together(subject: str, found: Sequence[Suspect]) -> str:
    if found[0].say == subject:
        return subject
    if len(found) == 1 and found[0].kind in ("wrong-rail", "row-off"):
        where = re.split(r" (?=is in |ends in )", found[0].say)[1]
        return f"{subject} {where}"
    elsewhere = "ends in a wrong hole" if " from " in subject else "in a wrong hole"
    states = dict.fromkeys(LOOSE if suspect.kind in ("wire-loose", "leg-open") else elsewhere for suspect in found)
    words = " or ".join(sorted(states, key=lambda state: state != LOOSE))
    return f"{subject} {words}" if words.startswith(("is ", "ends ")) else f"{subject} is {words}"
