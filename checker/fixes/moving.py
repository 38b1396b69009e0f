"""Candidates that move one end of something: a wire or a leg by a row, to the other rail, to a leg that hangs loose.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import structs

from checker.circuit.model import Circuit, Conductor
from checker.fixes.candidate import Candidate
from checker.fixes.ends import End, ends_of, free_hole, is_lonely, moved
from checker.fixes.exchanging import ends_exchanged
from checker.fixes.places import Places, board_prefix
from checker.fixes.relegging import rewired
from checker.fixes.repinning import other_pins, past_resistors
from checker.fixes.shifting import chips_by_row, found_chips_by_row, onto_channel, parts_across_channel, parts_by_row
from checker.rules.base import Found
from checker.seating.boards import COLUMNS, Strip
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole, Part, Rail


def movings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Every end moved one row up or down, to the opposite rail, and to the strip of a leg that hangs loose."""
    loose = list(_loose_strips(circuit, found))
    concerned = _concerned(circuit, found)
    wanting = _wanting(circuit, found)
    near = [end for end in ends_of(circuit) if _is_near(circuit, end, concerned)]
    for end in near:
        if isinstance(end.point, Hole):
            yield from _by_rows(circuit, end, wanting)
            yield from _to_loose(circuit, end, loose)
            yield from _across_channel(circuit, end)
            yield from _other_board(circuit, end)
        else:
            yield from _other_rail(circuit, end)
    parts = {end.part for end in near if isinstance(end.statement, Part)}
    yield from ends_exchanged(circuit, found)
    yield from rewired(circuit, parts)
    yield from other_pins(circuit)
    yield from past_resistors(circuit, found)
    yield from found_chips_by_row(circuit, found)
    yield from chips_by_row(circuit)
    yield from parts_by_row(circuit, parts)
    yield from onto_channel(circuit, found)
    yield from parts_across_channel(circuit, found)
    yield from _free_holes(circuit, found)


NEAR_ROWS = 2
"""A lead that is a row or two off is that near to where it belongs."""


def _concerned(circuit: Circuit, found: Sequence[Found]) -> set[Conductor]:
    """The conductors of all nets that the found parts are on, and those where a found wire ends."""
    names = {name.lower() for one in found for name in one.parts}
    points = {point.lower() for one in found for point in one.points}
    nets = {net for (key, _), net in circuit.pin_net.items() if key in names}
    ends = {conductor for jumper in circuit.jumpers for conductor, end in zip(jumper.conductors, jumper.ends)
            if end.lower() in points}
    return {conductor for net in nets for conductor in circuit.members[net]} | ends


def _is_near(circuit: Circuit, end: End, concerned: set[Conductor]) -> bool:
    """True where an end is in a concerned net, or within two rows of one of its strips."""
    plan = plan_for(circuit.reading.plans, end.point)
    if plan is None:
        return False
    if isinstance(end.point, Rail):
        return True
    strip = plan.strip(end.point)
    return any(isinstance(other, Strip) and other.board == strip.board and abs(other.row - strip.row) <= NEAR_ROWS
               for other in concerned) or strip in concerned


def _wanting(circuit: Circuit, found: Sequence[Found]) -> dict[Conductor, str]:
    """The strips of the legs that a finding says reach nothing, each as the finding spells it."""
    points = {point for one in found if one.rule in ("supply-pin-open", "input-floating") for point in one.points}
    spellings = [(conductor, spelt) for (key, pin), conductor in circuit.conductor_of.items()
                 for spelt in (circuit.place_of[key, pin], f"{circuit.part(key).name}.{pin}")]
    return {conductor: spelt for conductor, spelt in spellings if spelt in points}


def _by_rows(circuit: Circuit, end: End, wanting: dict[Conductor, str]) -> Iterator[Candidate]:
    """By one row or two; where a leg there reaches nothing, it is about that leg too."""
    assert isinstance(end.point, Hole)
    places = Places(circuit)
    plan = plan_for(circuit.reading.plans, end.point)
    for step in (1, -1, 2, -2):
        to = free_hole(circuit, end.point, end.point.row + step, places)
        if to is not None and plan is not None:
            strip = Strip(plan.name, end.point.row + step, "a" if end.point.column <= "e" else "f")
            candidate = moved(circuit, end, to, 1.3 + 0.1 * abs(step) + (0.15 if end.part else 0.0), "next-strip")
            leg = (wanting[strip],) if strip in wanting else ()
            yield structs.replace(candidate, points=(*candidate.points, *leg))


