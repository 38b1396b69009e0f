"""Sources that do not give what they should: leads exchanged comes with the slips; here low, empty, or not switched on."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.suspects.model import PRIORS, Suspect
from checker.suspects.rewiring import with_entry
from grammar.syntax_tree import Power, Word
from parts_library.schema import Ohms, SupplyKind, Volts

LOW, EMPTY = (0.35, 0.6, 0.85), (0.0, 0.15, 0.3)
"""Shares of its voltage that a worn and an empty battery still show without load: least, usual, most (common practice,
no source)."""

LOW_TIMES, LOW_LEAST, EMPTY_OHMS = 10.0, 5.0, 100.0
"""A worn battery has ten times the resistance inside, and at least 5 Ω; an empty one gives next to no current (the same)."""

OFF_OHMS = 1e6
"""A source that is off lets its leads hang on some megohm."""

NO_BATTERY = ("electronic", "mains", "solar")


def weak_sources(circuit: Circuit) -> Iterator[Suspect]:
    """Each battery worn or empty, each supply and each controller not switched on."""
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, SupplyKind):
            yield from _supply(circuit, key, part, part.entry)
        elif part.is_controller:
            yield from _unplugged(circuit, key, part)


def _supply(circuit: Circuit, key: str, part: BenchPart, entry: SupplyKind) -> Iterator[Suspect]:
    volts, ohms = float(entry.voltage or 0.0), float(entry.resistance)
    leads = (circuit.place_of[key, "+"], circuit.place_of[key, "-"])
    states = [("supply-off", f"{part.name} is not on, or its leads are not plugged in", (0.0, 0.0, 0.0), OFF_OHMS,
               f"switch {part.name} on and measure between its own leads")]
    if entry.chemistry not in NO_BATTERY:
        fresh = f"put a fresh battery in for {part.name}"
        worn = max(LOW_TIMES * ohms, LOW_LEAST)
        states += [("battery-low", f"{part.name} is worn: much of its voltage is gone", LOW, worn, fresh),
                   ("battery-empty", f"{part.name} is empty", EMPTY, EMPTY_OHMS, fresh)]
    for kind, say, (least, usual, most), inside, remedy in states:
        changed = structs.replace(entry, voltage=Volts(usual * volts), fresh=Volts(most * volts), spent=Volts(least * volts),
                                  resistance=Ohms(inside))
        yield Suspect(kind=kind, say=say, parts=(part.name,), points=leads, circuit=with_entry(circuit, key, changed),
                      prior=PRIORS[kind], remedy=remedy)


def _unplugged(circuit: Circuit, key: str, part: BenchPart) -> Iterator[Suspect]:
    power = circuit.bench.powers.get(key)
    if power is not None and "usb" not in power.ways:
        return
    off = Power(name=Word(text=part.name, span=part.span), ways=("off",), span=part.span)
    bench = structs.replace(circuit.bench, powers={**circuit.bench.powers, key: off})
    yield Suspect(kind="supply-off", say=f"{part.name} has no power from USB", parts=(part.name,), points=(f"{part.name}.5V",),
                  circuit=structs.replace(circuit, bench=bench), prior=PRIORS["supply-off"],
                  remedy=f"look whether the lamp on {part.name} is lit; try another cable or another USB port")
