"""Sketches: what two lists have in common, whatever their parts are called and in which order the lines stand.

Input: a tree. Output: a sketch of 512 bytes; the share of equal numbers in two sketches estimates the share of statements that
the two lists have in common (minhash: Broder, "On the resemblance and containment of documents", 1997). Names of parts,
colours of wires, titles, comments and the two ends of a wire in either order make no difference; holes and values do.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray

from grammar.syntax_tree import Expect, Part, Pin, PinRole, PlacedIn, Point, Statement, Supply, Wire, WiringList

HASHES, BANDS = 128, 16
"""Numbers in a sketch: an estimate of 0.9 is off by 0.03. Bands of eight: two lists with 0.85 in common share one in 99 of
100 cases, two with 0.5 in 6."""

ALIKE = 0.9
"""Share of common statements from which two lists are pointed out: one statement in twenty or so differs."""

LEAST_STATEMENTS = 6
"""Lists with fewer statements are alike by nature."""

MOST_IN_BUCKET = 8
"""With how many of those that share a band a list is compared: in a class of copies each still meets its group."""

Numbers = NDArray[np.uint64]

_SEEDS: Numbers = np.frombuffer(b"".join(blake2b(bytes([n]), digest_size=16).digest() for n in range(HASHES)),
                                dtype=np.uint64).reshape(HASHES, 2) | np.uint64(1)


def sketch_of(tree: WiringList) -> bytes:
    """The sketch of a list, or nothing for one of few statements."""
    said = {words for statement in tree.statements if (words := _said(statement))}
    if len(said) < LEAST_STATEMENTS:
        return b""
    hashes = np.array([int.from_bytes(blake2b(words.encode(), digest_size=8).digest(), "little") for words in sorted(said)],
                      dtype=np.uint64)
    mixed = hashes[:, None] * _SEEDS[:, 0] + _SEEDS[:, 1]
    lowest: NDArray[np.uint32] = (mixed >> np.uint64(32)).astype(np.uint32).min(axis=0)
    return lowest.tobytes()


def _said(statement: Statement) -> str:
    """A statement without names: what is where. Titles and authors say nothing about the wiring."""
    if isinstance(statement, Wire):
        return "wire " + " ".join(sorted(map(_point, statement.points)))
    if isinstance(statement, Supply):
        return f"supply {_words(statement)} " + " ".join(map(_point, statement.terminals))
    if isinstance(statement, Part):
        return f"part {_words(statement)} {_place(statement)}"
    if isinstance(statement, PinRole):
        return f"pin {' '.join(map(_point, statement.pins))} {' '.join(statement.roles)}"
    if isinstance(statement, Expect) and statement.bound is not None:
        return f"expect {statement.verb} {statement.bound.low} {statement.bound.high}"
    return ""


def _words(statement: Part | Supply) -> str:
    return " ".join(word.text.lower() for word in statement.words)


def _place(part: Part) -> str:
    if isinstance(part.place, PlacedIn):
        return " ".join(map(_point, part.place.points))
    return f"{part.place.first_row}-{part.place.last_row}" if part.place is not None else ""


def _point(point: Point) -> str:
    return f".{point.pin.lower()}" if isinstance(point, Pin) else point.text.lower()


def likeness_of(one: bytes, other: bytes) -> float:
    """The share of statements that two lists have in common, estimated, 0 to 1."""
    return float((np.frombuffer(one, np.uint32) == np.frombuffer(other, np.uint32)).mean())


def alike_groups(sketches: Iterable[tuple[int, bytes]]) -> list[list[int]]:
    """Groups of two or more numbers whose sketches are alike, each group ascending, the groups by their first.

    Only lists that share a band are compared, and with few of each: the work grows with the number of lists."""
    buckets: dict[tuple[int, bytes], list[int]] = defaultdict(list)
    known: dict[int, bytes] = {}
    leader: dict[int, int] = {}
    for number, sketch in sketches:
        known[number], leader[number] = sketch, number
        for band in _bands(sketch):
            met = buckets[band]
            for other in met[:MOST_IN_BUCKET]:
                if _top(leader, other) != _top(leader, number) and likeness_of(sketch, known[other]) >= ALIKE:
                    _join(leader, other, number)
            if len(met) < MOST_IN_BUCKET:
                met.append(number)
    return _groups(leader)


def _bands(sketch: bytes) -> Sequence[tuple[int, bytes]]:
    size = len(sketch) // BANDS
    return [(band, blake2b(sketch[band * size:(band + 1) * size], digest_size=8).digest()) for band in range(BANDS)]


def _top(leader: dict[int, int], number: int) -> int:
    while leader[number] != number:
        leader[number] = leader[leader[number]]
        number = leader[number]
    return number


def _join(leader: dict[int, int], one: int, other: int) -> None:
    low, high = sorted((_top(leader, one), _top(leader, other)))
    leader[high] = low


def _groups(leader: dict[int, int]) -> list[list[int]]:
    found: dict[int, list[int]] = defaultdict(list)
    for number in sorted(leader):
        found[_top(leader, number)].append(number)
    return [group for group in found.values() if len(group) > 1]
