"""A part that is missing with a wire in its place, or one too many where the reference has a wire: one thing to do, not two.

Input: the differences of parts and nets. Output: the same with such pairs brought together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct, structs

from checker.comparing.model import Difference
from checker.comparing.naming import Names, part_in_words, thing_in_words


class Told(Struct, frozen=True):
    """A difference with the two nets it is between: those of the reference that are joined here, or the given ones that
    are apart. Empty where there are not two. ``swap`` is, of a single moved terminal, the net it belongs to and the net it
    is on, both of the reference."""

    difference: Difference
    joined: frozenset[int] = frozenset()
    apart: frozenset[int] = frozenset()
    swap: tuple[int, ...] = ()


def with_direct_wires(names: Names, told: Iterable[Told]) -> Iterator[Difference]:
    """The differences, those that belong together as one."""
    left = list(told)
    for part in [one for one in left if one.difference.kind in ("missing", "extra")]:
        missing = part.difference.kind == "missing"
        nets = part.joined if missing else part.apart
        kinds = ("merged", "bridged") if missing else ("split", "open")
        wire = next((one for one in left if one.difference.kind in kinds and len(nets) == 2
                     and (one.joined if missing else one.apart) == nets), None)
        if wire is not None:
            both = (_missing if missing else _extra)(names, part.difference, wire.difference)
            left[left.index(part)] = Told(both)
            left.remove(wire)
    yield from _exchanged(left)


def _exchanged(told: list[Told]) -> Iterator[Difference]:
    """The differences; two leads of one part, each where the other belongs, are one."""
    left = list(told)
    while left:
        one = left.pop(0)
        other = next((two for two in left if one.swap and two.swap == one.swap[::-1]
                      and one.difference.parts == two.difference.parts), None)
        if other is None:
            yield one.difference
            continue
        left.remove(other)
        pins = [each.difference.say.split(" goes to ")[0] for each in (one, other)]
        yield structs.replace(
            one.difference, kind="exchanged", cost=one.difference.cost + other.difference.cost,
            points=tuple(dict.fromkeys((*one.difference.points, *other.difference.points))),
            say=f"what is at {pins[0]} and at {pins[1]} is exchanged", hand=f"exchange the leads at {pins[0]} and {pins[1]}")


def _missing(names: Names, part: Difference, wire: Difference) -> Difference:
    bench_part = names.reference.circuit.bench.part(part.parts[0])
    assert bench_part is not None
    what = part_in_words(bench_part)
    taken_out, thing = wire.hand.removeprefix("take out "), thing_in_words(bench_part)
    hand = f"put {thing} in place of {taken_out}" if taken_out != wire.hand else f"{wire.hand}, and put {thing} between"
    return structs.replace(part, hand=hand, cost=part.cost + wire.cost, points=wire.points, span=wire.span,
                           say=f"{part.parts[0]} ({what}) is missing: {wire.say.split(';')[0]} without it")


def _extra(names: Names, part: Difference, gap: Difference) -> Difference:
    return structs.replace(part, cost=part.cost + gap.cost, hand=f"put a wire in place of {part.parts[0]}",
                           say=f"{part.say}, which has a wire there")
