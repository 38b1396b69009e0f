"""Single faults of a correct list: every slip of a kind that can be made in it, each with its true cause.

Input: the text of a correct list. Output: ``Fault``s. The kinds follow what goes wrong at the bench: legs swapped, a part turned,
one row off, the wrong rail, something left out, a value misread, another pin order sold, plus and minus exchanged.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from grammar import QuantityError, read_quantity
from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Part, Pin, PlacedAcross, PlacedIn, Rail, Supply
from parts_library import pin_named
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Controller,
    Diode,
    Led,
    Mosfet,
    Regulator,
    Resistor,
    SupplyKind,
    Switch,
    Zener,
)
from tests.faults.edits import (
    Fault,
    Listing,
    mark_spans,
    moved,
    other_rail,
    part_points,
    pins_of,
    same_place,
    spans_gone,
    taken_holes,
)
from tests.faults.geometry import LIBRARY, seated, wired

THREE_LEGGED = (Bipolar, Mosfet, Regulator)
POLARISED = (Diode, Zener, Led, Capacitor)

OTHER_ORDERS = {"pn2222a": "P2N2222A", "p2n2222a": "PN2222A", "2n3904": "BC547", "2n4401": "BC337", "bc547": "2N3904",
                "bc337": "2N4401", "2n3906": "BC557", "bc327": "2N4403", "bc557": "2N3906", "2n4403": "BC327",
                "2n7000": "BS170", "bs170": "2N7000", "78l05": "LP2950-5", "7805": "LM1117T-5.0", "bd139": "TIP31C",
                "tip31c": "BD139", "bc517": "MPSA13", "2n5551": "BC337", "bc639": "2N4401", "bc548": "2N3904"}
"""A type of like use whose legs come in another order, by the data in the parts library."""


def faults(text: str) -> Iterator[Fault]:
    """Every single fault that can be made in the list."""
    listing = Listing(text)
    entries = wired(text).entries
    for part in listing.parts():
        entry = entries[part.name.text.lower()]
        yield from _legs_swapped(listing, part, entry)
        yield from _turned(listing, part, entry)
        yield from _reversed(listing, part, entry)
        yield from _one_row_off(listing, part)
        yield from _wrong_side(listing, part)
        yield from _wrong_rail(listing, part)
        yield from _left_out(listing, part, entry)
        yield from _value_misread(listing, part, entry)
        yield from _bridged_by_wire(listing, part, entry)
        yield from _other_order(listing, part, entry)
    yield from _wires(listing, entries)
    yield from _exchanged_supplies(listing, entries)


def _of(kind: str, say: str, text: str, part: Part | Supply, points: frozenset[str] = frozenset()) -> Fault:
    return Fault(kind, say, text, frozenset({part.name.text.lower()}), frozenset({part.span.line}), points)


def _unmarked(part: Part) -> list[tuple[object, str]]:
    spans = [mark.span for mark in part.marks] + ([part.claim.span] if part.claim else [])
    return list(spans_gone(spans))  # type: ignore[arg-type]


# ── the way round ─────────────────────────────────────────────────────────────────────────────────────────────────


def _legs_swapped(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """Every wrong order of three legs: on the board as a measured claim, in a connection list as names exchanged."""
    if not isinstance(entry, THREE_LEGGED) or len(entry.pins) != 3:
        return
    name = part.name.text
    if isinstance(part.place, PlacedIn):
        seats = seated(entry, part)
        right = [pin for point in part_points(part) for pin in seats if same_place(seats[pin], point)]
        for wrong in permutations(right):
            if list(wrong) != right:
                claim = f" as {' '.join(wrong)} measured"
                changes = [*_unmarked(part), (part_points(part)[-1].span, part_points(part)[-1].text + claim)]
                yield _of("legs swapped", f"{name}: {'-'.join(right)} put in as {'-'.join(wrong)}",
                          listing.replaced(changes), part)  # type: ignore[arg-type]
    elif part.place is None:
        for wrong in permutations(entry.pins):
            if wrong != entry.pins:
                yield _exchanged_names(listing, part, entry, dict(zip(entry.pins, wrong)), "legs swapped")


def _exchanged_names(listing: Listing, part: Part | Supply, entry: AnyEntry, new: dict[str, str], kind: str) -> Fault:
    points = pins_of(listing, part.name.text)
    changes = [(p.span, f"{p.part}.{new[pin_named(entry, p.pin) or p.pin]}") for p in points]
    lines = frozenset({part.span.line, *(p.span.line for p in points)})
    say = f"{part.name.text}: {' '.join(new)} wired as {' '.join(new.values())}"
    return Fault(kind, say, listing.replaced(changes), frozenset({part.name.text.lower()}), lines)


def _turned(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """Flat or tab to the other side; a button by a quarter."""
    name = part.name.text
    for mark in part.marks:
        if isinstance(mark, MarkFaces) and isinstance(part.place, PlacedIn):
            rows = [point.row for point in part.place.points if isinstance(point, Hole)]
            to = {"a": "j", "j": "a"}.get(mark.column or "")
            if mark.row is not None:
                to = f"row {max(rows) + 4}" if mark.row < min(rows) else f"row {max(min(rows) - 4, 1)}"
            if to:
                changes = [(mark.span, f"{mark.mark} faces {to}")] + spans_gone([part.claim.span] if part.claim else [])
                yield _of("turned", f"{name}: {mark.mark} faces {to}", listing.replaced(changes), part)
    if isinstance(part.place, PlacedAcross) and isinstance(entry, Switch) and len(entry.pins) == 4:
        line = listing.lines[part.span.line - 1]
        span = part.place.span
        written = line[span.column - 1: span.end_column - 1]
        other = written.replace(" turned", "") if part.place.turned else written + " turned"
        yield _of("button turned", f"{name} turned by a quarter", listing.replaced([(span, other)]), part)


def _reversed(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A diode, LED, zener or electrolytic the other way round."""
    if not isinstance(entry, POLARISED) or (isinstance(entry, Capacitor) and not entry.polarised):
        return
    points = part_points(part)
    if len(points) == 2:
        marks = [mark for mark in part.marks if isinstance(mark, MarkAt)]
        if marks:
            changes = [(mark.point.span, points[0].text if same_place(mark.point, points[1]) else points[1].text) for mark in marks]
        elif part.claim:
            changes = [(word.span, other.text) for word, other in zip(part.claim.pins, reversed(part.claim.pins))]
        else:
            return
        if part.claim and marks:
            changes += spans_gone([part.claim.span])
        yield _of("reversed", f"{part.name.text} reversed", listing.replaced(changes), part)
    elif part.place is None:
        yield _exchanged_names(listing, part, entry, dict(zip(entry.pins, reversed(entry.pins))), "reversed")


