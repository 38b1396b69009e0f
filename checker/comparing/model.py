"""What a comparison says: whether two lists are the same circuit, and the smallest difference that was found.

The cost of a difference is counted in movements of the hand: a leg or a wire that goes elsewhere is one.
"""

from __future__ import annotations

from msgspec import Struct

from grammar.syntax_tree import Span

NOTED = ("equivalent-type", "series-order")
"""Differences that are told and change nothing: the circuit counts as the same."""

ANOTHER_BELOW = 0.4
"""Likeness below which a list is another circuit, and not the reference with some slips in it: common practice, no source."""

FEW_STEPS = 5
"""So many differences are told one by one however little the lists have in common."""

NOT_WIRING = ("equivalent-type", "series-order", "type", "value", "role")
"""Differences that leave every connection as it is."""


class Difference(Struct, frozen=True, kw_only=True):
    """One difference. ``say`` is what is different, in one sentence without a period, ``hand`` what to do to make it the
    same as the reference. ``parts`` and ``points`` are those of the given list (of the reference for a missing part),
    ``reference_parts`` the counterparts of ``parts``; ``span`` is in the given list. ``cost`` is how much it counts.

    ``kind``: moved (to another net), open and split (not joined), merged and bridged (joined), turned, row-off, exchanged
    (legs of one part, leads of two), missing, extra, value, type, equivalent-type, other-pin (of a controller),
    series-order, role (of a pin)."""

    kind: str
    say: str
    hand: str = ""
    parts: tuple[str, ...] = ()
    reference_parts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    span: Span | None = None
    cost: float = 1.0

    @property
    def is_wiring(self) -> bool:
        return self.kind not in NOT_WIRING

    @property
    def counts(self) -> bool:
        """False where the circuit is the same in spite of it."""
        return self.kind not in NOTED


class Comparison(Struct, frozen=True, kw_only=True):
    """Two lists compared. ``same`` is true where no difference counts; ``likeness`` the share of connections in common,
    0 to 1; ``bounded`` true where a smaller difference was not ruled out; ``pairs`` maps the names of the reference to
    those of the given list, ``pins`` a pin to the one that plays it where that has another name; ``partly`` says, one
    sentence each, what could not be compared, ``unread`` is true where that is a line or a part of either list."""

    same: bool
    differences: tuple[Difference, ...]
    likeness: float
    bounded: bool
    pairs: dict[str, str]
    pins: dict[str, str] = {}
    partly: tuple[str, ...] = ()
    unread: bool = False

    @property
    def is_another(self) -> bool:
        """True for a circuit that has so little of the reference that its differences are no list of things to do."""
        return not self.same and not self.unread and self.likeness < ANOTHER_BELOW

    @property
    def counting(self) -> tuple[Difference, ...]:
        """The differences for which the circuit is not the same."""
        return tuple(one for one in self.differences if one.counts)

    @property
    def cost(self) -> float:
        """What all differences count together."""
        return sum(difference.cost for difference in self.differences)
