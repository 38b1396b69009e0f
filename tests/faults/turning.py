"""Slips in the way round: legs swapped, a part turned or reversed, a type put in whose legs come in another order."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from grammar.syntax_tree import Hole, MarkAt, MarkFaces, Notch, Part, PlacedAcross, PlacedIn
from parts_library.schema import AnyEntry, Bipolar, Capacitor, Diode, Led, Mosfet, Regulator, Switch, Zener
from tests.faults.edits import (
    Fault,
    Listing,
    exchanged_names,
    fault_of,
    part_points,
    same_place,
    spans_gone,
    unmarked,
)
from tests.faults.geometry import LIBRARY, seated

THREE_LEGGED = (Bipolar, Mosfet, Regulator)
POLARISED = (Diode, Zener, Led, Capacitor)

OTHER_ORDERS = {"pn2222a": "P2N2222A", "p2n2222a": "PN2222A", "2n3904": "BC547", "2n4401": "BC337", "bc547": "2N3904",
                "bc337": "2N4401", "2n3906": "BC557", "bc327": "2N4403", "bc557": "2N3906", "2n4403": "BC327",
                "2n7000": "BS170", "bs170": "2N7000", "78l05": "LP2950-5", "7805": "LM1117T-5.0", "bd139": "TIP31C",
                "tip31c": "BD139", "bc517": "MPSA13", "2n5551": "BC337", "bc639": "2N4401", "bc548": "2N3904"}
"""A type of like use whose legs come in another order, by the data in the parts library."""


def legs_swapped(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
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
                changes = [*unmarked(part), (part_points(part)[-1].span, part_points(part)[-1].text + claim)]
                yield fault_of("legs swapped", f"{name}: {'-'.join(right)} put in as {'-'.join(wrong)}",
                          listing.replaced(changes), part)
    elif part.place is None:
        for wrong in permutations(entry.pins):
            if wrong != entry.pins:
                yield exchanged_names(listing, part, entry, dict(zip(entry.pins, wrong)), "legs swapped")


def turned(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
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
                yield fault_of("turned", f"{name}: {mark.mark} faces {to}", listing.replaced(changes), part)
        place = part.place
        if isinstance(place, PlacedAcross) and isinstance(mark, Notch) and mark.row in (place.first_row, place.last_row):
            new = f"notch row {place.first_row + place.last_row - mark.row}"
            yield fault_of("chip turned", f"{name}: {new}", listing.replaced([(mark.span, new)]), part)
    if isinstance(part.place, PlacedAcross) and isinstance(entry, Switch) and len(entry.pins) == 4:
        line = listing.lines[part.span.line - 1]
        span = part.place.span
        written = line[span.column - 1: span.end_column - 1]
        other = written.replace(" turned", "") if part.place.turned else written + " turned"
        yield fault_of("button turned", f"{name} turned by a quarter", listing.replaced([(span, other)]), part)


def reversed_part(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A diode, LED, zener or electrolytic the other way round."""
    if not isinstance(entry, POLARISED) or (isinstance(entry, Capacitor) and not entry.polarised):
        return
    points = part_points(part)
    if len(points) == 2:
        marks = [mark for mark in part.marks if isinstance(mark, MarkAt)]
        if marks:
            other = {point.text.lower(): points[1 - number].text for number, point in enumerate(points)}
            changes = [(mark.point.span, other.get(mark.point.text.lower(), points[0].text)) for mark in marks]
        elif part.claim:
            changes = [(word.span, last.text) for word, last in zip(part.claim.pins, reversed(part.claim.pins))]
        else:
            return
        if part.claim and marks:
            changes += spans_gone([part.claim.span])
        yield fault_of("reversed", f"{part.name.text} reversed", listing.replaced(changes), part)
    elif part.place is None:
        yield exchanged_names(listing, part, entry, dict(zip(entry.pins, reversed(entry.pins))), "reversed")


def other_order(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A type of like use, put in as the first one was, although its legs come in another order."""
    for word in part.words:
        new = OTHER_ORDERS.get(word.text.lower())
        faced = [mark for mark in part.marks if isinstance(mark, MarkFaces)]
        found = LIBRARY.find(new).entry if new else None
        if new and faced and found is not None and found.pins != entry.pins:
            changes = [(word.span, new)] + spans_gone([part.claim.span] if part.claim else [])
            yield fault_of("other pin order", f"{part.name.text} is a {new}", listing.replaced(changes), part)
