"""What the marks and claims of one placed part share: where a mark is, which pins are claimed, what is refused.

Input is a part of the bench with the points its legs are at; output pins at holes, or mishaps.
"""

from __future__ import annotations

from checker.bench.mishap import Mishap
from checker.bench.model import BenchPart
from checker.seating.boards import name_of
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import Claim, Hole, MarkAt, MarkFaces, Notch, PlacedAcross, PlacedIn, Point, Rail, Span
from parts_library import pin_named


class Options(list[Seat]):
    """Seats in the order found, without repeats."""

    def offer(self, seat: Seat) -> None:
        if all(seat.legs != other.legs for other in self):
            self.append(seat)


def mishap(part: BenchPart, rule: str, case: str, span: Span | None = None, **facts: str) -> Mishap:
    """A fault of the placement of ``part``, at ``span`` or at its whole statement."""
    return Mishap(rule=rule, severity="fault", span=span or part.span, parts=(part.name,),
                  facts={"case": case, **facts})


def not_on_package(part: BenchPart, mark: MarkAt | MarkFaces | Notch, has: str = "") -> Mishap:
    """A mark that a part in this package does not have; ``has`` are the words for those that it has."""
    word = "notch" if isinstance(mark, Notch) else mark.mark
    return mishap(part, "bad-value", "mark-not-on-package", mark.span, mark=word, has=has)


def turned_is_said_of_buttons(part: BenchPart, place: PlacedIn | PlacedAcross) -> list[Mishap]:
    """``turned`` on a part that is no button with four legs says nothing; its mark does."""
    return [mishap(part, "bad-value", "mark-not-on-package", place.span, mark="turned")] if place.turned else []


def same_place(one: Point, other: Point) -> bool:
    """True where two points are one hole. What one of them leaves out (the board, the row of a rail) agrees."""
    if isinstance(one, Hole) and isinstance(other, Hole):
        return (one.column, one.row) == (other.column, other.row) and _boards_agree(one, other)
    if isinstance(one, Rail) and isinstance(other, Rail):
        rows_agree = one.row is None or other.row is None or one.row == other.row
        return (one.side, one.sign) == (other.side, other.sign) and rows_agree and _boards_agree(one, other)
    return False


def _boards_agree(one: Spot, other: Spot) -> bool:
    return not one.board or not other.board or one.board.lower() == other.board.lower()


def pins_at(legs: dict[str, Spot], spots: tuple[Spot, ...]) -> str:
    """The pins in the order of the holes: "E B C"."""
    by_name = {name_of(spot): pin for pin, spot in legs.items()}
    return " ".join(by_name[name_of(spot)] for spot in spots)


def claimed_legs(part: BenchPart, claim: Claim | None, spots: tuple[Spot, ...],
                 mishaps: list[Mishap]) -> dict[str, Spot] | None:
    """Pin to hole as claimed, or None without a usable claim."""
    if claim is None or part.entry is None:
        return None
    pins: list[str] = []
    for word in claim.pins:
        pin = pin_named(part.entry, word.text)
        if pin is None:
            mishaps.append(mishap(part, "unknown-point", "claim-pin", word.span, pin=word.text,
                                  pins=" ".join(part.pins)))
            return None
        pins.append(pin)
    if len(pins) != len(spots) or sorted(pins) != sorted(part.pins):
        mishaps.append(mishap(part, "bad-value", "claim-count", claim.span, pins=" ".join(part.pins)))
        return None
    return dict(zip(pins, spots))
