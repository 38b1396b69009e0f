"""Parts and wires left out."""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.draft import Draft
from checker.slips.model import Slip
from checker.slips.wires import wire_in_words
from grammar.syntax_tree import Bare, Expect, Keep, Part, Pin, PinRole, Point, Statement, Wire


def omitted(circuit: Circuit) -> Iterator[Slip]:
    """Each part on the board and each stretch of wire left out."""
    for part in circuit.bench.parts.values():
        if part.placed and not part.is_controller:
            draft = Draft(circuit.bench.tree.lines).remove_line(part.span.line)
            for statement in circuit.bench.tree.statements:
                if not isinstance(statement, Part) and part.name.lower() in _named(statement):
                    draft.remove_line(statement.span.line)
            yield Slip(at=part.name, line=part.span.line, right="it is on the board", wrong="left out", edits=draft.edits())
    for wire in circuit.bench.wires:
        yield from _without_stretches(circuit, wire)


def _named(statement: Statement) -> set[str]:
    """The parts that a line names, in lower case."""
    if isinstance(statement, Keep):
        return {statement.one.text.lower(), statement.other.text.lower()}
    points: list[Point] = []
    if isinstance(statement, Wire):
        points = list(statement.points)
    elif isinstance(statement, PinRole):
        points = list(statement.pins)
    elif isinstance(statement, Expect):
        points = [statement.subject, *(condition.subject for condition in statement.conditions)]
    return {p.part.lower() if isinstance(p, Pin) else p.text.lower() for p in points if isinstance(p, Pin | Bare)}


def _without_stretches(circuit: Circuit, wire: Wire) -> Iterator[Slip]:
    """A wire statement with more than two points is several wires: each of them left out."""
    for cut in range(1, len(wire.points)):
        before, after = wire.points[:cut], wire.points[cut:]
        kept = [f"wire {' to '.join(p.text for p in piece)}" for piece in (before, after) if len(piece) > 1]
        draft = Draft(circuit.bench.tree.lines)
        if kept:
            draft.replace(wire.span, kept[0])
        else:
            draft.remove_line(wire.span.line)
        for line in kept[1:]:
            draft.add_line(line)
        missing = f"the wire from {before[-1].text} to {after[0].text}" if kept else "it"
        yield Slip(at=wire_in_words(wire), line=wire.span.line, right=f"{missing} is on the board", wrong="left out",
                   edits=draft.edits())
