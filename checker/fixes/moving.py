"""Candidates that move one end of something: a wire or a leg by a row, to the other rail, to a leg that hangs loose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, structs

from checker.bench.model import BenchPart
from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit, Conductor
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, board_prefix
from checker.rules.base import Found
from checker.seating.boards import COLUMNS, Strip, name_of
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole, MarkAt, Notch, Part, Pin, PlacedAcross, PlacedIn, Point, Rail, Supply, Wire
from parts_library.schema import Bipolar, Controller, Mosfet, Resistor, SupplyKind


class End(Struct, frozen=True):
    """One movable end: its point, what it belongs to, and how a person calls it."""

    point: Hole | Rail
    statement: Wire | Part | Supply
    words: str
    part: str = ""


def movings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Every end moved one row up or down, to the opposite rail, and to the strip of a leg that hangs loose."""
    loose = list(_loose_strips(circuit, found))
    concerned = _concerned(circuit, found)
    for end in (end for end in ends_of(circuit) if _is_near(circuit, end, concerned)):
        if isinstance(end.point, Hole):
            yield from _by_rows(circuit, end)
            yield from _to_loose(circuit, end, loose)
            yield from _across_channel(circuit, end)
            yield from _other_board(circuit, end)
        else:
            yield from _other_rail(circuit, end)
    yield from _exchanged(circuit, found)
    yield from _other_pins(circuit)
    yield from past_resistors(circuit, found)
    yield from chips_by_row(circuit)
    yield from _onto_channel(circuit, found)
    yield from _whole_parts(circuit, found)
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


def ends_of(circuit: Circuit) -> Iterator[End]:
    """Every end that a hand can move: of wires, of supplies' leads, and the legs of parts that are put ``in`` holes."""
    for wire in circuit.bench.wires:
        colour = f"{wire.colour} " if wire.colour else ""
        for point in wire.points:
            if isinstance(point, Hole | Rail):
                yield End(point, wire, f"the {colour}wire's end at {name_of(point)}")
    for part in circuit.bench.parts.values():
        if isinstance(part.statement, Supply):
            for point in part.statement.terminals:
                if isinstance(point, Hole | Rail):
                    yield End(point, part.statement, f"{part.name}'s lead at {name_of(point)}", part.name)
        elif isinstance(part.statement.place, PlacedIn) and part.entry is not None:
            for point in part.statement.place.points:
                if isinstance(point, Hole | Rail):
                    yield End(point, part.statement, f"{part.name}'s leg at {name_of(point)}", part.name)


def _moved(circuit: Circuit, end: End, to: str, effort: float, cause: str = "", **facts: str) -> Candidate:
    draft = Draft(circuit.bench.tree.lines)
    _put(draft, end, to)
    moved = end.words.split(" at ")[0].removesuffix("'s end")
    return Candidate(say=f"move {end.words} to {to}", edits=draft.edits(), effort=effort, cause=cause,
                     parts=(end.part,) if end.part else (), points=(name_of(end.point), to), line=end.statement.span.line,
                     facts={"moved": moved, "from": name_of(end.point), "to": to, **facts})


def _put(draft: Draft, end: End, to: str) -> None:
    """An end moved to another place, with the marks of its part that point there."""
    draft.replace(end.point.span, to)
    if isinstance(end.statement, Part):
        for mark in end.statement.marks:
            if isinstance(mark, MarkAt) and _same(mark.point, end.point):
                draft.replace(mark.point.span, to)


def _same(one: Point, other: Point) -> bool:
    return isinstance(one, Hole | Rail) and isinstance(other, Hole | Rail) and name_of(one) == name_of(other)


def free_hole(circuit: Circuit, hole: Hole, row: int, places: Places) -> str | None:
    """The hole of the same column in another row, or the nearest free one of that strip; None outside the board, and
    where nothing else is in that strip: moving there cures nothing."""
    plan = plan_for(circuit.reading.plans, hole)
    if plan is None or not 1 <= row <= plan.rows:
        return None
    if Strip(plan.name, row, "a" if hole.column <= "e" else "f") not in circuit.net_of:
        return None
    prefix = f"{hole.board}:" if hole.board else ""
    wanted = f"{prefix}{hole.column}{row}"
    if wanted.lower() not in places.taken:
        return wanted
    half = "a" if hole.column <= "e" else "f"
    columns = COLUMNS[:5] if half == "a" else COLUMNS[5:]
    free = [f"{prefix}{c}{row}" for c in columns if f"{prefix}{c}{row}".lower() not in places.taken]
    return min(free, key=lambda h: abs(columns.index(h[len(prefix)]) - columns.index(hole.column)), default=None)


