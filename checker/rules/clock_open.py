"""A crystal or resonator that reaches one clock pin of its chip and not the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.bench.model import BenchPart
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library import pin_named
from parts_library.schema import Bipolar, Capacitor, Chip, Jfet, Mosfet

PAIRS = (("XTAL1", "XTAL2"), ("OSC1", "OSC2"), ("X1", "X2"))
"""What chips call the two pins of their oscillator."""

MULTIPLEXED = "X0"
"""Where X1 and X2 are two of many, they are the ways of an analogue switch."""


def find(case: Case) -> Iterator[Found]:
    """Each crystal with a leg on one pin of a pair, at most a resistor between, and its other leg elsewhere; and one that is on
    nothing that could make it swing, beside a chip whose clock pins no other crystal has."""
    chips = [(key, pair) for key, part in case.parts(Chip) if (pair := _clock_pins(part)) is not None]
    crystals = [key for key, part in case.parts(Capacitor)
                if isinstance(part.entry, Capacitor) and part.entry.resonates and case.is_used(key)]
    on = {(key, chip): _pins_reached(case, key, chip, pair) for key in crystals for chip, pair in chips}
    for key in crystals:
        near = [(chip, pair) for chip, pair in chips if any(on[key, chip])]
        idle = [(chip, pair) for chip, pair in chips if not any(any(on[other, chip]) for other in crystals)]
        for chip, pair in near or (idle[:1] if not _swings(case, key) else ()):
            here = on[key, chip]
            if not any(pair[0] in here[leg] and pair[1] in here[1 - leg] for leg in (0, 1)):
                yield _found(case, key, chip, [pin for pins in here for pin in pins], pair)
                break


def _found(case: Case, key: str, chip: str, reached: Sequence[str], pair: tuple[str, str]) -> Found:
    part = case.bench.parts[key]
    missing = pair[1] if reached[:1] == [pair[0]] else pair[0]
    return Found(rule="clock-open", severity="fault", span=part.span, case="one" if reached else "none", needs_whole_list=True,
                 parts=(part.name, case.name(chip)), points=(case.pin_name(chip, missing),),
                 facts={"reached": case.pin_name(chip, reached[0]) if reached else "",
                        "other": case.pin_name(chip, pair[1])})


def _pins_reached(case: Case, key: str, chip: str, pair: tuple[str, str]) -> tuple[list[str], ...]:
    """For each leg of a crystal the clock pins of a chip that it reaches."""
    return tuple([pin for pin in pair if case.net(chip, pin) in _reached(case, key, leg)]
                 for leg in case.bench.parts[key].pins)


def _swings(case: Case, key: str) -> bool:
    """True where a leg is on a gate or a transistor, which may be an oscillator of its own."""
    nets = {case.net(key, pin) for pin in case.bench.parts[key].pins} - case.stiff
    return any(isinstance(entry := case.bench.parts[other].entry, Bipolar | Mosfet | Jfet)
               or (isinstance(entry, Chip) and entry.type == "logic") for net in nets for other, _ in case.pins_on(net))


def _clock_pins(part: BenchPart) -> tuple[str, str] | None:
    entry = part.entry
    if entry is None or MULTIPLEXED in entry.pins:
        return None
    for pair in PAIRS:
        one, other = (pin_named(entry, name) for name in pair)
        if one is not None and other is not None and one != other:
            return one, other
    return None


def _reached(case: Case, key: str, pin: str) -> set[int]:
    """The nets at a leg and behind a resistor on it, without those that a source holds."""
    net = case.net(key, pin)
    if net in case.stiff:
        return set()
    return {net, *case.past_resistors([net])} - case.stiff


EXPLANATION = """
# What it means
A crystal is wired between the two clock pins of a chip: the chip's amplifier sits between these pins, and the crystal
leads its output back to its input. Here one leg is on a clock pin and the other one is somewhere else, most often one
row off.

# Why it matters
Nothing gets hot, and nothing moves: the oscillator stands still, at 0 Hz, and so does the program of a chip that was set
to run from its crystal. It looks like a dead chip or a failed upload.

# A list that has it
title "Moor clock: a bare chip with a crystal, the crystal one row off"
board half
supply PACK 5V on L+ L-
part U1 ATmega328P across 5-18 notch row 5
part Y1 crystal 16MHz in b14 b15
part R1 10k in c5 L+5
part R2 330 in h9 h20
part LED1 led green in i20 i22 long i20
wire L+11 to a11
wire L-12 to a12
wire L-3 to R-3
wire L+3 to R+3
wire R-11 to j11
wire R+13 to j13
wire R-22 to j22

# The same list mended
title "Moor clock: a bare chip with a crystal, the crystal one row off"
board half
supply PACK 5V on L+ L-
part U1 ATmega328P across 5-18 notch row 5
part Y1 crystal 16MHz in b13 b14
part R1 10k in c5 L+5
part R2 330 in h9 h20
part LED1 led green in i20 i22 long i20
wire L+11 to a11
wire L-12 to a12
wire L-3 to R-3
wire L+3 to R+3
wire R-11 to j11
wire R+13 to j13
wire R-22 to j22

# How to check with a meter
Power off, beep from each leg of the crystal to the clock pins, on the metal of the chip's own legs. With power on, both
clock pins of a running chip read about half the supply, and a finger near them may stop it; 0 V or the whole supply on
one of them is an oscillator that stands still.

# Source
Crystal between XTAL1 and XTAL2 with 12 to 22 pF from each to ground: ATmega48A/PA/88A/PA/168A/PA/328/P, 8271, Atmel,
Rev. H, System clock and clock options, from memory.
"""

RULE = Rule("clock-open", "function", EXPLANATION, find)
