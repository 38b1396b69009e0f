"""The pitfalls of a reading, said where they occur: windings that sound like shorts, paths beside a part, junctions that
depend on the direction, capacitors that charge.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf, isnan

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.metering.candidate import Candidate
from checker.metering.dead import Dead
from checker.metering.measured import Turned
from checker.metering.measuring import Shown
from checker.metering.meter import BEEPS_UNTIL, DIODE_AMPS, DIODE_VOLTS, RANGES, USUAL_VOLTS
from checker.metering.words import JOINED_OHMS, SHORT_OHMS, VAGUE, expected, short_below, shows
from grammar import show_quantity
from parts_library.schema import Capacitor, Chip, Controller, Led, Load, Regulator, Relay, Resistor

BESIDE = 0.93
"""A part that reads less than this share of its own value has company."""

OTHER_WAY = 1.3
SETTLES, WAIT_SECONDS = 5.0, 0.7
"""A capacitor has settled after five time constants; shorter than a glance needs no word."""

TOO_LONG, NO_SHORT_OHMS = 600.0, 1e3
"""Nobody holds two probes for ten minutes; and what climbs past a kilohm is neither a short nor a load (common practice, no
source)."""

LIGHTS = 1.4
"""Volts from which a junction on diode test is an LED, which glows."""


def notes_on(base: Dead, candidate: Candidate, shown: Shown, band: tuple[float, float], turned: Turned) -> tuple[str, ...]:
    """What to know about one reading: its ``band``, and what it shows with the probes exchanged."""
    low, high = band
    said = [*_short(candidate, low), *_winding(base.circuit, candidate, shown.value, low),
            *_beside(base.circuit, candidate, shown.value), *_asleep(base.circuit, candidate, low, high),
            *_past(base.circuit, candidate, shown.value), *_direction(candidate, shown.value, turned),
            *_charging(base.circuit, candidate, shown), *_lights(base.circuit, candidate, shown.value)]
    return tuple(said)


def _short(candidate: Candidate, low: float) -> Iterator[str]:
    if candidate.role == "supply" and (isinf(low) or low > BEEPS_UNTIL * 2):
        yield f"under {show_quantity(SHORT_OHMS, 'ohm')} is a short: do not power"


def _winding(circuit: Circuit, candidate: Candidate, value: float, low: float) -> Iterator[str]:
    if candidate.kind != "ohms" or value > BEEPS_UNTIL * 2 or value < JOINED_OHMS or candidate.role not in ("supply", "part"):
        return
    wound = [part.name for part in circuit.bench.parts.values()
             if isinstance(part.entry, Relay) or (isinstance(part.entry, Load) and part.entry.type != "buzzer")]
    if wound:
        yield f"it beeps like a short: read the number; under {show_quantity(short_below(low), 'ohm')} is a short"
    part = circuit.bench.parts.get(candidate.part)
    if part is not None and isinstance(part.entry, Load) and part.entry.type == "motor":
        yield "turn the shaft a little and the number jumps"


def _beside(circuit: Circuit, candidate: Candidate, value: float) -> Iterator[str]:
    part = circuit.bench.parts.get(candidate.part)
    if candidate.role == "part" and part is not None and isinstance(part.entry, Resistor) and part.entry.ohms:
        if value < BESIDE * part.entry.ohms:
            yield f"less than {part.name}'s own {show_quantity(part.entry.ohms, 'ohm')}: other parts lie beside it"


def _asleep(circuit: Circuit, candidate: Candidate, low: float, high: float) -> Iterator[str]:
    if candidate.kind == "ohms" and not isinf(low) and high > 4 * low:
        chips = [part.name for part in circuit.bench.parts.values() if _has_electronics(part)]
        if chips and candidate.role in ("supply", "rails"):
            yield "what sleeping electronics show differs from board to board"
        elif candidate.role not in ("part", "path"):
            yield "meters differ here: a junction begins to conduct"


def _has_electronics(part: BenchPart) -> bool:
    entry = part.entry
    if isinstance(entry, Load):
        return entry.one_way or entry.type == "buzzer"
    return isinstance(entry, Chip | Controller | Regulator)


def _past(circuit: Circuit, candidate: Candidate, value: float) -> Iterator[str]:
    """A diode that blocks is no part of the number that is shown."""
    if candidate.against and not isinf(value):
        yield f"this goes through what lies beside {circuit.part(candidate.part).name}, which blocks in this direction"


def _direction(candidate: Candidate, value: float, turned: Turned) -> Iterator[str]:
    """The other direction, where a junction makes it another number; what differs from board to board comes with its band."""
    other = turned.value
    if candidate.fixed or value == other or isnan(other) or turned.high > VAGUE * turned.low > 0:
        return
    slack = 0.1 if candidate.kind == "diode" else 1.0
    if isinf(value) != isinf(other) or max(value, other) > OTHER_WAY * min(value, other) + slack:
        sure = turned.low == other == turned.high or turned.high <= OTHER_WAY * turned.low
        said = shows(candidate.kind, other) if sure else expected(candidate.kind, other, turned.low, turned.high)
        yield f"with the probes exchanged: {said}"


def _charging(circuit: Circuit, candidate: Candidate, shown: Shown) -> Iterator[str]:
    """The meter charges every capacitor between the probes through its own resistance."""
    nets = {circuit.net_of.get(candidate.red), circuit.net_of.get(candidate.black)}
    farads = sum(float(part.entry.farads or 0.0) for key, part in circuit.bench.parts.items()
                 if isinstance(part.entry, Capacitor) and {circuit.pin_net[key, pin] for pin in part.entry.pins} == nets)
    ohms = DIODE_VOLTS / DIODE_AMPS if candidate.kind == "diode" else USUAL_VOLTS / RANGES[shown.range].amps
    if not isinf(shown.value) and candidate.kind == "ohms":
        ohms = ohms * shown.value / (ohms + shown.value)
    seconds = SETTLES * ohms * farads
    if seconds >= TOO_LONG:
        yield (f"a capacitor charges: the number climbs for {_how_long(seconds)}; once it is past "
               f"{show_quantity(NO_SHORT_OHMS, 'ohm')} there is no short")
    elif seconds > WAIT_SECONDS:
        yield f"a capacitor charges: the number climbs for {_how_long(seconds)}, wait until it stands"


def _how_long(seconds: float) -> str:
    if seconds < 60:
        return f"about {seconds:.0f} s"
    return f"about {seconds / 60:.0f} minutes" if seconds < TOO_LONG else "many minutes"


def _lights(circuit: Circuit, candidate: Candidate, value: float) -> Iterator[str]:
    part = circuit.bench.parts.get(candidate.part)
    if candidate.kind == "diode" and part is not None and isinstance(part.entry, Led) and LIGHTS < value and not isinf(value):
        yield "it glows faintly; a meter whose diode test has less than 3 V shows OL"