def _by_rows(circuit: Circuit, end: End) -> Iterator[Candidate]:
    assert isinstance(end.point, Hole)
    places = Places(circuit)
    for step in (1, -1, 2, -2):
        to = free_hole(circuit, end.point, end.point.row + step, places)
        if to is not None:
            yield _moved(circuit, end, to, 1.3 + 0.1 * abs(step) + (0.15 if end.part else 0.0), "next-strip")


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
                yield _moved(circuit, end, to, 1.35 if _is_lonely(circuit, end) else 2.6)


def _is_lonely(circuit: Circuit, end: End) -> bool:
    """True where nothing else is in the strip of an end: it serves nobody there."""
    strip = _strip_of(circuit, end)
    legs = sum(conductor == strip for conductor in circuit.conductor_of.values())
    ends = sum(conductor == strip for jumper in circuit.jumpers for conductor in jumper.conductors)
    return legs + ends <= 1


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
        yield _moved(circuit, end, to, 1.7)


def _other_board(circuit: Circuit, end: End) -> Iterator[Candidate]:
    """To the same hole of another board."""
    assert isinstance(end.point, Hole)
    places = Places(circuit)
    for board in circuit.reading.plans:
        prefix = board_prefix(circuit, board)
        to = f"{prefix}{end.point.column}{end.point.row}"
        if prefix and board != (end.point.board or "").lower() and to.lower() not in places.taken:
            yield _moved(circuit, end, to, 1.45 if end.part else 1.3)


def _other_pins(circuit: Circuit) -> Iterator[Candidate]:
    """From one supply pin of a controller to another: 3V3 to 5V and back."""
    for wire in circuit.bench.wires:
        for point in wire.points:
            part = circuit.bench.part(point.part) if isinstance(point, Pin) else None
            if isinstance(point, Pin) and part is not None and part.is_controller and point.pin.upper() in ("5V", "3V3"):
                other = "3V3" if point.pin.upper() == "5V" else "5V"
                yield _repinned(circuit, wire, point, f"{part.name}.{other}", part.name)
                yield from _to_vin(circuit, wire, point, part)
            if isinstance(point, Pin) and part is not None and part.is_controller:
                others = {circuit.net_of.get(c) for p in wire.points if p is not point
                          if (c := conductor_at(circuit, p)) is not None}
                for spot in _instead_of_pin(circuit, point, others):
                    yield _repinned(circuit, wire, point, spot, part.name)


def _to_vin(circuit: Circuit, wire: Wire, point: Pin, part: BenchPart) -> Iterator[Candidate]:
    """From the 5V pin to VIN, which is made for what an adapter or a block gives."""
    entry = part.entry
    if point.pin.upper() != "5V" or not isinstance(entry, Controller) or (part.name.lower(), "VIN") in circuit.touched:
        return
    feeding = [float(its.voltage or 0.0) for key, pin in circuit.pins_on[circuit.pin_net[part.name.lower(), "5V"]]
               if pin == "+" and isinstance(its := circuit.part(key).entry, SupplyKind)]
    if any(float(entry.vin_min) <= volts <= float(entry.vin_max) for volts in feeding):
        yield _repinned(circuit, wire, point, f"{part.name}.VIN", part.name)


