"""A part that is missing with a wire in its place, or one too many where the reference has a wire: one thing to do, not two.

Input: the differences of parts and nets. Output: the same with such pairs brought together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import structs

from checker.bench.model import BenchPart
from checker.comparing.exchanging import Told, exchanged
from checker.comparing.model import Difference
from checker.comparing.naming import Names, part_in_words, thing_in_words
from checker.comparing.orienting import marked
from checker.comparing.shapes import ANY


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
            both = _missing(names, part.difference, wire) if missing else _extra(names, part.difference, wire.difference)
            left[left.index(part)] = Told(both)
            left.remove(wire)
    yield from exchanged(names, left)


def _missing(names: Names, part: Difference, told: Told) -> Difference:
    bench_part = names.reference.circuit.bench.part(part.parts[0])
    assert bench_part is not None
    wire, what = told.difference, part_in_words(bench_part)
    taken_out, thing = wire.hand.removeprefix("take out "), thing_in_words(bench_part)
    hand = f"put {thing} in place of {taken_out}" if taken_out != wire.hand else f"{wire.hand}, and put {thing} between"
    mark = _mark(names, bench_part, told)
    return structs.replace(part, hand=f"{hand}, {mark}" if mark else hand, cost=part.cost + wire.cost, points=wire.points,
                           span=wire.span, say=f"{part.parts[0]} ({what}) is missing: {wire.say.split(';')[0]} without it")


def _mark(names: Names, part: BenchPart, told: Told) -> str:
    """Which way round it goes in the wire's place: the holes of the wire, or where there is no wire the nets."""
    block = next(block for block in names.reference.blocks if names.reference.circuit.bench.parts[block.key] is part)
    if part.entry is None or any(joint.terminal.label == ANY for joint in block.joints):
        return ""
    number = names.reference.blocks.index(block)
    return marked(part.entry, {joint.terminal.label: told.ends.get(joint.net) or names.reference_net(joint.net, number)
                               for joint in block.joints})


def _extra(names: Names, part: Difference, gap: Difference) -> Difference:
    return structs.replace(part, cost=part.cost + gap.cost, hand=f"put a wire in place of {part.parts[0]}",
                           say=f"{part.say}, which has a wire there")
