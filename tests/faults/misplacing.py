"""Slips in the place: one row off, the other side of the channel, the wrong rail, a wire left out."""

from __future__ import annotations

from collections.abc import Iterator

from grammar.syntax_tree import Hole, Part, Pin, PlacedAcross, Rail
from tests.faults.edits import Fault, Listing, fault_of, mark_spans, moved, other_rail, part_points, taken_holes


def one_row_off(listing: Listing, part: Part) -> Iterator[Fault]:
    taken = taken_holes(listing)
    for point in part_points(part):
        if isinstance(point, Hole):
            for row in (point.row - 1, point.row + 1):
                new = moved(point, row)
                if row >= 1 and new.lower() not in taken:
                    changes = [(span, new) for span in mark_spans(part, point)]
                    text = listing.replaced(changes)
                    yield fault_of("leg one row off", f"{part.name.text}: {point.text} is in {new}", text, part,
                              frozenset({point.text, new}))
    if isinstance(part.place, PlacedAcross) and not part.marks:
        place, line = part.place, listing.lines[part.span.line - 1]
        written = line[place.span.column - 1: place.span.end_column - 1]
        for step in (-1, 1):
            rows = f"{place.first_row + step}-{place.last_row + step}"
            new = written.replace(f"{place.first_row}-{place.last_row}", rows)
            if place.first_row + step >= 1 and new != written:
                text = listing.replaced([(place.span, new)])
                yield fault_of("part one row off", f"{part.name.text} in rows {rows}", text, part)


def wrong_side(listing: Listing, part: Part) -> Iterator[Fault]:
    """All legs on the other side of the channel, and each leg alone across it."""
    taken = taken_holes(listing)
    holes = [point for point in part_points(part) if isinstance(point, Hole)]
    for group in [holes, *([hole] for hole in holes)] if len(holes) > 1 else [holes]:
        new = {hole.text: moved(hole, hole.row, "jihgfedcba"["abcdefghij".index(hole.column)]) for hole in group}
        if group and not any(text.lower() in taken for text in new.values()):
            changes = [(span, new[hole.text]) for hole in group for span in mark_spans(part, hole)]
            kind = "other side of the channel" if group is holes else "leg across the channel"
            say = f"{part.name.text}: {', '.join(new)} is in {', '.join(new.values())}"
            yield fault_of(kind, say, listing.replaced(changes), part, frozenset({*new, *new.values()}))


def wrong_rail(listing: Listing, part: Part) -> Iterator[Fault]:
    for point in part_points(part):
        if isinstance(point, Rail):
            for new in (other_rail(point, sign=True), other_rail(point, side=True)):
                changes = [(span, new) for span in mark_spans(part, point)]
                yield fault_of("wrong rail", f"{part.name.text}: {point.text} is in {new}", listing.replaced(changes), part,
                          frozenset({point.text, new}))


def wires(listing: Listing) -> Iterator[Fault]:
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
