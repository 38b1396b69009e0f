"""The given list as it would be with one thing done to it: a series in another order, a part turned or moved by a row.

Input: the pair of forms and the pairing found. Output: another given form that is nearer to the reference, and what was
done to it. What is left then is told as it would be without.
"""

from __future__ import annotations

from msgspec import Struct, structs

from checker.comparing.form import Form, form_of, pin_nets
from checker.comparing.halves import with_halves_exchanged
from checker.comparing.pairing import Pair, Pairing
from checker.comparing.search import Searched, search
from checker.comparing.series import Chain, chains_of
from checker.comparing.shapes import Shape
from checker.comparing.sitting import can_sit_otherwise, ways_to_sit
from parts_library.schema import Chip

RESEATED = 1.0
"""A part the other way round, or all of it a row off, is one movement."""

MANY_DIFFERENCES = 1.9
"""From this cost on it is tried whether a part sits otherwise as a whole: it takes two wrong legs at least."""

MOST_TRIED = 6
"""Parts that are tried otherwise seated, of those with the most differences at their legs."""


class Reseated(Struct, frozen=True):
    """A part of the given list (its key) that sits otherwise as a whole: ``how`` is turned, down or up."""

    key: str
    how: str


class Variant(Struct, frozen=True):
    """A pair with its pairing; ``reordered`` are the series of the given list that stand in another order, ``reseated`` the
    parts that were put right as a whole."""

    pair: Pair
    searched: Searched
    reordered: tuple[Chain, ...] = ()
    reseated: tuple[Reseated, ...] = ()

    @property
    def pairing(self) -> Pairing:
        return self.searched.pairing


def found(pair: Pair) -> Variant:
    """The nearest variant of the given list."""
    first = Variant(pair, search(pair))
    halves = _with_halves(first)
    starts = [first] if halves is first else [first, halves]
    return _in_order(min((_put_right(start) for start in starts),
                         key=lambda one: one.pairing.cost + RESEATED * len(one.reseated)))


# ── halves of a chip ──────────────────────────────────────────────────────────────────────────────────────────────


def _with_halves(variant: Variant) -> Variant:
    """With the alike halves of each chip exchanged, where that is nearer to the reference: which of them does the work is no
    difference, as with the gates of a chip."""
    before = variant
    for key, shape in _other_shapes(variant.pair.given)[:MOST_TRIED]:
        if variant.pairing.cost < 1e-9:
            break
        given = variant.pair.given
        pair = Pair(variant.pair.reference, form_of(given.circuit, shapes={**given.shapes, key: shape}), variant.pair.likes)
        tried = Variant(pair, search(pair, thorough=False))
        if tried.pairing.cost < variant.pairing.cost - 1e-9:
            variant = tried
    if variant is not before and not variant.searched.exact:
        variant = structs.replace(variant, searched=search(variant.pair))
    return variant


def _other_shapes(given: Form) -> list[tuple[str, Shape]]:
    """The parts of the given list, by key, with each shape in which two halves are exchanged."""
    entries = {block.key: block.entry for block in given.blocks if block.parent is None and isinstance(block.entry, Chip)}
    return [(key, shape) for key, entry in entries.items() if isinstance(entry, Chip) for shape in with_halves_exchanged(entry)]



# ── parts that sit otherwise as a whole ───────────────────────────────────────────────────────────────────────────


def _put_right(variant: Variant) -> Variant:
    """With each part turned, or moved by a row, that is nearer to the reference so."""
    for key in _suspects(variant):
        tried = [_with_nets(variant, Reseated(key, how), nets) for how, nets in ways_to_sit(variant.pair.given, key)]
        best = min(tried, key=lambda one: one.pairing.cost, default=variant)
        if best.pairing.cost + RESEATED < variant.pairing.cost - 0.5:
            variant = best
    if variant.reseated and not variant.searched.exact:
        variant = structs.replace(variant, searched=search(variant.pair))
    return variant


