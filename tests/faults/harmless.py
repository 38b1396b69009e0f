"""Changes that alter nothing: a correct list must come out clear after each of them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from grammar.syntax_tree import Hole, Part, PlacedAcross, PlacedIn, Supply, Wire
from parts_library.schema import Capacitor, Load, Resistor
from tests.faults.edits import Fault, Listing, mark_spans, moved, part_points, pins_of, taken_holes
from tests.faults.geometry import NotCovered
from tests.faults.nets import wired


def harmless(text: str) -> Iterator[Fault]:
    """Every harmless change, with what was done."""
    listing = Listing(text)
    yield from _turned_round(listing)
    yield from _other_hole(listing)
    yield _reordered(listing)
    yield _renamed(listing)
    yield from _colours(listing)


def _turned_round(listing: Listing) -> Iterator[Fault]:
    """A resistor or unpolarised capacitor the other way round, two leads of a motor exchanged."""
    try:
        entries = wired(listing.text).entries
    except NotCovered:
        return
    for part in listing.parts():
        entry, name = entries[part.name.text.lower()], part.name.text
        points = part_points(part)
        unpolarised = isinstance(entry, Resistor) or (isinstance(entry, Capacitor) and not entry.polarised)
        if unpolarised and len(points) == 2:
            yield Fault("turned round", f"{name} turned round",
                        listing.replaced([(points[0].span, points[1].text), (points[1].span, points[0].text)]))
        turns = isinstance(entry, Load) and entry.type in ("motor", "solenoid", "heater") and not entry.one_way
        if turns and entry.pins[:2] == ("1", "2"):
            pins = pins_of(listing, name)
            if {pin.pin for pin in pins} == {"1", "2"}:
                new = {"1": "2", "2": "1"}
                yield Fault("leads exchanged", f"{name}: leads exchanged",
                            listing.replaced([(pin.span, f"{pin.part}.{new[pin.pin]}") for pin in pins]))


def _other_hole(listing: Listing) -> Iterator[Fault]:
    """A wire's end or the leg of a two-legged part in a free hole of the same strip."""
    taken = taken_holes(listing)
    for statement in listing.tree.statements:
        if isinstance(statement, Wire):
            movable = [(point, [point.span]) for point in statement.points if isinstance(point, Hole)]
        elif isinstance(statement, Part) and isinstance(statement.place, PlacedIn) and len(statement.place.points) == 2:
            movable = [(point, mark_spans(statement, point)) for point in statement.place.points if isinstance(point, Hole)]
        else:
            continue
        for point, spans in movable:
            side = "abcde" if point.column in "abcde" else "fghij"
            free = [moved(point, point.row, column) for column in side if moved(point, point.row, column).lower() not in taken]
            if free and not _covered(listing, free[0]):
                yield Fault("other hole of the strip", f"{point.text} to {free[0]}",
                            listing.replaced([(span, free[0]) for span in spans]))


def _covered(listing: Listing, hole: str) -> bool:
    """Whether a chip or button lies over a hole: its legs take e and f and what is between them."""
    board, _, bare = hole.rpartition(":")
    for part in listing.parts():
        place = part.place
        if isinstance(place, PlacedAcross) and (place.board or "").lower() == board.lower():
            if place.first_row <= int(bare[1:]) <= place.last_row and place.left_column <= bare[0] <= place.right_column:
                return True
    return False


def _reordered(listing: Listing) -> Fault:
    """Wires and expectations first, parts last, each group backwards."""
    told = [(statement.span.line, statement) for statement in listing.tree.statements]
    lines = [listing.lines[line - 1] for line, _ in sorted(told, key=lambda each: (isinstance(each[1], Part), -each[0]))]
    return Fault("reordered", "statements in another order", "\n".join(lines) + "\n")


def _renamed(listing: Listing) -> Fault:
    """Every part another number behind the same letters; holes are written small in these lists, names with a capital."""
    text = "\n".join(listing.lines) + "\n"
    new: dict[str, str] = {}
    named: list[Part | Supply] = [*listing.parts(), *listing.supplies()]
    kinds = {word.text.lower() for statement in named for word in statement.words}
    for statement in named:
        name = statement.name.text
        if re.fullmatch(r"[A-Za-z]+\d*", name) and name.lower() not in kinds:
            new[name] = re.sub(r"\d*$", "", name) + f"{len(new) + 71}"
    if new:
        words = "|".join(sorted(map(re.escape, new), key=len, reverse=True))
        pattern = re.compile(rf"(?<![\w.\"-])({words})(?![\w\"-])")
        code = [line.split("#")[0].split('"') for line in text.splitlines()]
        done = ['"'.join(pattern.sub(lambda m: new[m[0]], piece) if number % 2 == 0 else piece
                         for number, piece in enumerate(pieces)) for pieces in code]
        text = "\n".join(done) + "\n"
    return Fault("renamed", "every part renamed", text)


def _colours(listing: Listing) -> Iterator[Fault]:
    swapped = {"red": "black", "black": "red"}
    lines = [re.sub(r"(?<=^wire )(red|black)\b", lambda m: swapped[m[0]], line) for line in listing.lines]
    if lines != listing.lines:
        yield Fault("colours exchanged", "red and black exchanged", "\n".join(lines) + "\n")
