"""The sheet brought together.

Input: a surveyed list, its report, the library. Output: a MeterSheet. A list without a circuit gives a sheet with a warning only.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.metering.after import readings_after
from checker.metering.before import readings_before
from checker.metering.lamp import lamp_probes
from checker.metering.model import MeterSheet
from checker.metering.phrases import ended
from checker.metering.power import WATCH, stages
from checker.metering.settling import settled
from checker.metering.spots import Spots
from checker.metering.states import rest_in_words, stands
from checker.report.model import Report
from checker.survey import Survey
from checker.suspects import Suspect, suspects_of
from grammar import show_quantity
from parts_library import Library
from parts_library.schema import Capacitor, Load, Stepper, SupplyKind

LARGE_FARADS = 100e-6
"""A capacitor from here on holds its charge long enough to upset a meter (common practice, no source)."""

WARNINGS = {
    "do-not-power": "Mend the list first: as it stands, power would do damage. {headline}",
    "unreadable": "Part of the list could not be read; what is here is about the rest. {headline}",
    "will-not-work": "As it stands it will not work, and the values below are those of the list as it is. {headline}",
    "look-first": "The list leaves something open. {headline}",
}
SUPPOSED = "The values below hold if {supposed}"


def meter_sheet(surveyed: Survey, report: Report, library: Library) -> MeterSheet:
    """Everything to measure on a board that was built from the list."""
    if not surveyed.operatings or not surveyed.bench.parts:
        return MeterSheet(report=report, warning=ended(f"There is nothing to measure. {report.headline}"), rest="", ready=(),
                          before=(), power=(), watch=(), after=(), lamp=(), faults=0, found_before=0, found_after=0,
                          cautions=())
    supposed = settled(surveyed, library)
    operating = supposed.surveyed.operatings[0]
    circuit = operating.circuit
    spots = Spots(circuit)
    suspects = likeliest(suspects_of(supposed.surveyed, library))
    standing = stands(operating)
    before, seen_before = readings_before(circuit, spots, suspects)
    after, seen_after = readings_after(operating, spots, standing, suspects, seen_before)
    return MeterSheet(report=report, warning=_warning(report, supposed.supposed),
                      rest=rest_in_words(operating.circuit, operating.plan.variables), ready=tuple(_ready(circuit)),
                      before=before,
                      power=stages(operating, standing), watch=WATCH, after=after,
                      lamp=lamp_probes(operating, spots, standing, library), faults=len(suspects),
                      found_before=len(seen_before), found_after=len(seen_after | seen_before),
                      cautions=tuple(_cautions(circuit)), resting=tuple(stand.say for stand in standing if stand.rest))


def _warning(report: Report, supposed: str) -> str:
    """What to know first, as whole sentences; "" for a list that is clear."""
    said = WARNINGS.get(report.verdict, "").format(headline=report.headline)
    return " ".join(ended(words) for words in (said, SUPPOSED.format(supposed=supposed) if supposed else "") if words)


def likeliest(suspects: Sequence[Suspect]) -> list[Suspect]:
    """The likeliest suspects in their order, at most ``MOST_FAULTS``."""
    least = sorted((suspect.prior for suspect in suspects), reverse=True)[:MOST_FAULTS][-1:] or [0.0]
    return [suspect for suspect in suspects if suspect.prior >= least[0]][:MOST_FAULTS]


MOST_FAULTS = 120
"""Faults that readings are chosen for: more of them change no choice, and take seconds."""


def _ready(circuit: Circuit) -> Iterator[str]:
    """What to do before the first reading."""
    supplies = [part.name for part in circuit.bench.parts.values() if part.is_supply]
    boards = [part.name for part in circuit.bench.parts.values() if part.is_controller]
    off = [f"both leads of {name} off the board" for name in supplies] + [f"{name}'s USB unplugged" for name in boards]
    if off:
        yield f"Power off: {', '.join(off)}"
    large = [f"{part.name} ({show_quantity(part.entry.farads or 0.0, 'F')})" for part in circuit.bench.parts.values()
             if isinstance(part.entry, Capacitor) and (part.entry.farads or 0.0) >= LARGE_FARADS]
    if large:
        yield f"Discharge {', '.join(large)}: a 1 kΩ resistor across its legs for some seconds"
    yield ("Probes do not fit the holes: put a bare jumper end into the hole and touch that. Touch the probes together first: "
           "what the meter shows then, 0.1 to 0.3 Ω, comes from its leads. OL, or a lone 1, means that nothing gets through; on "
           "a meter that does not choose its range by itself also that the range is too low: turn it up before you believe it")


def _cautions(circuit: Circuit) -> Iterator[str]:
    entries = [part.entry for part in circuit.bench.parts.values() if part.entry is not None]
    supplies = [entry for entry in entries if isinstance(entry, SupplyKind)]
    if any(entry.chemistry.lower().startswith("li") for entry in supplies):
        yield "Lithium cells burn when shorted: protected cells only, never bridge their terminals with a probe"
    if any("lead" in entry.chemistry.lower() for entry in supplies):
        yield "A lead-acid battery gives hundreds of amps: a fuse in its lead first"
    if any((isinstance(entry, Load) and entry.type in ("motor", "solenoid")) or isinstance(entry, Stepper) for entry in entries):
        yield "Keep fingers, hair and sleeves from what turns or strikes"
    if any(isinstance(entry, Load) and entry.type in ("lamp", "heater") for entry in entries):
        yield "Lamps and heaters burn fingers"
    if any(entry.mains for entry in supplies) or any((entry.voltage or 0.0) > 60 for entry in supplies):
        yield "Dangerous voltage: not for a breadboard. Local codes and licensed practice apply"
