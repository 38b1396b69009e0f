"""From the tree of a list to nets, for the benchmark's oracle: legs and wires join strips and rails.

Input: the text. Output: a ``Wired``: the parts with their entries, and for every pin of every part the net that it is on (a
controller's pins only where they are used). Only ``grammar.read`` and the library's entries are used.
"""

from __future__ import annotations

from collections import Counter

from msgspec import Struct

from grammar import read, read_quantity
from grammar.syntax_tree import Board, Hole, Node, Part, Pin, PinRole, Point, Power, Rail, Supply, Wire, WiringList
from parts_library import identify, identify_supply
from parts_library.schema import AnyEntry, Controller
from tests.faults.geometry import LIBRARY, NotCovered, pin_of, seated

ROWS = {"mini": 17, "half": 30, "full": 63}


class Wired(Struct):
    """``entries``: part name → library entry; ``nets``: (part, pin) → net number; ``roles``: (controller, pin) → roles;
    ``limits``: supply → amps; ``net_of``: a strip (``left 12``, its board before it), a rail (``l+``) or ``name.pin`` → net."""

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
    for name, placed in parts.items():
        builder.seat(name, placed)
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
    return {name: read_quantity(s.limit.text).value for name, s in parts.items() if isinstance(s, Supply) and s.limit}


def _roles(tree: WiringList, entries: dict[str, AnyEntry]) -> dict[tuple[str, str], tuple[str, ...]]:
    roles: dict[tuple[str, str], tuple[str, ...]] = {}
    for statement in tree.statements:
        if isinstance(statement, PinRole):
            for point in statement.pins:
                if not isinstance(point, Pin):
                    raise NotCovered("a pin that is not written NAME.PIN")
                name = point.part.lower()
                roles[name, pin_of(entries[name], point.pin)] = statement.roles
    return roles


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
            return ("pin", name, pin_of(self.entries[name], point.pin))
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
