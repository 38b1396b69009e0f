"""The defaults that a line leaves unsaid, filled in and told in plain sentences.

Input: an entry with the stated values, and which were stated. Output: the entry complete, the sentences for ``assumed``, and
a problem where a value is needed and nothing can be assumed. The defaults themselves are in the library's generic entries;
that a motor stalls at five times its running current is the one rule kept here (DESIGN.md, section 2).
"""

from __future__ import annotations

import msgspec

from grammar.quantities import show_quantity
from parts_library.letters import with_article
from parts_library.schema import (
    Amps,
    AnyEntry,
    Capacitor,
    Fuse,
    Inductor,
    Led,
    Load,
    Ohms,
    Potentiometer,
    Relay,
    Resistor,
    SensorResistor,
    SupplyKind,
    UnitFloat,
    Volts,
    Zener,
)
from parts_library.values import Filled
from parts_library.words import WordProblem

STALL_FACTOR = 5.0
"""A motor held still draws this many times its running current, unless stated; rule of DESIGN.md, common practice."""

COLD_LAMP_FACTOR = 10.0
"""A cold filament draws this many times its running current; common practice, no source."""

RELAY_COIL_WATTS = 0.36
"""Coil power of the usual cube relay, from memory of its datasheets (5 V over 70 ohm)."""

UNKNOWN_MOTOR = (Volts(6.0), Amps(0.2), Volts(12.0))
"""A motor of which nothing is said: volts, amps, and the volts up to which nothing is held against it (invented, and told)."""

USUAL_CURRENT = {"motor": Amps(0.2), "solenoid": Amps(0.5), "lamp": Amps(0.1), "buzzer": Amps(0.03)}
"""What a load of which only the voltage is said is taken to draw (invented, and told)."""

# What a line must state, by family: (field, what is missing, how it is written).
_NEEDED: dict[type, tuple[str, str, str]] = {
    Resistor: ("ohms", "its resistance", "resistor 1k"),
    Capacitor: ("farads", "its capacitance", "capacitor 100nF"),
    Inductor: ("henries", "its inductance", "inductor 100uH"),
    Potentiometer: ("ohms", "its resistance", "pot 10k"),
    Zener: ("voltage", "its voltage", "zener 5V1"),
    Fuse: ("current", "its current", "fuse 500mA"),
    SupplyKind: ("voltage", "its voltage", "bench-supply 12V"),
    Relay: ("voltage", "the voltage of its coil", "relay 5V"),
}


