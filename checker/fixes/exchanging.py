"""Candidates that exchange two ends, or two pins of a part, or two values.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.ends import ends_of, put, strip_of
from checker.rules.base import Found
from checker.seating.boards import name_of
from grammar.syntax_tree import Hole, Supply


def ends_exchanged(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Two ends at two legs of a part with three or more, exchanged: two wires, or a wire and the leg of another part."""
    names = {name.lower() for one in found for name in one.parts}
    ends = [end for end in ends_of(circuit) if not isinstance(end.statement, Supply) and isinstance(end.point, Hole)]
    for key in names & set(circuit.reading.seats):
        part = circuit.bench.parts[key]
        if not 3 <= len(part.pins) <= 8:
            continue
        strips = {circuit.conductor_of[key, pin] for pin in part.pins}
        own = [end for end in ends if end.part != part.name and strip_of(circuit, end) in strips]
        for number, one in enumerate(own):
            for other in own[number + 1:]:
                if strip_of(circuit, one) != strip_of(circuit, other) and not (one.part and other.part):
                    draft = Draft(circuit.bench.tree.lines)
                    put(draft, one, name_of(other.point))
                    put(draft, other, name_of(one.point))
                    leg = one.part or other.part
                    what = f"the wire and {leg}'s leg" if leg else "the two wires"
                    yield Candidate(say=f"exchange {what} at {name_of(one.point)} and {name_of(other.point)}",
                                    edits=draft.edits(), effort=1.75 if leg else 1.65, parts=(part.name,),
                                    points=(name_of(one.point), name_of(other.point)), line=one.statement.span.line)
