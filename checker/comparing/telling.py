"""From a pairing to differences, each in one sentence with what to do about it.

Input: the variant that was found. Output: differences, those of the wiring first, the ones that count most first.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.comparing.direct import with_direct_wires
from checker.comparing.exchanging import Told
from checker.comparing.kinds import COSTS, Unlike
from checker.comparing.model import NOTED, Difference
from checker.comparing.naming import OF_THE_REFERENCE, Names, led_in_words, part_in_words, thing_in_words, with_article
from checker.comparing.nets import net_differences
from checker.comparing.orienting import legs_in, marked
from checker.comparing.pairing import left_out
from checker.comparing.pins import pins_differently_used, roles_of_pins
from checker.comparing.shapes import ANY
from checker.comparing.turned import reseated_parts, turned_parts
from checker.comparing.variants import Variant
from checker.sentences.words import listed
from parts_library.schema import Capacitor, Led, Potentiometer, Resistor, SupplyKind

MOST_LEGS = 3
"""Legs of a missing part whose places are told one by one."""


def differences_of(variant: Variant) -> tuple[Difference, ...]:
    """All differences of a variant."""
    names = Names(variant)
    wiring = [*_parts_left_out(names), *net_differences(names)]
    found = [*reseated_parts(variant), *with_direct_wires(names, wiring), *turned_parts(names), *pins_differently_used(names),
             *_other_parts(names), *_reordered(variant), *roles_of_pins(names)]
    return tuple(sorted(found, key=lambda one: (not one.counts, not one.is_wiring, -one.cost)))


def likeness_of(variant: Variant) -> float:
    """The share of connections that the two lists have in common. A connection is a terminal on a net with others."""
    reference, given = variant.pair.reference, variant.pair.given
    all_of_them = sum(len(places) for form in (reference, given) for places in form.nets.values() if len(places) > 1)
    if not all_of_them:
        return 1.0
    common, nets = 0, variant.pairing.nets
    for one, (other, match) in variant.pairing.blocks.items():
        for number, (joint, place) in enumerate(zip(reference.blocks[one].joints, match)):
            theirs = given.blocks[other].joints[place].net
            common += nets.get(joint.net) == theirs and not variant.pair.turning(one, number, other, place) \
                and not reference.is_alone(joint.net) and not given.is_alone(theirs)
    turned = sum(len(variant.pair.given.circuit.bench.parts[one.key].pins) for one in variant.reseated)
    return max(0.0, (2 * common - 2 * turned - 2 * _unlike_parts(variant)) / all_of_them)


def _unlike_parts(variant: Variant) -> float:
    """What parts of another value or type, and other pins, take from the connections in common: a share of each of theirs."""
    lost = 0.0
    for one, (other, _) in variant.pairing.blocks.items():
        block = variant.pair.reference.blocks[one]
        found = variant.pair.likes.unlike(block.entry, variant.pair.given.blocks[other].entry) if block.parent is None else None
        if found is not None and found.kind not in NOTED:
            lost += COSTS[found.kind] * len(block.joints)
        lost += variant.pair.base(one, other) if block.parent is not None else 0.0
    return lost


# ── parts ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _parts_left_out(names: Names) -> Iterator[Told]:
    """Parts that only one of the lists has, with the nets that they are between."""
    for number, block in enumerate(names.reference.blocks):
        if block.parent is None and number not in names.pairing.blocks:
            yield Told(_missing(names, number), joined=frozenset(joint.net for joint in block.joints))
    for number, block in enumerate(names.given.blocks):
        if block.parent is None and number not in names.back:
            yield Told(_extra(names, number), apart=frozenset(joint.net for joint in block.joints))


def _missing(names: Names, number: int) -> Difference:
    block = names.reference.blocks[number]
    part = names.reference.circuit.bench.parts[block.key]
    nets = [joint.net for joint in block.joints if not names.reference.is_alone(joint.net)]
    between = [names.reference_net_named(net, number) for net in nets]
    where = f": the reference has it {_between(between[:3])}" if between and number not in names.reference.children else ""
    return Difference(kind="missing", cost=left_out(block), parts=(part.name,), reference_parts=(part.name,),
                      say=f"{part.name} ({part_in_words(part)}) is missing{where}",
                      hand=_put_in(names, number, part) if where else f"add {part.name}")


def _put_in(names: Names, number: int, part: BenchPart) -> str:
    """Where a missing part goes, and which way round."""
    joints = [joint for joint in names.reference.blocks[number].joints if not names.reference.is_alone(joint.net)]
    nets = [names.pairing.nets.get(joint.net) for joint in joints]
    known = [net for net in nets if net is not None]
    if len(known) < len(nets) or not 0 < len(nets) <= MOST_LEGS or part.entry is None:
        return f"add {part.name}"
    labels, put = [joint.terminal.label for joint in joints], f"put {thing_in_words(part)}"
    if len(nets) == 2:
        one, other = names.spots.leads(*(names.circuit_nets(net) for net in known))
        mark = marked(part.entry, dict(zip(labels, (one, other)))) if ANY not in labels else ""
        return f"{put} between {one} and {other}{f', {mark}' if mark else ''}"
    spots = [names.spot(known[0])]
    spots += [names.spot(net, near=spots[0]) for net in known[1:]]
    return f"{put} in {spots[0]}" if len(spots) == 1 else f"{put} with its {legs_in(part.entry, list(zip(labels, spots)))}"


def _extra(names: Names, number: int) -> Difference:
    block = names.given.blocks[number]
    part = names.given.circuit.bench.parts[block.key]
    return Difference(kind="extra", cost=left_out(block), parts=(part.name,), span=part.span,
                      points=tuple(names.place(number, joint) for joint in block.joints),
                      say=f"{part.name} ({part_in_words(part)}) is not in the reference", hand=f"take {part.name} out")


def _between(nets: list[tuple[str, bool]]) -> str:
    """Where a part is, what both lists have first; that something is only in the reference is said once."""
    known, own = ([name for name, is_own in nets if is_own is wanted] for wanted in (False, True))
    if not known and len(own) > 1:
        return f"between {listed(own)} (names as in the reference)"
    names = [*known, *([f"{listed(own)}{OF_THE_REFERENCE}"] if own else [])]
    return f"at {names[0]}" if len(nets) == 1 else f"between {listed(names)}"


def _other_parts(names: Names) -> Iterator[Difference]:
    """Parts of another value or type."""
    for one, (other, _) in names.pairing.blocks.items():
        block = names.reference.blocks[one]
        found = names.pair.likes.unlike(block.entry, names.given.blocks[other].entry) if block.parent is None else None
        if found is None:
            continue
        part, wanted = _given_part(names, other), names.reference.circuit.bench.parts[block.key]
        ours, theirs = _shown(found.reference, wanted), _shown(found.given, part)
        if ours == theirs:
            ours, theirs = part_in_words(wanted), part_in_words(part)
        does = ", which does the same here" if found.kind == "equivalent-type" else ""
        yield Difference(
            kind=found.kind, cost=COSTS[found.kind], parts=(part.name,), reference_parts=(wanted.name,), span=part.span,
            points=tuple(names.place(other, joint) for joint in names.given.blocks[other].joints),
            say=f"{part.name} is {theirs}{does}; the reference has {ours}", hand="" if does else
            _in_its_place(found, ours, wanted, part.name))


def _shown(words: str, part: BenchPart) -> str:
    """A value as it is; what a part is, as something to take in the hand: "a red LED"."""
    if part.entry is None or words != part.entry.name:
        return words
    return with_article(led_in_words(part.entry) if isinstance(part.entry, Led) else words)


def _in_its_place(found: Unlike, ours: str, wanted: BenchPart, name: str) -> str:
    """What to do about a part of another value or type."""
    if found.kind != "value":
        return f"put {ours} in place of {name}"
    if isinstance(wanted.entry, SupplyKind):
        ours = with_article(f"{ours} supply")
    elif not isinstance(wanted.entry, Resistor | Potentiometer | Capacitor):
        ours = thing_in_words(wanted)
    return f"use {ours} for {name}"


def _given_part(names: Names, block: int) -> BenchPart:
    return names.given.circuit.bench.parts[names.given.blocks[block].key]


# ── what counts less ──────────────────────────────────────────────────────────────────────────────────────────────


def _reordered(variant: Variant) -> Iterator[Difference]:
    for chain in variant.reordered:
        parts = [variant.pair.given.circuit.bench.parts[variant.pair.given.blocks[block].key] for block in chain.blocks]
        listed = ", ".join(part.name for part in parts[:-1]) + f" and {parts[-1].name}"
        yield Difference(kind="series-order", cost=0.0, parts=tuple(part.name for part in parts), span=parts[0].span,
                         say=f"{listed} follow each other in another order, which changes nothing")