def completed(filled: Filled, name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    """The entry with what follows from the stated values, and a problem where a needed value is missing."""
    entry = filled.entry
    if filled.problems:
        return filled, ()
    needed = _NEEDED.get(type(entry))
    if needed and getattr(entry, needed[0]) is None:
        message = f"{name} needs {needed[1]}, as in {needed[2]}"
        return filled, (WordProblem(0, "bad-value", message, needed[2]),)
    if isinstance(entry, Load):
        return _load(filled, entry, name)
    if isinstance(entry, Relay):
        return _relay_coil(filled, entry), ()
    return filled, ()


def _load(filled: Filled, entry: Load, name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    entry, notes = _rated(entry, filled.stated, name)
    if entry.ohms is None and (entry.voltage is None or entry.current is None):
        written = f"{entry.name} 12V 500mA"
        message = f"{name} needs its rated voltage and current, as in {written}"
        return filled, (WordProblem(0, "bad-value", message, written),)
    if entry.type == "motor" and entry.current is not None and entry.stall_current is None:
        entry = msgspec.structs.replace(entry, stall_current=_times(STALL_FACTOR, entry.current))
        notes += (f"{name} stalls at five times its running current, {_show(entry.stall_current)}",)
    if entry.name == "lamp" and entry.current is not None and entry.inrush_current is None:
        entry = msgspec.structs.replace(entry, inrush_current=_times(COLD_LAMP_FACTOR, entry.current))
        notes += (f"{name} draws ten times its current when cold, {_show(entry.inrush_current)}",)
    return msgspec.structs.replace(filled, entry=entry, notes=(*filled.notes, *notes)), ()


def _rated(entry: Load, stated: frozenset[str], name: str) -> tuple[Load, tuple[str, ...]]:
    """A load with the voltage and current it is taken to have where the line and the library leave them open."""
    if entry.type == "motor" and entry.voltage is None and entry.ohms is None and "current" not in stated:
        volts, amps, most = UNKNOWN_MOTOR
        amps = _times(1 / STALL_FACTOR, entry.stall_current) if entry.stall_current else amps
        motor = msgspec.structs.replace(entry, voltage=volts, current=amps, voltage_max=most)
        return motor, (f"{name} is taken as a motor for {_show(volts)} that runs at {_show(amps)}",)
    if entry.type == "motor" and entry.current is None and entry.ohms is None and entry.stall_current is not None:
        amps = _times(1 / STALL_FACTOR, entry.stall_current)
        return msgspec.structs.replace(entry, current=amps), (
            f"{name} is taken to run at a fifth of its stall current, {_show(amps)}",)
    if entry.voltage is not None and entry.current is None and entry.ohms is None and entry.type in USUAL_CURRENT:
        amps = USUAL_CURRENT[entry.type]
        return msgspec.structs.replace(entry, current=amps), (f"{name} is taken to run at {_show(amps)}",)
    return entry, ()


def _relay_coil(filled: Filled, entry: Relay) -> Filled:
    """A relay of which only the coil's voltage is said has a coil of the usual power."""
    if entry.voltage is None or entry.ohms is not None:
        return filled
    ohms = entry.voltage / entry.current if entry.current else entry.voltage**2 / RELAY_COIL_WATTS
    return msgspec.structs.replace(filled, entry=msgspec.structs.replace(entry, ohms=Ohms(float(f"{ohms:.6g}"))))


def _times(factor: float, current: Amps) -> Amps:
    return Amps(float(f"{factor * current:.9g}"))


def assumed_of(filled: Filled, name: str) -> tuple[str, ...]:
    """The sentences on what was assumed about ``name``."""
    entry, stated = filled.entry, filled.stated
    if isinstance(entry, Resistor):
        return _resistor(entry, stated, name)
    if isinstance(entry, Load):
        return _load_sentences(entry, stated, name)
    if isinstance(entry, SensorResistor) and "ohms" not in stated:
        return (f"{name} is the usual kind: {_show(entry.low)} {entry.low_when}, {_show(entry.high)} {entry.high_when}",)
    if isinstance(entry, Led) and "usual_current" not in stated and not any(c.isdigit() for c in entry.name):
        taken = "taken as " if entry.name == "led" else ""
        currents = f"{_show(entry.usual_current)}, {_show(entry.current)} at most"
        return (f"{name} is {taken}{with_article(entry.colour)} LED for {currents}",)
    if isinstance(entry, Relay):
        return _relay(entry, stated, name)
    if isinstance(entry, Inductor) and "ohms" not in stated:
        return (f"{name} has a winding of {_show(entry.ohms)}",)
    if isinstance(entry, SupplyKind):
        return _supply(entry, stated, name)
    return ()


def _resistor(entry: Resistor, stated: frozenset[str], name: str) -> tuple[str, ...]:
    usual = (("power", _watts(entry.power)), ("tolerance", _show(entry.tolerance)))
    said = [text for field, text in usual if field not in stated]
    return (f"{name} is {', '.join(said)}",) if said else ()


def _load_sentences(entry: Load, stated: frozenset[str], name: str) -> tuple[str, ...]:
    """The library's own figures of a kind where the line is silent (what was filled in has told so already)."""
    if not _kind_name(entry) or entry.inductance is None or "inductance" in stated:
        return ()
    return (f"{name}'s winding is taken as {_show(entry.inductance)}",)


def _relay(entry: Relay, stated: frozenset[str], name: str) -> tuple[str, ...]:
    said: list[str] = []
    if entry.ohms is not None and not stated & {"ohms", "current"} and _kind_name(entry):
        said.append(f"{name}'s coil is {_show(entry.ohms)}")
    if entry.inductance is not None and "inductance" not in stated and _kind_name(entry):
        said.append(f"{name}'s winding is taken as {_show(entry.inductance)}")
    return tuple(said)


def _kind_name(entry: AnyEntry) -> bool:
    return entry.name == entry.name.lower()


def _supply(entry: SupplyKind, stated: frozenset[str], name: str) -> tuple[str, ...]:
    if "resistance" in stated:
        return ()
    return (f"{name} has {float(entry.resistance):g} Ω inside",)


def _show(value: UnitFloat | None) -> str:
    return show_quantity(value, value.unit) if value is not None else "unknown"


_FRACTIONS = {0.125: "1/8 W", 0.25: "1/4 W", 0.5: "1/2 W"}


def _watts(power: UnitFloat) -> str:
    """Watts of a resistor as they are sold: 1/4 W."""
    return _FRACTIONS.get(float(power)) or _show(power)