# ── where it is ───────────────────────────────────────────────────────────────────────────────────────────────────


def _one_row_off(listing: Listing, part: Part) -> Iterator[Fault]:
    taken = taken_holes(listing)
    for point in part_points(part):
        if isinstance(point, Hole):
            for row in (point.row - 1, point.row + 1):
                new = moved(point, row)
                if row >= 1 and new.lower() not in taken:
                    changes = [(span, new) for span in mark_spans(part, point)]
                    text = listing.replaced(changes)
                    yield _of("leg one row off", f"{part.name.text}: {point.text} is in {new}", text, part,
                              frozenset({point.text, new}))
    if isinstance(part.place, PlacedAcross) and len(part.marks) == 0:
        place, line = part.place, listing.lines[part.span.line - 1]
        written = line[place.span.column - 1: place.span.end_column - 1]
        for step in (-1, 1):
            rows = f"{place.first_row + step}-{place.last_row + step}"
            new = written.replace(f"{place.first_row}-{place.last_row}", rows)
            if place.first_row + step >= 1 and new != written:
                yield _of("part one row off", f"{part.name.text} in rows {rows}", listing.replaced([(place.span, new)]), part)


def _wrong_side(listing: Listing, part: Part) -> Iterator[Fault]:
    """All legs on the other side of the channel, and each leg alone across it."""
    taken = taken_holes(listing)
    holes = [point for point in part_points(part) if isinstance(point, Hole)]
    for group in [holes, *([hole] for hole in holes)] if len(holes) > 1 else [holes]:
        new = {hole.text: moved(hole, hole.row, "jihgfedcba"["abcdefghij".index(hole.column)]) for hole in group}
        if group and not any(text.lower() in taken for text in new.values()):
            changes = [(span, new[hole.text]) for hole in group for span in mark_spans(part, hole)]
            kind = "other side of the channel" if group is holes else "leg across the channel"
            say = f"{part.name.text}: {', '.join(new)} is in {', '.join(new.values())}"
            yield _of(kind, say, listing.replaced(changes), part, frozenset({*new, *new.values()}))


def _wrong_rail(listing: Listing, part: Part) -> Iterator[Fault]:
    for point in part_points(part):
        if isinstance(point, Rail):
            for new in (other_rail(point, sign=True), other_rail(point, side=True)):
                changes = [(span, new) for span in mark_spans(part, point)]
                yield _of("wrong rail", f"{part.name.text}: {point.text} is in {new}", listing.replaced(changes), part,
                          frozenset({point.text, new}))


