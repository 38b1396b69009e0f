"""From a pairing to differences, each in one sentence with what to do about it.

Input: the variant that was found. Output: differences, those of the wiring first, the ones that count most first.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.comparing.direct import Told, with_direct_wires
from checker.comparing.kinds import COSTS, Unlike
from checker.comparing.model import Difference
from checker.comparing.naming import OF_THE_REFERENCE, Names, led_in_words, part_in_words, pin_word, thing_in_words, with_article
from checker.comparing.nets import net_differences
from checker.comparing.pairing import OTHER_NUMBER, left_out
from checker.comparing.variants import RESEATED, Variant
from checker.sentences.words import listed
from parts_library.schema import Capacitor, Led, Potentiometer, Resistor, SupplyKind, Switch

OTHER_ROLE = 0.3
"""Another role of a pin: the program's matter, but an input without its pull-up is another circuit."""


def differences_of(variant: Variant) -> tuple[Difference, ...]:
    """All differences of a variant."""
    names = Names(variant)
    wiring = [*_parts_left_out(names), *net_differences(names)]
    found = [*_reseated(variant), *with_direct_wires(names, wiring), *_turned(names), *_other_pins(names),
             *_other_parts(names), *_reordered(variant), *_roles(names)]
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
    return max(0.0, (2 * common - 2 * turned) / all_of_them)


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
    spots = [spot for net in nets if (spot := names.spot(names.pairing.nets.get(net)))]
    where = f": the reference has it {_between(between[:3])}" if between and number not in names.reference.children else ""
    known = spots and len(spots) == len(nets) <= 3 and not where == ""
    return Difference(kind="missing", cost=left_out(block), parts=(part.name,), reference_parts=(part.name,),
                      say=f"{part.name} ({part_in_words(part)}) is missing{where}",
                      hand=f"put {thing_in_words(part)} {_at(spots)}" if known else f"add {part.name}")


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


def _at(spots: list[str]) -> str:
    return f"between {spots[0]} and {spots[1]}" if len(spots) == 2 else f"in {', '.join(spots)}"


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


# ── turned ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _turned(names: Names) -> Iterator[Difference]:
    for one, (other, match) in names.pairing.blocks.items():
        wrong = [(i, j, cost) for i, j in enumerate(match) if (cost := names.pair.turning(one, i, other, j))]
        if not wrong:
            continue
        part, block = _given_part(names, other), names.given.blocks[other]
        labels = [block.joints[j].terminal.label for _, j, _ in wrong]
        say, hand = _turned_in_words(part, labels)
        yield Difference(
            kind="turned" if len(block.joints) == 2 or hand.startswith("turn ") else "exchanged",
            cost=sum(cost for *_, cost in wrong), parts=(part.name,), reference_parts=(names.reference.name(one),),
            points=tuple(names.place(other, block.joints[j]) for _, j, _ in wrong), span=part.span, say=say, hand=hand)


def _turned_in_words(part: BenchPart, labels: list[str]) -> tuple[str, str]:
    words = [pin_word(part.entry, label) or label for label in labels] if part.entry is not None else labels
    legs = f"{', '.join(words[:-1])} and {words[-1]}"
    if isinstance(part.entry, SupplyKind) or not part.placed:
        return f"{part.name}'s {legs} are exchanged", f"exchange the leads at {part.name}'s {legs}"
    if isinstance(part.entry, Potentiometer | Switch):
        return f"{part.name} works the other way: its ends {legs} are exchanged", f"turn {part.name} round"
    if len(part.pins) == 2:
        return f"{part.name} is the wrong way round", f"turn {part.name} round"
    said = f"{part.name}'s {legs} are {'exchanged' if len(words) == 2 else 'in each other’s places'}"
    outer = len(part.pins) == 3 and set(labels) == {part.pins[0], part.pins[-1]}
    return said, f"turn {part.name} round" if outer else f"put {part.name}'s {legs} where the other belongs"


def _reseated(variant: Variant) -> Iterator[Difference]:
    """Parts that are turned, or a row off, as a whole."""
    circuit = variant.pair.given.circuit
    for one in variant.reseated:
        part = circuit.bench.parts[one.key]
        turned = one.how == "turned"
        yield Difference(
            kind="turned" if turned else "row-off", cost=RESEATED, parts=(part.name,), span=part.span,
            points=tuple(dict.fromkeys(circuit.place_of[one.key, pin] for pin in part.pins)),
            say=f"{part.name} is the wrong way round" if turned else f"{part.name} is one row off",
            hand=f"turn {part.name} round" if turned else f"move {part.name} {one.how} by one row, all its legs")


# ── what counts less ──────────────────────────────────────────────────────────────────────────────────────────────


def _other_pins(names: Names) -> Iterator[Difference]:
    """Another pin of a controller, another pole of a switch, than the reference uses."""
    for one, (other, _) in names.pairing.blocks.items():
        if names.reference.blocks[one].parent is None or not names.pair.base(one, other):
            continue
        if names.given.is_idle(other) or names.reference.is_idle(one):
            continue
        part, used, wanted = _given_part(names, other), names.given.blocks[other].unit, names.reference.blocks[one].unit
        yield Difference(kind="other-pin", cost=OTHER_NUMBER, parts=(part.name,), reference_parts=(names.reference.name(one),),
                         points=(f"{part.name}.{used}",), span=part.span,
                         say=f"{part.name}.{used} is used where the reference has {wanted}",
                         hand=f"move what is at {part.name}.{used} to {part.name}.{wanted}")


def _reordered(variant: Variant) -> Iterator[Difference]:
    for chain in variant.reordered:
        parts = [variant.pair.given.circuit.bench.parts[variant.pair.given.blocks[block].key] for block in chain.blocks]
        listed = ", ".join(part.name for part in parts[:-1]) + f" and {parts[-1].name}"
        yield Difference(kind="series-order", cost=0.0, parts=tuple(part.name for part in parts), span=parts[0].span,
                         say=f"{listed} follow each other in another order, which changes nothing")


def _roles(names: Names) -> Iterator[Difference]:
    """What the programs do with the same pin, where both lists say it."""
    for one, (other, _) in names.pairing.blocks.items():
        a, b = names.reference.blocks[one], names.given.blocks[other]
        if not a.numbered or a.parent is None:
            continue
        ours = names.reference.circuit.bench.role_of(a.key, a.unit)
        theirs = names.given.circuit.bench.role_of(b.key, b.unit)
        if ours and theirs and set(ours) != set(theirs):
            part = _given_part(names, other)
            span = names.given.circuit.bench.roles[b.key, b.unit][1]
            yield Difference(kind="role", cost=OTHER_ROLE, parts=(part.name,), points=(f"{part.name}.{b.unit}",), span=span,
                             say=f"{part.name}.{b.unit} is {' '.join(theirs)}; the reference has {' '.join(ours)}",
                             hand="look at the program: the wiring is not concerned")
