"""Parts that are the wrong way round, whose legs are exchanged, or that sit otherwise as a whole.

Input: names for a variant. Output: differences, each with the way round that the part goes.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.comparing.model import Difference
from checker.comparing.naming import Names, pin_word
from checker.comparing.orienting import marked
from checker.comparing.variants import RESEATED, Variant
from checker.fixes.turning import turnings
from parts_library.schema import Potentiometer, Relay, SupplyKind, Switch


def turned_parts(names: Names) -> Iterator[Difference]:
    """Parts whose legs are in each other's places."""
    for one, (other, match) in names.pairing.blocks.items():
        wrong = [(i, j, cost) for i, j in enumerate(match) if (cost := names.pair.turning(one, i, other, j))]
        if not wrong:
            continue
        part, block = names.given.circuit.bench.parts[names.given.blocks[other].key], names.given.blocks[other]
        labels = [block.joints[j].terminal.label for _, j, _ in wrong]
        say, hand = _turned_in_words(part, labels, _turn(names, other, part))
        if part.entry is not None and isinstance(part.entry, Relay) and (lead := _only_lead(names, other, wrong)) is not None:
            used, wanted = lead
            say = f"{part.name}'s {used} is used where the reference has {wanted}"
            hand = f"move the lead at {part.name}'s {used} to {wanted}" if not part.placed else \
                f"move what is joined to {part.name}'s {used} over to its {wanted}"
        yield Difference(
            kind="turned" if len(block.joints) == 2 or hand.startswith("turn ") else "exchanged",
            cost=sum(cost for *_, cost in wrong), parts=(part.name,), reference_parts=(names.reference.name(one),),
            points=tuple(names.place(other, block.joints[j]) for _, j, _ in wrong), span=part.span, say=say, hand=hand)


def _turn(names: Names, number: int, part: BenchPart) -> str:
    """Which way round a part goes that is turned: "turn D1 round: band to d18"."""
    block, turn = names.given.blocks[number], f"turn {part.name} round"
    if len(block.joints) == 2 and part.entry is not None:
        one, other = block.joints
        places = {one.terminal.label: names.place(number, other), other.terminal.label: names.place(number, one)}
        mark = marked(part.entry, places) if one.terminal.label != other.terminal.label else ""
        return f"{turn}: {mark}" if mark else turn
    return _turn_of(names.given.circuit, part)


def _turn_of(circuit: Circuit, part: BenchPart) -> str:
    """The same for a part with a face or a notch, as the fixes turn it."""
    turn = f"turn {part.name} round"
    return next((one.say for one in turnings(circuit) if one.parts[:1] == (part.name,) and one.say.startswith(turn)), turn)


def _only_lead(names: Names, number: int, wrong: list[tuple[int, int, float]]) -> tuple[str, str] | None:
    """Of two contacts that are exchanged, the one that something is joined to and the one that nothing is."""
    joints = [names.given.blocks[number].joints[place] for _, place, _ in wrong]
    used = [joint.terminal.label for joint in joints if not names.given.is_alone(joint.net)]
    free = [joint.terminal.label for joint in joints if names.given.is_alone(joint.net)]
    return (used[0], free[0]) if len(used) == len(free) == 1 else None


def _turned_in_words(part: BenchPart, labels: list[str], turn: str) -> tuple[str, str]:
    words = [pin_word(part.entry, label) or label for label in labels] if part.entry is not None else labels
    legs = f"{', '.join(words[:-1])} and {words[-1]}"
    if isinstance(part.entry, SupplyKind) or not part.placed:
        return f"{part.name}'s {legs} are exchanged", f"exchange the leads at {part.name}'s {legs}"
    if isinstance(part.entry, Potentiometer | Switch):
        return f"{part.name} works the other way: its ends {legs} are exchanged", f"turn {part.name} round"
    if len(part.pins) == 2:
        return f"{part.name} is the wrong way round", turn
    said = f"{part.name}'s {legs} are {'exchanged' if len(words) == 2 else 'in each other’s places'}"
    outer = len(part.pins) == 3 and set(labels) == {part.pins[0], part.pins[-1]}
    return said, turn if outer else f"put {part.name}'s {legs} where the other belongs"


def reseated_parts(variant: Variant) -> Iterator[Difference]:
    """Parts that are turned, or a row off, as a whole."""
    circuit = variant.pair.given.circuit
    for one in variant.reseated:
        part = circuit.bench.parts[one.key]
        turned = one.how == "turned"
        yield Difference(
            kind="turned" if turned else "row-off", cost=RESEATED, parts=(part.name,), span=part.span,
            points=tuple(dict.fromkeys(circuit.place_of[one.key, pin] for pin in part.pins)),
            say=f"{part.name} is the wrong way round" if turned else f"{part.name} is one row off",
            hand=_turn_of(circuit, part) if turned else f"move {part.name} {one.how} by one row, all its legs")