def _to_loose(circuit: Circuit, end: End, loose: Sequence[Strip]) -> Iterator[Candidate]:
    assert isinstance(end.point, Hole)
    plan = plan_for(circuit.reading.plans, end.point)
    for strip in loose:
        if plan is not None and plan.strip(end.point) != strip and abs(strip.row - end.point.row) > NEAR_ROWS:
            places = Places(circuit)
            prefix = board_prefix(circuit, strip.board)
            same = f"{prefix}{end.point.column}{strip.row}"
            column_fits = (end.point.column <= "e") == (strip.half == "a")
            to = same if column_fits and same.lower() not in places.taken else places.free_in(strip)
            if to is not None:
                yield moved(circuit, end, to, 1.35 if is_lonely(circuit, end) else 2.6)


def _across_channel(circuit: Circuit, end: End) -> Iterator[Candidate]:
    """To the other side of the channel in the same row."""
    assert isinstance(end.point, Hole)
    places = Places(circuit)
    half = "f" if end.point.column <= "e" else "a"
    columns = COLUMNS[5:] if half == "f" else COLUMNS[4::-1]
    prefix = f"{end.point.board}:" if end.point.board else ""
    to = next((f"{prefix}{c}{end.point.row}" for c in columns
               if f"{prefix}{c}{end.point.row}".lower() not in places.taken), None)
    plan = plan_for(circuit.reading.plans, end.point)
    if to is not None and plan is not None and Strip(plan.name, end.point.row, half) in circuit.net_of:
        yield moved(circuit, end, to, 1.7 if is_lonely(circuit, end) else 2.6)


def _other_board(circuit: Circuit, end: End) -> Iterator[Candidate]:
    """To the same hole of another board."""
    assert isinstance(end.point, Hole)
    places = Places(circuit)
    for board in circuit.reading.plans:
        prefix = board_prefix(circuit, board)
        to = f"{prefix}{end.point.column}{end.point.row}"
        if prefix and board != (end.point.board or "").lower() and to.lower() not in places.taken:
            yield moved(circuit, end, to, 1.45 if end.part else 1.3)


def _loose_strips(circuit: Circuit, found: Sequence[Found]) -> Iterator[Strip]:
    """Strips in which a leg hangs loose, or a wire ends alone."""
    points = {point.lower() for f in found if f.rule in ("dangling-lead", "supply-pin-open") for point in f.points}
    for (key, pin), conductor in circuit.conductor_of.items():
        if isinstance(conductor, Strip) and circuit.place_of[key, pin].lower() in points:
            yield conductor
    for jumper in circuit.jumpers:
        for conductor, end in zip(jumper.conductors, jumper.ends):
            if isinstance(conductor, Strip) and end.lower() in points:
                yield conductor


def _other_rail(circuit: Circuit, end: End) -> Iterator[Candidate]:
    """To the rail of the other sign, to the same rail of the other side, and to the other piece of a split rail."""
    assert isinstance(end.point, Rail)
    rail = end.point
    prefix = f"{rail.board}:" if rail.board else ""
    other_sign = "-" if rail.sign == "+" else "+"
    other_side = "R" if rail.side == "L" else "L"
    row = str(rail.row or "")
    yield moved(circuit, end, f"{prefix}{rail.side}{other_sign}{row}", 1.2, wrong=f"{rail.side}{rail.sign}")
    yield moved(circuit, end, f"{prefix}{other_side}{rail.sign}{row}", 1.5, wrong=f"{rail.side}{rail.sign}")
    yield moved(circuit, end, f"{prefix}{other_side}{other_sign}{row}", 1.6, wrong=f"{rail.side}{rail.sign}")


def _free_holes(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """For a hole that is taken twice: a free hole of the same strip."""
    for one in found:
        if one.rule == "hole-taken" and one.case != "repeated":
            for end in ends_of(circuit):
                if end.point.span == one.span and isinstance(end.point, Hole):
                    to = free_hole(circuit, end.point, end.point.row, Places(circuit))
                    if to is not None:
                        yield structs.replace(moved(circuit, end, to, 1.0), cures=("hole-taken",))
