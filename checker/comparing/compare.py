"""Two lists compared: is it the same circuit, and if not, what is the smallest difference.

Input: two surveys, or two lists that are only wired up (no currents are needed). Output: a ``Comparison``. Holes, names of
parts, the order of lines and the ways of jumpers do not matter.
"""

from __future__ import annotations

from checker.comparing.form import form_of
from checker.comparing.model import Comparison
from checker.comparing.pairing import Pair
from checker.comparing.telling import differences_of, likeness_of
from checker.comparing.variants import Variant, found
from checker.comparing.vertices import likes_of
from checker.survey import Survey, Wired

Wiring = Survey | Wired


def compare(reference: Wiring, given: Wiring) -> Comparison:
    """The given list beside the reference, both in their first readings."""
    return compared(nearest_variant(reference, given), reference, given)


def compared(variant: Variant, reference: Wiring, given: Wiring) -> Comparison:
    """What the nearest variant says about the two lists."""
    differences = differences_of(variant)
    partly = (*_partly("the reference", reference), *_partly("the list", given))
    return Comparison(
        same=not any(difference.counts for difference in differences), differences=differences,
        likeness=likeness_of(variant), bounded=not variant.searched.proven and bool(differences),
        pairs=part_pairs(variant), pins=pin_pairs(variant), partly=partly, unread=reference.bench.unread or given.bench.unread)


def nearest_variant(reference: Wiring, given: Wiring) -> Variant:
    """The given list as near to the reference as it can be understood."""
    ours, theirs = form_of(reference.circuits[0]), form_of(given.circuits[0])
    return found(Pair(ours, theirs, likes_of(ours, theirs)))


def part_pairs(variant: Variant) -> dict[str, str]:
    """Name of the reference to name of the given list. In a circuit of another shape a part may be too few and one of its
    kind too many: it plays the same part in another place, and is paired too."""
    reference, given = variant.pair.reference, variant.pair.given
    pairs = {one: other for one, (other, _) in variant.pairing.blocks.items() if reference.blocks[one].parent is None}
    left = [(variant.pair.base(one, other), not variant.pair.same_name(one, other), one, other)
            for one, block in enumerate(reference.blocks) if block.parent is None and one not in pairs
            for other in variant.pair.given_by_group.get(block.group, []) if other not in pairs.values()]
    for _, _, one, other in sorted(left):
        if one not in pairs and other not in pairs.values():
            pairs[one] = other
    return {reference.name(one): given.name(pairs[one]) for one in sorted(pairs)}


def pin_pairs(variant: Variant) -> dict[str, str]:
    """Pin of the reference to pin of the given list, "R1.1" to "R7.2", where the pin has another name."""
    pairs = {}
    reference, given = variant.pair.reference, variant.pair.given
    for one, (other, match) in variant.pairing.blocks.items():
        for joint, place in zip(reference.blocks[one].joints, match):
            for pin, theirs in zip(joint.terminal.pins, given.blocks[other].joints[place].terminal.pins):
                if pin != theirs:
                    pairs[f"{reference.name(one)}.{pin}"] = f"{given.name(other)}.{theirs}"
    return pairs


_FEW = 5


def _few(names: list[str]) -> str:
    """"1, 2, 3, 5, 6 and 1 more": the first few, and how many there are besides."""
    more = f" and {len(names) - _FEW} more" if len(names) > _FEW else ""
    return f"{', '.join(names[:_FEW])}{more}"


def _partly(which: str, wiring: Wiring) -> list[str]:
    """What of a list could not be compared."""
    bench, said = wiring.bench, []
    if bench.tree.problems:
        lines = sorted({problem.span.line for problem in bench.tree.problems})
        said.append(f"{which} has {'a line' if len(lines) == 1 else f'{len(lines)} lines'} that could not be read: "
                    f"line{'' if len(lines) == 1 else 's'} {_few([str(line) for line in lines])}")
    unknown = [part.name for part in bench.parts.values() if part.entry is None]
    if unknown:
        said.append(f"{which} has parts that are not known: {_few(unknown)}")
    if len(wiring.circuits) > 1:
        said.append(f"{which} can be read in several ways; the one that it says itself was compared")
    return said
