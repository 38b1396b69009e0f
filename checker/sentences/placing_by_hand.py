"""How each part must be turned when a plain connection list is put on a board."""

from __future__ import annotations

from checker.bench.model import Bench, BenchPart
from parts_library.schema import Bipolar, Capacitor, Chip, Diode, Jfet, Led, Mosfet, Regulator, Thyristor, Zener

MOST_TOLD = 12
"""Parts told of one by one: a longer list is read part by part with ``legwise part``."""


def turning_of(bench: Bench) -> tuple[str, ...]:
    """One sentence for each part whose legs are not alike, where no part of the list is placed."""
    if any(part.placed for part in bench.parts.values()):
        return ()
    told = [sentence for part in bench.parts.values() if (sentence := _of_part(bench, part))]
    return tuple(told[:MOST_TOLD])


def _of_part(bench: Bench, part: BenchPart) -> str:
    entry = part.entry
    if isinstance(entry, Diode | Zener):
        return f"On the board: the band of {part.name} marks its K (cathode)"
    if isinstance(entry, Led):
        return f"On the board: the longer leg of {part.name} is its A (anode)"
    if isinstance(entry, Capacitor) and entry.polarised:
        leg = "the + mark is at its +" if entry.type == "tantalum" else "the stripe is at its -"
        return f"On the board: on {part.name} {leg}"
    if isinstance(entry, Bipolar | Mosfet | Jfet | Thyristor | Regulator | Chip) and len(entry.pins) > 2:
        return _of_package(bench, part)
    return ""


def _of_package(bench: Bench, part: BenchPart) -> str:
    """Transistors, regulators and chips by the form of their package."""
    assert part.entry is not None
    package = bench.library.packages.get(part.entry.package)
    form = package.form if package is not None else ""
    order = " ".join(part.pins)
    varies = ", but it is sold in other orders too: measure" if part.entry.other_orders else ""
    if form == "to92":
        return f"On the board: {part.name} with its flat side toward you and its legs down is {order} from the left{varies}"
    if form == "to220":
        return f"On the board: {part.name} with its print toward you and its legs down is {order} from the left{varies}"
    if form == "dip":
        return f"On the board: {part.name} across the channel, pin 1 ({part.pins[0]}) left of the notch when that is at the top"
    return ""
