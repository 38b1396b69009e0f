"""Which way round a part belongs, in words of the board; and parts with a row of legs, turned round."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.draft import Draft
from checker.fixes.turning import MARK_WORDS, MARKED_LEADS, exchange
from checker.seating.boards import name_of
from checker.seating.options import is_symmetric
from checker.sentences.words import listed
from checker.slips.model import Slip
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross, PlacedIn, Rail, Supply
from parts_library.schema import LedGroup, Load, Switch


def right_way(circuit: Circuit, part: BenchPart, points: Sequence[str]) -> str:
    """How the part has to sit: "its band belongs to d18", "its flat faces a". ``points`` are those that are exchanged."""
    statement = part.statement
    if isinstance(statement, Supply):
        if len(statement.terminals) != 2:
            return _by_leads(circuit, part, [f"{part.name}.+", f"{part.name}.-"])
        plus, minus = (circuit.place_of[part.name.lower(), pin] for pin in ("+", "-"))
        return f"plus belongs to {plus}, minus to {minus}"
    if statement.place is None or part.is_controller:
        return _by_leads(circuit, part, points)
    if isinstance(part.entry, Switch) and isinstance(statement.place, PlacedAcross):
        return "it is turned by a quarter" if statement.place.turned else "it is not turned by a quarter"
    return _by_marks(statement) or _by_legs(circuit, part)


def wrong_way(part: BenchPart, points: Sequence[str]) -> str:
    """What the slip was."""
    if isinstance(part.statement, Supply) or part.is_controller or part.statement.place is None:
        return "leads exchanged"
    return "a quarter round" if isinstance(part.entry, Switch) else "turned round"


def _by_leads(circuit: Circuit, part: BenchPart, points: Sequence[str]) -> str:
    """What each of two leads is joined to: "its band belongs to BZ1.+, its other end to S1.1"."""
    ends = [_joined_to(circuit, point) for point in points]
    if len(ends) != 2 or not all(ends) or ends[0] == ends[1]:
        return f"the leads at {' and '.join(points)} are not exchanged"
    leads = [_lead_in_words(part, point.rsplit(".", 1)[1]) for point in points]
    if isinstance(part.statement, Supply):
        leads = ["plus", "minus"] if points[0].endswith("+") else ["minus", "plus"]
    if not any(leads):
        return f"{points[0]} belongs to {ends[0]}, {points[1]} to {ends[1]}"
    first = 0 if leads[0] else 1
    other = leads[1 - first] or "other end"
    its = "" if isinstance(part.statement, Supply) else "its "
    return f"{its}{leads[first]} belongs to {ends[first]}, {its}{other} to {ends[1 - first]}"


def _joined_to(circuit: Circuit, point: str) -> str:
    """The other ends of the wires at a lead."""
    others = [jumper.ends[1 - number] for jumper in circuit.jumpers for number, end in enumerate(jumper.ends)
              if end.lower() == point.lower()]
    return listed(others)


def _lead_in_words(part: BenchPart, pin: str) -> str:
    return next((word for kind, label, word in (*MARKED_LEADS, _RED_LEAD) if isinstance(part.entry, kind) and pin == label), "")


_RED_LEAD = (Load, "+", "red lead")


def _by_marks(statement: Part) -> str:
    for mark in statement.marks:
        if isinstance(mark, MarkAt) and isinstance(mark.point, Hole | Rail):
            return f"its {MARK_WORDS[mark.mark]} belongs to {name_of(mark.point)}"
        if isinstance(mark, MarkFaces):
            row = f"row {mark.row}" if mark.row is not None else ""
            return f"its {mark.mark} faces {mark.column or row or mark.towards}"
        if isinstance(mark, Notch):
            return f"its notch is at {'the ' + mark.towards if mark.row is None and mark.towards else f'row {mark.row}'}"
    return ""


def _by_legs(circuit: Circuit, part: BenchPart) -> str:
    key = part.name.lower()
    legs = [f"{pin} to {circuit.place_of[key, pin]}" for pin in part.pins[:3]]
    return f"its leg {legs[0].replace(' to ', ' belongs to ')}, {', '.join(legs[1:])}"


def otherwise_turned(circuit: Circuit) -> Iterator[Slip]:
    """Parts that the fixes do not turn: a row of legs, a chip given by its holes, a potentiometer."""
    for part in circuit.bench.parts.values():
        statement = part.statement
        if not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn) or isinstance(part.entry, Switch):
            continue
        if part.entry is None or part.is_controller or part.name.lower() not in circuit.reading.seats or len(part.pins) < 3:
            continue
        if len(part.pins) > 3 or not (statement.marks or statement.claim):
            draft = reseated(circuit, part, _other_way_round(circuit, part))
            if draft is not None:
                yield Slip(at=part.name, line=statement.span.line, right=_by_legs(circuit, part), wrong="turned round",
                           edits=draft.edits())


def symmetric_turned(circuit: Circuit) -> Iterator[Slip]:
    """Parts whose two ends are alike, turned all the same: so that this changes nothing is computed, not assumed."""
    for key, part in circuit.bench.parts.items():
        statement = part.statement
        if not isinstance(statement, Part) or part.entry is None or not is_symmetric(part.entry):
            continue
        draft = Draft(circuit.bench.tree.lines)
        if isinstance(statement.place, PlacedIn) and len(statement.place.points) == 2:
            one, other = statement.place.points
            draft.replace(one.span, other.text).replace(other.span, one.text)
        else:
            exchange(circuit, draft, key, "1", "2")
        yield Slip(at=part.name, line=statement.span.line, right="its two ends are not exchanged", wrong="ends exchanged",
                   edits=draft.edits())


def _other_way_round(circuit: Circuit, part: BenchPart) -> list[str]:
    """The pins in the order of the holes once the part is turned: half way round a DIP, else from the other end."""
    pins = list(pins_by_hole(circuit, part))
    package = circuit.bench.library.packages.get(getattr(part.entry, "package", "") or "")
    if package is not None and package.form == "dip" and not isinstance(part.entry, LedGroup):
        half = len(pins) // 2
        return pins[half:] + pins[:half]
    return pins[::-1]


def pins_by_hole(circuit: Circuit, part: BenchPart) -> list[str]:
    """The pins of a placed part in the order in which ``in`` lists its holes; empty where they do not match."""
    place = part.statement.place if isinstance(part.statement, Part) else None
    seat = circuit.reading.seats.get(part.name.lower())
    if not isinstance(place, PlacedIn) or seat is None:
        return []
    by_hole = {name_of(spot).lower(): pin for pin, spot in seat.legs.items()}
    named = [by_hole.get(name_of(p).lower(), "") for p in place.points if isinstance(p, Hole | Rail)]
    return named if all(named) and len(named) == len(part.pins) else []


def reseated(circuit: Circuit, part: BenchPart, pins: Sequence[str]) -> Draft | None:
    """The part with ``pins`` in the order of its holes, whatever its marks said: its marks go, and a measured claim comes."""
    statement = part.statement
    if not pins or not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn):
        return None
    draft = Draft(circuit.bench.tree.lines)
    for mark in statement.marks:
        draft.replace(mark.span, "")
    if statement.claim is not None:
        draft.replace(statement.claim.span, "")
    return draft.add_words(statement.place.span, f"as {' '.join(pins)} measured")
