"""Candidates that add something: which additions belong to which finding.

Input: the circuit, its operating points and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.clamping import clamps
from checker.fixes.coupling import coupled
from checker.fixes.grounding import ground_wires, rail_bridges
from checker.fixes.in_series import before_bases, beside_switches, is_zener, series_resistors
from checker.fixes.pulling import pulls
from checker.fixes.tying import tied
from checker.fixes.unbridging import unbridged
from checker.operating.operate import Operating
from checker.rules.base import Found

SERIES_RULES = ("no-current-limit", "too-much-current", "pin-overload", "too-much-voltage")


def addings(circuit: Circuit, operating: Operating, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be added against the findings."""
    for one in found:
        if one.rule in SERIES_RULES or (one.rule in ("too-much-power", "too-hot") and is_zener(circuit, one)):
            yield from series_resistors(circuit, operating, one)
        if one.rule in ("supply-shorted", "supply-overload", "too-much-current", "rails-shorted"):
            yield from beside_switches(circuit)
        if one.rule in ("too-much-power", "too-hot"):
            yield from before_bases(circuit, operating, one)
        if one.rule in ("too-much-voltage", "too-much-current", "too-hot"):
            yield from coupled(circuit, one)
        if one.rule == "no-clamp":
            yield from clamps(circuit, operating, one)
        elif one.rule in ("grounds-not-joined", "no-return-path", "never-conducts"):
            yield from ground_wires(circuit)
        elif one.rule in ("input-floating", "no-pull-up"):
            yield from tied(circuit, one) if one.case.startswith("open") else pulls(circuit, one)
        elif one.rule == "part-bridged":
            yield from unbridged(circuit, one)
    yield from rail_bridges(circuit)
