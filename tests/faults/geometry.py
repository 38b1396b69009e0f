"""From the tree of a list to nets, worked out anew from DESIGN.md section 2 ("Orientation") for the benchmark's oracle.

Input: the syntax tree of ``grammar.read`` and the library's entries. Output: a ``Wired``: the parts with their entries, and for
every pin of every part the net that it is on (a controller's pins only where they are used). Nothing here comes from the checker's own seating. What the oracle does not
cover raises ``NotCovered`` with the reason.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from msgspec import Struct

from grammar import read
from grammar.syntax_tree import (
    Board,
    Claim,
    Hole,
    MarkAt,
    MarkFaces,
    Node,
    Notch,
    Part,
    Pin,
    PinRole,
    PlacedAcross,
    PlacedIn,
    Point,
    Power,
    Rail,
    Supply,
    Wire,
    WiringList,
)
from parts_library import identify, identify_supply, load_library, pin_named
from parts_library.schema import AnyEntry, Controller, Switch

LIBRARY = load_library()
ROWS = {"mini": 17, "half": 30, "full": 63}
COLUMNS = "abcdefghij"
RED_END = {"band": "K", "cathode": "K", "anode": "A", "stripe": "-", "plus": "+", "minus": "-"}


class NotCovered(Exception):
    """The list holds something that the oracle has no geometry or no equations for."""


class Wired(Struct):
    """``entries``: part name → library entry; ``nets``: (part, pin) → net number; ``roles``: (controller, pin) → roles; ``limits``:
    supply → amps; ``net_of``: a strip (``left 12``, with its board before it), a rail (``l+``) or ``name.pin`` → net."""

    entries: dict[str, AnyEntry]
    nets: dict[tuple[str, str], int]
    roles: dict[tuple[str, str], tuple[str, ...]]
    limits: dict[str, float]
    net_of: dict[str, int]


class _Joined:
    """Union-find over anything hashable."""

    def __init__(self) -> None:
        self.parent: dict[tuple[str, ...], tuple[str, ...]] = {}

    def root(self, key: tuple[str, ...]) -> tuple[str, ...]:
        self.parent.setdefault(key, key)
        while self.parent[key] != key:
            key = self.parent[key]
        return key

    def join(self, one: tuple[str, ...], other: tuple[str, ...]) -> None:
        self.parent[self.root(one)] = self.root(other)


def wired(text: str) -> Wired:
    """The circuit that a list describes. NotCovered where it cannot be told here."""
    tree = read(text)
    if tree.problems:
        raise NotCovered(f"unreadable: {tree.problems[0].message}")
    boards = {s.name: s for s in tree.statements if isinstance(s, Board)}
    parts = {s.name.text.lower(): s for s in tree.statements if isinstance(s, (Part, Supply))}
    if len(parts) != sum(isinstance(s, (Part, Supply)) for s in tree.statements):
        raise NotCovered("a name is used twice")
    entries = {name: _entry(statement) for name, statement in parts.items()}
    joined = _Joined()
    builder = _Builder(boards, entries, joined)
    for name, statement in parts.items():
        builder.seat(name, statement)
    for statement in tree.statements:
        if isinstance(statement, Wire):
            keys = [builder.key(point) for point in statement.points]
            for one, other in zip(keys, keys[1:]):
                joined.join(one, other)
        if isinstance(statement, Power) and statement.ways != ("usb",):
            raise NotCovered("a controller that is not fed by USB")
    numbers: dict[tuple[str, ...], int] = {}
    roles = _roles(tree, entries)
    roots = {(name, pin): joined.root(("pin", name, pin)) for name, entry in entries.items() for pin in entry.pins}
    shared = Counter(roots.values())
    nets = {(name, pin): numbers.setdefault(root, len(numbers)) for (name, pin), root in roots.items()
            if not isinstance(entries[name], Controller) or shared[root] > 1 or (name, pin) in roles
            or pin in ("5V", "3V3", "GND")}
    net_of = {spelled: numbers[joined.root(key)] for key in list(joined.parent) if joined.root(key) in numbers
              for spelled in (_spelled(key),)}
    return Wired(entries, nets, roles, _limits(parts), net_of)


def _spelled(key: tuple[str, ...]) -> str:
    if key[0] == "strip":
        return f"{key[1]} {key[2]} {key[3]}"
    if key[0] == "rail":
        return f"{key[1]} {key[2]}{key[3]}".lower()
    return ".".join(key[1:]).lower()


def _entry(statement: Part | Supply) -> AnyEntry:
    words = [word.text for word in statement.words]
    if isinstance(statement, Supply):
        found = identify_supply(words, LIBRARY)
    else:
        found = identify(words, name=statement.name.text, bands=[w.text for w in statement.bands],
                         code=statement.code.text if statement.code else None, library=LIBRARY)
    if found.entry is None or found.problems:
        raise NotCovered(f"{statement.name.text} is not identified")
    return found.entry


def _limits(parts: dict[str, Part | Supply]) -> dict[str, float]:
    from grammar import read_quantity

    return {name: read_quantity(s.limit.text).value for name, s in parts.items() if isinstance(s, Supply) and s.limit}


def _roles(tree: WiringList, entries: dict[str, AnyEntry]) -> dict[tuple[str, str], tuple[str, ...]]:
    roles: dict[tuple[str, str], tuple[str, ...]] = {}
    for statement in tree.statements:
        if isinstance(statement, PinRole):
            for point in statement.pins:
                if not isinstance(point, Pin):
                    raise NotCovered("a pin that is not written NAME.PIN")
                name = point.part.lower()
                roles[name, _pin(entries[name], point.pin)] = statement.roles
    return roles


def _pin(entry: AnyEntry, text: str) -> str:
    found = pin_named(entry, text)
    if not isinstance(found, str):
        raise NotCovered(f"{text} is no pin of {entry.name}")
    return found


class _Builder:
    """Joins legs to strips. Keys: ("strip", board, side, row), ("rail", board, side, sign, piece), ("pin", part, pin)."""

    def __init__(self, boards: dict[str | None, Board], entries: dict[str, AnyEntry], joined: _Joined) -> None:
        self.boards, self.entries, self.joined = boards, entries, joined

    def key(self, point: Point) -> tuple[str, ...]:
        if isinstance(point, Hole):
            rows = ROWS[self._board(point.board).size]
            if not 1 <= point.row <= rows:
                raise NotCovered("off the board")
            side = "left" if point.column in "abcde" else "right"
            return ("strip", self._name(point.board), side, str(point.row))
        if isinstance(point, Rail):
            board = self._board(point.board)
            if board.size == "mini":
                raise NotCovered("a mini board has no rails")
            half = {"half": 15, "full": 31}[board.size]
            piece = "" if board.rails != "split" else str((point.row or 1) > half)
            return ("rail", self._name(point.board), point.side, point.sign, piece)
        if isinstance(point, Pin):
            name = point.part.lower()
            if name not in self.entries:
                raise NotCovered("a pin of nothing")
            return ("pin", name, _pin(self.entries[name], point.pin))
        if isinstance(point, Node):
            return ("node", point.name)
        raise NotCovered("a point that is a lone word")

    def _board(self, name: str | None) -> Board:
        if name is None and len(self.boards) == 1:
            return next(iter(self.boards.values()))
        found = {(key or "").lower(): board for key, board in self.boards.items()}.get((name or "").lower())
        if found is None:
            raise NotCovered("no board of that name")
        return found

    def _name(self, name: str | None) -> str:
        return (self._board(name).name or "").lower()

    def seat(self, name: str, statement: Part | Supply) -> None:
        """Joins every leg of a part to its strip."""
        entry = self.entries[name]
        if isinstance(statement, Supply):
            legs = dict(zip(("+", "-"), statement.terminals))
        elif statement.place is None:
            legs = {}
        else:
            legs = seated(entry, statement)
        for pin, point in legs.items():
            self.joined.join(("pin", name, pin), self.key(point))


def seated(entry: AnyEntry, part: Part) -> dict[str, Point]:
    """Pin → point of a placed part. The order of rules: ``measured``, then marks, then the claim, then plain order."""
    place, marks = part.place, part.marks
    if isinstance(place, PlacedAcross):
        return _across(entry, place, marks)
    assert isinstance(place, PlacedIn)
    points = place.points
    if part.claim is not None and (part.claim.measured or not marks):
        return _claimed(entry, part.claim, points)
    if len(entry.pins) == 2 and len(points) == 2:
        return _two_legs(entry, points, marks)
    package = LIBRARY.packages.get(entry.package)
    if package is not None and package.form in ("to92", "to220") and len(points) == 3:
        pins = _faced(entry, points, marks, part.claim)
    elif isinstance(entry, Switch) or not marks:
        pins = dict(zip(entry.pins, points))
    else:
        raise NotCovered(f"{entry.name} with a mark")
    return pins


def _claimed(entry: AnyEntry, claim: Claim, points: Sequence[Point]) -> dict[str, Point]:
    if len(claim.pins) != len(points):
        raise NotCovered("a claim of another length")
    return {_pin(entry, word.text): point for word, point in zip(claim.pins, points)}


def _two_legs(entry: AnyEntry, points: Sequence[Point], marks: Sequence[object]) -> dict[str, Point]:
    plain = dict(zip(entry.pins, points))
    if set(entry.pins) == {"1", "2"}:
        return plain
    at = [mark for mark in marks if isinstance(mark, MarkAt)]
    if not at:
        if {"A", "K"} == set(entry.pins) or {"+", "-"} == set(entry.pins):
            raise NotCovered("a polarised part with no mark")
        return plain
    mark = at[0]
    marked = next((i for i, point in enumerate(points) if _same(point, mark.point)), None)
    if marked is None:
        raise NotCovered("a mark where no leg is")
    positive = entry.pins[0] if entry.pins[0] in ("A", "+") else entry.pins[1]
    negative = next(pin for pin in entry.pins if pin != positive)
    is_negative = mark.mark in ("band", "cathode", "short", "minus", "stripe", "flat")
    if mark.mark == "stripe" and getattr(entry, "type", "") == "tantalum":
        is_negative = False
    pin = negative if is_negative else positive
    return {pin: points[marked], (positive if is_negative else negative): points[1 - marked]}


def _same(one: Point, other: Point) -> bool:
    if isinstance(one, Hole) and isinstance(other, Hole):
        return (one.board, one.column, one.row) == (other.board, other.column, other.row)
    if isinstance(one, Rail) and isinstance(other, Rail):
        return (one.board, one.side, one.sign, one.row) == (other.board, other.side, other.sign, other.row)
    return False


def _faced(entry: AnyEntry, points: Sequence[Point], marks: Sequence[object], claim: Claim | None) -> dict[str, Point]:
    """Counted from the left of somebody who looks at the flat (or printed) side, legs down."""
    faces = next((mark for mark in marks if isinstance(mark, MarkFaces)), None)
    holes = [point for point in points if isinstance(point, Hole)]
    if faces is None or len(holes) != 3:
        raise NotCovered("three legs with no facing")
    flip = faces.mark == "tab"
    x = [COLUMNS.index(hole.column) for hole in holes]
    y = [hole.row for hole in holes]
    if faces.column is not None:
        towards = COLUMNS.index(faces.column) - sum(x) / 3
        # facing left (toward a): the viewer stands at the left and looks right; row 1 is at the viewer's left hand
        along = y if (towards < 0) != flip else [-value for value in y]
    else:
        assert faces.row is not None
        up = (faces.row < sum(y) / 3) != flip
        # facing row 1: the viewer stands at the top and looks down the board; column j is at the viewer's left hand
        along = [-value for value in x] if up else x
    if len(set(along)) != 3:
        raise NotCovered("legs that fall together")
    order = sorted(range(3), key=lambda i: along[i])
    pins: tuple[str, ...] = entry.pins
    if claim is not None:
        named = [_pin(entry, word.text) for word in claim.pins]
        pins = tuple(named[i] for i in order)
        if pins not in (entry.pins, *(other.pins for other in entry.other_orders)):
            raise NotCovered("a claim against the mark")
    elif entry.other_orders:
        raise NotCovered("sold in several orders")
    return {pin: holes[i] for pin, i in zip(pins, order)}


def _across(entry: AnyEntry, place: PlacedAcross, marks: Sequence[object]) -> dict[str, Point]:
    """DIP counted from the notch down the left side and up the right; a button's four legs in fixed places."""
    rows = range(place.first_row, place.last_row + 1)

    def hole(column: str, row: int) -> Hole:
        return Hole(column, row, f"{column}{row}", place.span, place.board)

    left, right = place.left_column, place.right_column
    if isinstance(entry, Switch) and len(entry.pins) == 4:
        top, bottom = place.first_row, place.last_row
        corners = [hole(left, top), hole(right, top), hole(left, bottom), hole(right, bottom)]
        if place.turned:
            corners = [corners[0], corners[2], corners[1], corners[3]]
        return dict(zip(entry.pins, corners))
    if len(entry.pins) != 2 * len(rows):
        raise NotCovered("rows and pins do not match")
    seats = [hole(left, row) for row in rows] + [hole(right, row) for row in reversed(rows)]
    notch = next((mark for mark in marks if isinstance(mark, (Notch, MarkAt))), None)
    if notch is None:
        raise NotCovered("a chip with no notch")
    if isinstance(notch, Notch):
        at_top = notch.row == place.first_row
    elif isinstance(notch.point, Hole):
        at_top = (notch.point.column, notch.point.row) == (left, place.first_row)
    else:
        raise NotCovered("a dot that is on no hole")
    if not at_top:
        half = len(rows)
        seats = seats[half:] + seats[:half]
    return dict(zip(entry.pins, seats))