def _suspects(variant: Variant) -> list[str]:
    """The parts with several legs where something is wrong, and those that nothing in the reference fits, the worst first."""
    pair, pairing = variant.pair, variant.pairing
    if variant.searched.exact or pairing.cost < MANY_DIFFERENCES:
        return []
    wrong = {other for (one, other) in pair.overlaps(pairing.blocks) if pairing.nets.get(one) != other}
    wrong |= {pairing.nets[one] for (one, other) in pair.overlaps(pairing.blocks)
              if pairing.nets.get(one) != other and one in pairing.nets}
    counts: dict[str, int] = {}
    for block in pair.given.blocks:
        counts[block.key] = counts.get(block.key, 0) + sum(joint.net in wrong for joint in block.joints)
    for one, (other, match) in pairing.blocks.items():
        counts[pair.given.blocks[other].key] += sum(pair.turning(one, i, other, j) > 0 for i, j in enumerate(match))
    taken = {pair.given.blocks[other].key for other, _ in pairing.blocks.values()}
    counts.update({block.key: block.width for block in pair.given.blocks if block.parent is None and block.key not in taken})
    placed = [key for key, count in counts.items() if count > 1 and can_sit_otherwise(pair.given, key)]
    return sorted(placed, key=lambda key: -counts[key])[:MOST_TRIED]


def _with_nets(variant: Variant, how: Reseated, nets: dict[tuple[str, str], int]) -> Variant:
    pair = Pair(variant.pair.reference, form_of(variant.pair.given.circuit, nets, variant.pair.given.shapes), variant.pair.likes)
    return Variant(pair, search(pair, thorough=False), reseated=(*variant.reseated, how))


# ── series ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _in_order(variant: Variant) -> Variant:
    """With every series of the given list in the order of the reference, where that is nearer to it."""
    theirs = {frozenset(chain.blocks): chain for chain in chains_of(variant.pair.given)}
    blocks = variant.pairing.blocks
    for chain in chains_of(variant.pair.reference):
        wanted = [blocks[block][0] for block in chain.blocks if block in blocks]
        standing = theirs.get(frozenset(wanted))
        if standing is None or len(wanted) != len(chain.blocks) or variant.pairing.cost < 1.0:
            continue
        tried = [_reordered(variant, standing, order) for order in (wanted, wanted[::-1])]
        best = min(tried, key=lambda one: one.pairing.cost)
        if best.pairing.cost < variant.pairing.cost - 1e-9:
            variant = structs.replace(best, reordered=(*variant.reordered, standing))
    return variant


def _reordered(variant: Variant, chain: Chain, order: list[int]) -> Variant:
    """The same chain in this order; each part keeps the side that it turns to the start."""
    given = variant.pair.given
    nets = pin_nets(given)
    facing = {block: (first, last) for block, first, last in chain.links}
    row = [chain.start, *chain.inner, chain.end]
    for place, block in enumerate(order):
        for joint, net in zip(facing[block], row[place:place + 2]):
            for pin in given.blocks[block].joints[joint].terminal.pins:
                nets[given.blocks[block].key, pin] = net
    pair = Pair(variant.pair.reference, form_of(given.circuit, nets, given.shapes), variant.pair.likes)
    pairing = _matched_again(pair, variant.pairing, chain)
    return structs.replace(variant, pair=pair, searched=structs.replace(variant.searched, pairing=pairing))


def _matched_again(pair: Pair, pairing: Pairing, chain: Chain) -> Pairing:
    """The pairing with the joints of the chain's parts matched anew."""
    nets = {one: other for one, other in pairing.nets.items() if other not in chain.inner}
    blocks = dict(pairing.blocks)
    for _ in range(len(chain.links)):
        owners = {other: one for one, other in nets.items()}
        for one, (other, _) in pairing.blocks.items():
            if other in chain.blocks:
                blocks[one] = other, pair.best_match(one, other, nets, owners)[1]
        nets = pair.finished(blocks).nets
    return pair.finished(blocks)
