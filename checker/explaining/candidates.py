"""Which candidates are looked at, and in which order: all that the circuit offers, the likeliest first, within a bound."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeAlias

from checker.circuit.model import Circuit
from checker.fixes.adding import addings
from checker.fixes.bypassing import bypassings
from checker.fixes.candidate import Candidate
from checker.fixes.changing import changings
from checker.fixes.dividing import dividers
from checker.fixes.joining import joinings
from checker.fixes.leads import lead_changes
from checker.fixes.listing import listings
from checker.fixes.missing import missing_wires
from checker.fixes.moving import movings
from checker.fixes.rejoining import rejoinings
from checker.fixes.releasing import exchanged_sides, joined_halves, releasings
from checker.fixes.supplying import supplyings
from checker.fixes.taking import takings
from checker.fixes.turning import turnings
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.survey import Survey

MOST_CANDIDATES = 100
"""Candidates that are surveyed: more would only be slower, the first are those about the parts that were found."""

SMALL_LIST, CANDIDATES_LEAST = 100, 8
"""Up to so many parts and wires all of them are surveyed; a list with more gets fewer, since each costs more."""

MOST_VOLTS = 300_000
"""Points times nets of all candidates together: what a first look may cost. A list of twenty parts comes to some 3,000."""

OVERLOADS = ("pin-overload", "too-much-current", "too-much-power", "no-current-limit", "too-hot")

PLACEMENT_ONLY = ("hole-taken", "outside-board", "leads-do-not-reach")
"""Findings without an electrical effect: only a move that keeps every net may cure them."""

Generator: TypeAlias = Callable[[Circuit, Sequence[Found]], Iterable[Candidate]]

GENERATORS: tuple[Generator, ...] = (
    movings, changings, lead_changes, supplyings, joinings, takings, dividers, rejoinings, bypassings, releasings,
    joined_halves, exchanged_sides, listings, missing_wires,
)
"""What makes candidates from a circuit and what was found in it."""


def candidates_of(base: Survey, curable: Sequence[Found]) -> list[Candidate]:
    """The candidates, without repeats: those about found parts first, then by effort, as many as the list's size allows."""
    circuit, operating = base.operatings[0].circuit, base.operatings[0]
    made = [*turnings(circuit), *addings(circuit, operating, curable)]
    made += [candidate for generator in GENERATORS for candidate in generator(circuit, curable)]
    most = min(MOST_CANDIDATES, max(CANDIDATES_LEAST, MOST_CANDIDATES * SMALL_LIST // max(_size_of(base), 1)),
               max(CANDIDATES_LEAST, MOST_VOLTS // max(operating.volts.size, 1)))
    if all(f.rule in PLACEMENT_ONLY for f in curable):
        made = [candidate for candidate in made if candidate.cures]
    about, in_series = {name.lower() for f in curable for name in (*f.parts, *f.points)}, _in_series(circuit, curable)
    unique = {candidate.edits: candidate for candidate in reversed(made)}

    def is_near(candidate: Candidate) -> bool:
        words = {word.lower() for word in (*candidate.parts, *candidate.points)}
        return bool(words & (about | in_series if "resistor" in candidate.facts else about))

    return sorted(unique.values(), key=lambda c: (not is_near(c), c.effort))[:most]


def _size_of(base: Survey) -> int:
    """Statements that cost: parts and wires."""
    return len(base.bench.parts) + len(base.bench.wires)


def _in_series(circuit: Circuit, found: Sequence[Found]) -> set[str]:
    """The parts that meet what carries too much elsewhere than at a stiff net: another value of theirs moves nothing and may
    be the cure, which that of a resistor that only shares a supply cannot."""
    stiff = stiff_nets(circuit)
    nets = {net for one in found if one.rule in OVERLOADS for net in _nets_of(circuit, one)} - stiff
    return {key for net in nets for key, _ in circuit.pins_on[net]}


def _nets_of(circuit: Circuit, one: Found) -> set[int]:
    """The nets of what a finding has numbers of: of one pin where they are of a pin, else of the whole part."""
    of = {evidence.of.lower() for evidence in one.evidence}
    return {net for (key, pin), net in circuit.pin_net.items() if key in of or f"{key}.{pin.lower()}" in of}
