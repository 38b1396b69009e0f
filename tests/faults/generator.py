"""Single faults of a correct list: every slip of a kind that can be made in it, each with its true cause.

Input: the text of a correct list. Output: ``Fault``s. The kinds follow what goes wrong at the bench: legs swapped, a part turned,
one row off, the wrong rail, something left out, a value misread, another pin order sold, plus and minus exchanged.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from grammar import QuantityError, read_quantity
from grammar.syntax_tree import Part
from parts_library.schema import AnyEntry, Controller, Resistor, SupplyKind
from tests.faults.edits import Fault, Listing, exchanged_names, fault_of, part_points, pins_of
from tests.faults.geometry import NotCovered
from tests.faults.misplacing import one_row_off, wires, wrong_rail, wrong_side
from tests.faults.nets import wired
from tests.faults.turning import legs_swapped, other_order, reversed_part, turned


def faults(text: str) -> Iterator[Fault]:
    """Every single fault that can be made in the list."""
    listing = Listing(text)
    entries = wired(text).entries
    for part in listing.parts():
        entry = entries[part.name.text.lower()]
        yield from legs_swapped(listing, part, entry)
        yield from turned(listing, part, entry)
        yield from reversed_part(listing, part, entry)
        yield from one_row_off(listing, part)
        yield from wrong_side(listing, part)
        yield from wrong_rail(listing, part)
        yield from _left_out(listing, part, entry)
        yield from _value_misread(listing, part, entry)
        yield from _bridged_by_wire(listing, part, entry)
        yield from other_order(listing, part, entry)
    yield from wires(listing)
    yield from _exchanged_supplies(listing, entries)


def doubles(text: str, count: int, chosen: Random) -> Iterator[Fault]:
    """So many pairs of single faults, drawn by ``chosen``; to name either of the two causes is right."""
    singles = list(faults(text))
    for first in chosen.sample(singles, min(count, len(singles))):
        try:
            second = chosen.choice(list(faults(first.text)))
        except NotCovered:
            continue
        yield Fault("two faults", f"{first.say}; {second.say}", second.text, first.parts | second.parts,
                    first.lines | second.lines, first.points | second.points, first.missing or second.missing)


def _left_out(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    if isinstance(entry, (Controller, SupplyKind)) or pins_of(listing, part.name.text):
        return
    points = frozenset(point.text for point in part_points(part))
    if points:
        yield Fault("part left out", f"no {part.name.text}", listing.without({part.span.line}, [part.name.text]),
                    frozenset({part.name.text.lower()}), frozenset({part.span.line}), points, True)


def _value_misread(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    if not isinstance(entry, Resistor) or entry.ohms is None:
        return
    for word in part.words:
        try:
            value = read_quantity(word.text)
        except QuantityError:
            continue
        if abs(value.value - entry.ohms) < 1e-6 * entry.ohms:
            for times, kind in ((10.0, "value times ten"), (0.1, "value by ten"), (0.001, "value by a thousand")):
                new = f"{entry.ohms * times:.6g}"
                if "e" not in new:
                    yield fault_of(kind, f"{part.name.text}: {new} ohm", listing.replaced([(word.span, new + "ohm")]), part)


def _bridged_by_wire(listing: Listing, part: Part, entry: AnyEntry) -> Iterator[Fault]:
    """A wire where the resistor should be."""
    if not isinstance(entry, Resistor):
        return
    points = part_points(part)
    name = part.name.text.lower()
    say = f"a wire in place of {part.name.text}"
    if len(points) == 2:
        lines = listing.without([], [name]).splitlines()
        lines[part.span.line - 1] = f"wire {points[0].text} to {points[1].text}"
        yield Fault("resistor is a wire", say, "\n".join(lines) + "\n", frozenset({name}), frozenset({part.span.line}),
                    frozenset(point.text for point in points), True)
    elif part.place is None:
        changes = [(p.span, f"@{name}") for p in pins_of(listing, name)]
        text = Listing(listing.replaced(changes)).without([part.span.line], [name])
        yield Fault("resistor is a wire", say, text, frozenset({name}), frozenset({p[0].line for p in changes}),
                    frozenset(), True)


def _exchanged_supplies(listing: Listing, entries: dict[str, AnyEntry]) -> Iterator[Fault]:
    """Plus and minus of every supply exchanged; a controller's 5V and GND leads too."""
    for supply in listing.supplies():
        entry = entries[supply.name.text.lower()]
        if len(supply.terminals) == 2:
            plus, minus = supply.terminals
            text = listing.replaced([(plus.span, minus.text), (minus.span, plus.text)])
            yield fault_of("supply exchanged", f"{supply.name.text} reversed", text, supply)
        elif pins_of(listing, supply.name.text):
            yield exchanged_names(listing, supply, entry, {"+": "-", "-": "+"}, "supply exchanged")
    for part in listing.parts():
        name = part.name.text
        used = {p.pin.upper() for p in pins_of(listing, name)}
        if isinstance(entries[name.lower()], Controller) and {"5V", "GND"} <= used:
            new = {pin: pin for pin in entries[name.lower()].pins} | {"5V": "GND", "GND": "5V"}
            fault = exchanged_names(listing, part, entries[name.lower()], new, "supply exchanged")
            lines = frozenset(p.span.line for p in pins_of(listing, name) if p.pin.upper() in ("5V", "GND"))
            yield Fault(fault.kind, f"{name}: 5V and GND exchanged", fault.text, fault.parts, lines)