def _wires(listing: Listing, entries: dict[str, AnyEntry]) -> Iterator[Fault]:
    taken = taken_holes(listing)
    for wire in listing.wires():
        line = frozenset({wire.span.line})
        written = " - ".join(point.text for point in wire.points)
        for point in wire.points:
            news: list[tuple[str, str]] = []
            if isinstance(point, Hole):
                news = [("wire one row off", moved(point, row)) for row in (point.row - 1, point.row + 1) if row >= 1]
            elif isinstance(point, Rail):
                news = [("wrong rail", other_rail(point, sign=True)), ("wrong rail", other_rail(point, side=True))]
            for kind, new in news:
                if kind == "wrong rail" or new.lower() not in taken:
                    yield Fault(kind, f"wire {written}: {point.text} is in {new}", listing.replaced([(point.span, new)]),
                                lines=line, points=frozenset({point.text, new}))
        parts = frozenset(p.part.lower() for p in wire.points if isinstance(p, Pin))
        yield Fault("wire left out", f"no wire {written}", listing.without({wire.span.line}), parts, line,
                    frozenset(point.text for point in wire.points), True)


# ── what it is ────────────────────────────────────────────────────────────────────────────────────────────────────


def _left_out(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    if isinstance(entry, (Controller, SupplyKind)) or pins_of(listing, part.name.text):
        return
    points = frozenset(point.text for point in part_points(part))
    if points:
        yield Fault("part left out", f"no {part.name.text}", listing.without({part.span.line}, [part.name.text]),
                    frozenset({part.name.text.lower()}), frozenset({part.span.line}), points, True)


def _value_misread(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    if not isinstance(entry, Resistor) or entry.ohms is None:
        return
    for word in part.words:
        try:
            value = read_quantity(word.text)
        except QuantityError:
            continue
        if abs(value.value - entry.ohms) < 1e-6 * entry.ohms:
            for times, kind in ((10.0, "value times ten"), (0.1, "value by ten"), (0.001, "value by a thousand")):
                new = f"{entry.ohms * times:.6g}"
                if "e" not in new:
                    yield _of(kind, f"{part.name.text}: {new} ohm", listing.replaced([(word.span, new + "ohm")]), part)


def _bridged_by_wire(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A wire where the resistor should be."""
    if not isinstance(entry, Resistor):
        return
    points = part_points(part)
    name = part.name.text.lower()
    say = f"a wire in place of {part.name.text}"
    if len(points) == 2:
        lines = listing.without([], [name]).splitlines()
        lines[part.span.line - 1] = f"wire {points[0].text} to {points[1].text}"
        yield Fault("resistor is a wire", say, "\n".join(lines) + "\n", frozenset({name}), frozenset({part.span.line}),
                    frozenset(point.text for point in points), True)
    elif part.place is None:
        changes = [(p.span, f"@{name}") for p in pins_of(listing, name)]
        text = Listing(listing.replaced(changes)).without([part.span.line], [name])
        yield Fault("resistor is a wire", say, text, frozenset({name}), frozenset({p[0].line for p in changes}),
                    frozenset(), True)


def _other_order(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A type of like use, put in as the first one was, although its legs come in another order."""
    for word in part.words:
        new = OTHER_ORDERS.get(word.text.lower())
        faced = [mark for mark in part.marks if isinstance(mark, MarkFaces)]
        found = LIBRARY.find(new).entry if new else None
        if new and faced and found is not None and found.pins != entry.pins:
            changes = [(word.span, new)] + spans_gone([part.claim.span] if part.claim else [])
            yield _of("other pin order", f"{part.name.text} is a {new}", listing.replaced(changes), part)


def _exchanged_supplies(listing: Listing, entries: dict[str, AnyEntry]) -> Iterator[Fault]:
    """Plus and minus of every supply exchanged; a controller's 5V and GND leads too."""
    for supply in listing.supplies():
        entry = entries[supply.name.text.lower()]
        if len(supply.terminals) == 2:
            plus, minus = supply.terminals
            text = listing.replaced([(plus.span, minus.text), (minus.span, plus.text)])
            yield _of("supply exchanged", f"{supply.name.text} reversed", text, supply)
        elif pins_of(listing, supply.name.text):
            yield _exchanged_names(listing, supply, entry, {"+": "-", "-": "+"}, "supply exchanged")
    for part in listing.parts():
        name = part.name.text
        used = {p.pin.upper() for p in pins_of(listing, name)}
        if isinstance(entries[name.lower()], Controller) and {"5V", "GND"} <= used:
            new = {pin: pin for pin in entries[name.lower()].pins} | {"5V": "GND", "GND": "5V"}
            fault = _exchanged_names(listing, part, entries[name.lower()], new, "supply exchanged")
            lines = frozenset(p.span.line for p in pins_of(listing, name) if p.pin.upper() in ("5V", "GND"))
            yield Fault(fault.kind, f"{name}: 5V and GND exchanged", fault.text, fault.parts, lines)


