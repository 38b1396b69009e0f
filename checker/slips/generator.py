"""Every slip of the hand that is looked at, as an edit of a list's text, one at a time.

Input: the circuit of a correct list. Output: slips: each part turned, each leg and wire end a row off or in the other rail, a
supply's leads exchanged, each resistor bridged or ten times too small, each part and wire left out. What the fixes make as
candidates is used where it is the same movement of the hand.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.turning import turnings
from checker.slips.model import Slip
from checker.slips.moved import moved
from checker.slips.omitted import omitted
from checker.slips.resistors import resistor_slips
from checker.slips.turned import otherwise_turned, right_way, symmetric_turned, wrong_way


def all_slips(circuit: Circuit) -> list[Slip]:
    """The slips of a circuit, without those that come to the same text."""
    made = [*_turned(circuit), *otherwise_turned(circuit), *symmetric_turned(circuit), *moved(circuit),
            *resistor_slips(circuit), *omitted(circuit)]
    return list({slip.edits: slip for slip in reversed(made) if slip.edits}.values())[::-1]


def _turned(circuit: Circuit) -> Iterator[Slip]:
    """Every part and supply turned round, as the fixes turn them."""
    for candidate in turnings(circuit, against_rails=True):
        part = circuit.bench.part(candidate.parts[0])
        assert part is not None
        yield Slip(at=part.name, line=candidate.line, right=right_way(circuit, part, candidate.points),
                   wrong=wrong_way(part, candidate.points), edits=candidate.edits)
