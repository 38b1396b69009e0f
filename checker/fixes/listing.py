"""Candidates that mend the list and not the board: the size of the board, a wire that is written twice.

Input: the circuit and its findings; output: candidates, not yet proven. They move no lead, so that each may only claim the
finding it is made for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.rules.base import Found


def listings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be mended in the words of the list alone."""
    for one in found:
        if one.rule == "hole-taken" and one.case == "repeated":
            draft = Draft(circuit.bench.tree.lines).remove_line(one.span.line)
            yield Candidate(say=f"take line {one.span.line} out: line {one.facts['first_line']} says it already",
                            edits=draft.edits(), effort=1.0, line=one.span.line, cures=("hole-taken",))
        if one.rule == "outside-board" and one.case == "size" and one.facts["fits"]:
            yield from _other_size(circuit, one)


def _other_size(circuit: Circuit, one: Found) -> Iterator[Candidate]:
    """The board's line with the size on which every hole of the list would be."""
    board = next((board for board in circuit.bench.boards.values() if board.span == one.span), None)
    if board is None:
        return
    words = ["board", *([board.name] if board.name else []), one.facts["fits"], *(["rails", board.rails] if board.rails else [])]
    draft = Draft(circuit.bench.tree.lines).replace(board.span, " ".join(words))
    yield Candidate(say=f"count the rows of the board: if it is a {one.facts['fits']} one, write so", edits=draft.edits(),
                    effort=1.0, line=board.span.line, cures=("outside-board",))