def past_resistors(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """For a pin that gets too much: the far end of its wire moved past a resistor, to the middle of the divider."""
    points = {point for one in found if one.rule in ("too-much-voltage", "level-mismatch") for point in one.points}
    for wire in circuit.bench.wires:
        if len(wire.points) != 2 or not any(point.text in points for point in wire.points):
            continue
        for point in wire.points:
            conductor = conductor_at(circuit, point)
            if point.text in points or conductor is None or conductor not in circuit.net_of:
                continue
            for key, pin in circuit.pins_on[circuit.net_of[conductor]]:
                if isinstance(circuit.part(key).entry, Resistor):
                    to = Places(circuit).spot_in_net(circuit.pin_net[key, "2" if pin == "1" else "1"])
                    if to is not None:
                        draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
                        yield Candidate(say=f"move the wire's end at {point.text} to {to}", edits=draft.edits(), effort=1.5,
                                        points=(point.text, to), parts=(circuit.part(key).name,), line=wire.span.line)


def _repinned(circuit: Circuit, wire: Wire, point: Pin, to: str, part: str) -> Candidate:
    draft = Draft(circuit.bench.tree.lines).replace(point.span, to)
    return Candidate(say=f"move the wire from {point.text} to {to}", edits=draft.edits(), effort=1.4, parts=(part,),
                     points=(point.text, to), line=wire.span.line)


def _instead_of_pin(circuit: Circuit, point: Pin, others: set[int | None]) -> Iterator[str]:
    """Where a wire on a controller's pin may belong instead: on a supply's plus if the pin feeds, on a switch's output if it
    is a signal; not where its other end is already."""
    feeds = point.pin.upper() in ("5V", "3V3", "VIN")
    for key, part in circuit.bench.parts.items():
        if feeds and part.is_supply:
            wanted = ["+"]
        elif not feeds and isinstance(part.entry, Bipolar | Mosfet):
            wanted = [pin for pin in ("C", "D") if pin in part.pins]
        else:
            continue
        for pin in wanted:
            net = circuit.pin_net[key, pin]
            spot = Places(circuit).spot_in_net(net) if net not in others else None
            if spot is not None:
                yield spot


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
    yield _moved(circuit, end, f"{prefix}{rail.side}{other_sign}{row}", 1.2, wrong=f"{rail.side}{rail.sign}")
    yield _moved(circuit, end, f"{prefix}{other_side}{rail.sign}{row}", 1.5, wrong=f"{rail.side}{rail.sign}")
    yield _moved(circuit, end, f"{prefix}{other_side}{other_sign}{row}", 1.6, wrong=f"{rail.side}{rail.sign}")


def _exchanged(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """Two ends at two legs of a part with three or more, exchanged: two wires, or a wire and the leg of another part."""
    names = {name.lower() for one in found for name in one.parts}
    ends = [end for end in ends_of(circuit) if not isinstance(end.statement, Supply) and isinstance(end.point, Hole)]
    for key in names & set(circuit.reading.seats):
        part = circuit.bench.parts[key]
        if not 3 <= len(part.pins) <= 8:
            continue
        strips = {circuit.conductor_of[key, pin] for pin in part.pins}
        own = [end for end in ends if end.part != part.name and _strip_of(circuit, end) in strips]
        for number, one in enumerate(own):
            for other in own[number + 1:]:
                if _strip_of(circuit, one) != _strip_of(circuit, other) and not (one.part and other.part):
                    draft = Draft(circuit.bench.tree.lines)
                    _put(draft, one, name_of(other.point))
                    _put(draft, other, name_of(one.point))
                    leg = one.part or other.part
                    what = f"the wire and {leg}'s leg" if leg else "the two wires"
                    yield Candidate(say=f"exchange {what} at {name_of(one.point)} and {name_of(other.point)}",
                                    edits=draft.edits(), effort=1.75 if leg else 1.65, parts=(part.name,),
                                    points=(name_of(one.point), name_of(other.point)), line=one.statement.span.line)


def _strip_of(circuit: Circuit, end: End) -> Strip | None:
    plan = plan_for(circuit.reading.plans, end.point)
    return plan.strip(end.point) if plan is not None and isinstance(end.point, Hole) else None


def chips_by_row(circuit: Circuit, with_marks: bool = False) -> Iterator[Candidate]:
    """Parts across the channel moved as a whole by one row; ``with_marks`` where what is written of their notch and dot is
    said of the part as it lies, and so moves too."""
    for part in circuit.bench.parts.values():
        statement = part.statement
        if isinstance(statement, Part) and isinstance(statement.place, PlacedAcross):
            place = statement.place
            for step in (1, -1):
                first, last = place.first_row + step, place.last_row + step
                if first < 1:
                    continue
                draft = Draft(circuit.bench.tree.lines)
                line = circuit.bench.tree.lines[place.span.line - 1]
                text = line[place.span.column - 1:place.span.end_column - 1]
                draft.replace(place.span, text.replace(str(place.first_row), "\0", 1).replace(
                    str(place.last_row), str(last), 1).replace("\0", str(first), 1))
                if with_marks:
                    _move_marks(draft, statement, step)
                yield Candidate(say=f"move {part.name} by one row: rows {first}-{last}", edits=draft.edits(),
                                effort=1.6, cause="next-strip", parts=(part.name,), line=statement.span.line,
                                facts={"from": f"rows {place.first_row}-{place.last_row}",
                                       "to": f"rows {first}-{last}"})


def _move_marks(draft: Draft, statement: Part, step: int) -> None:
    """Notch and dot go with the part."""
    for mark in statement.marks:
        if isinstance(mark, Notch) and mark.row is not None:
            draft.replace(mark.span, f"notch row {mark.row + step}")
        elif isinstance(mark, MarkAt) and isinstance(mark.point, Hole):
            hole = mark.point
            draft.replace(hole.span, f"{f'{hole.board}:' if hole.board else ''}{hole.column}{hole.row + step}")


def _onto_channel(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A chip or button that does not straddle the channel, put across it."""
    for one in found:
        part = circuit.bench.part(one.parts[0]) if one.rule == "not-across-channel" else None
        if part is not None and isinstance(part.statement, Part) and isinstance(part.statement.place, PlacedAcross):
            place = part.statement.place
            rows = f"{place.first_row}-{place.last_row}"
            prefix = f"{place.board}:" if place.board else ""
            words = f"across {prefix}{rows}" + (" turned" if place.turned else "")
            draft = Draft(circuit.bench.tree.lines).replace(place.span, words)
            yield Candidate(say=f"move {part.name} across the channel, into columns e and f", edits=draft.edits(),
                            effort=1.2, cause="not-across-channel", parts=(part.name,), line=part.statement.span.line)


def _whole_parts(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """A part with a loose leg, moved as a whole to the other side of the channel."""
    names = {name.lower() for one in found if one.rule == "dangling-lead" for name in one.parts}
    for key in names & set(circuit.reading.seats):
        statement = circuit.bench.parts[key].statement
        if not isinstance(statement, Part) or not isinstance(statement.place, PlacedIn):
            continue
        holes = [point for point in statement.place.points if isinstance(point, Hole)]
        places = Places(circuit)
        mirrored = {name_of(hole): _mirrored(hole) for hole in holes}
        if len(holes) < len(statement.place.points) or any(to.lower() in places.taken for to in mirrored.values()):
            mirrored = {name_of(hole): to for hole in holes if (to := _free_opposite(circuit, hole, places)) is not None}
            if len(mirrored) < len(statement.place.points):
                continue
        draft = Draft(circuit.bench.tree.lines)
        for hole in holes:
            draft.replace(hole.span, mirrored[name_of(hole)])
        for mark in statement.marks:
            if isinstance(mark, MarkAt) and isinstance(mark.point, Hole) and name_of(mark.point) in mirrored:
                draft.replace(mark.point.span, mirrored[name_of(mark.point)])
        name = circuit.bench.parts[key].name
        yield Candidate(say=f"move {name} across the channel: {' '.join(mirrored.values())}", edits=draft.edits(), effort=1.4,
                        cause="dangling-lead", parts=(name,), points=tuple(mirrored), line=statement.span.line)


def _mirrored(hole: Hole) -> str:
    """The hole of the same row at the mirror image of the column."""
    prefix = f"{hole.board}:" if hole.board else ""
    return f"{prefix}{COLUMNS[9 - COLUMNS.index(hole.column)]}{hole.row}"


def _free_opposite(circuit: Circuit, hole: Hole, places: Places) -> str | None:
    """A free hole of the row's other half."""
    prefix = f"{hole.board}:" if hole.board else ""
    columns = COLUMNS[5:] if hole.column <= "e" else COLUMNS[4::-1]
    return next((f"{prefix}{c}{hole.row}" for c in columns if f"{prefix}{c}{hole.row}".lower() not in places.taken), None)


def _free_holes(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """For a hole that is taken twice: a free hole of the same strip."""
    for one in found:
        if one.rule == "hole-taken":
            for end in ends_of(circuit):
                if end.point.span == one.span and isinstance(end.point, Hole):
                    to = free_hole(circuit, end.point, end.point.row, Places(circuit))
                    if to is not None:
                        yield structs.replace(_moved(circuit, end, to, 1.0), cures=("hole-taken",))
