"""Which parts the current limit of a supply does not protect.

Input: a circuit and a supply. Output: parts with the most that they can take, and the sentence about those that take less.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.metering.fed import reached
from checker.sentences.words import listed
from grammar import show_quantity
from parts_library.schema import Bipolar, Led, Mosfet


def weak_parts(circuit: Circuit, supply: BenchPart) -> list[tuple[float, str]]:
    """The parts on this supply that too much current kills, each with the most that it can take."""
    nets = reached(circuit, supply.name.lower(), "+")
    return [(amps, part.name) for key, part in circuit.bench.parts.items()
            if (amps := _most_amps(part)) is not None and nets & {circuit.pin_net[key, pin] for pin in part.pins}]


def unprotected(weak: Sequence[tuple[float, str]]) -> str:
    """The parts that die below the limit: it does not protect them."""
    if not weak:
        return ""
    names = [name for _, name in sorted(weak)]
    if len(names) > MOST_NAMES:
        names = [*names[:MOST_NAMES - 1], f"{len(names) - MOST_NAMES + 1} more"]
    return f"It does not protect {listed(names)}, which can take {show_quantity(min(weak)[0], 'A')}"


MOST_NAMES = 3


def _most_amps(part: BenchPart) -> float | None:
    entry = part.entry
    if isinstance(entry, Led):
        return float(entry.current)
    if isinstance(entry, Bipolar):
        return float(entry.ic)
    if isinstance(entry, Mosfet):
        return float(entry.id)
    return None
