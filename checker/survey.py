"""Surveys: what is found in each of several versions of a list, all solved as one stack.

A fix is proven by surveying the edited list. Input: texts; output for each the findings, which loads work, and the
circuits with their operating points.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from checker.bench.inventory import lay_out
from checker.bench.mishap import Mishap
from checker.bench.model import Bench, BenchPart
from checker.circuit.build import connect
from checker.circuit.model import Circuit, Lead
from checker.judge import judge
from checker.operating.operate import Operating, operate
from checker.operating.points import Floats
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from checker.rules.case import LIGHTS_AND_LOADS
from checker.rules.loads import is_coupled, rated_amps
from checker.seating.boards import RailPiece, Strip
from checker.seating.model import Seated
from checker.seating.seat import seat
from grammar import read
from parts_library import Library
from parts_library.schema import Capacitor, Chip, Controller, LedGroup, LedMember, Relay, Resistor


class Survey(Struct, frozen=True):
    """One version of a list: its bench and circuits (one a reading), their operating points, the findings, and the loads
    that work in the list's own reading, by lower-case name, and with ":off" where they can also be
    switched off; ``connected`` counts for each part but sources the pins that share a net with another part (of a
    relay its coil's);
    ``flowing`` are the resistors that carry a current, ``tied`` the controller pins on a net that a source
    holds and the grounds on a plus, ``loose``
    the number of wire ends where nothing else is."""

    seated: Seated
    operatings: tuple[Operating, ...]
    found: tuple[Found, ...]
    working: frozenset[str]
    connected: dict[str, int]
    flowing: frozenset[str]
    tied: frozenset[tuple[str, str]]
    loose: int

    @property
    def bench(self) -> Bench:
        return self.seated.bench

    @property
    def circuits(self) -> tuple[Circuit, ...]:
        return tuple(operating.circuit for operating in self.operatings)


class Wired(Struct, frozen=True):
    """A list on its way: connected, not yet solved. What needs no currents can be asked of it as of a Survey."""

    seated: Seated
    circuits: tuple[Circuit, ...]
    mishaps: tuple[Mishap, ...]

    @property
    def bench(self) -> Bench:
        return self.seated.bench


def survey(texts: Sequence[str | bytes], library: Library, corners: Collection[str] | None = None) -> list[Survey]:
    """The survey of each text; ``corners`` restricts the corners beside the nominal one (a first look at many texts)."""
    wired = [wire_up(text, library) for text in texts]
    operatings = operate([circuit for one in wired for circuit in one.circuits], corners, quick=corners is not None)
    surveys = []
    first = 0
    for one in wired:
        own = tuple(operatings[first:first + len(one.circuits)])
        first += len(one.circuits)
        surveys.append(Survey(seated=one.seated, operatings=own, found=tuple(judge(own, one.mishaps)),
                              working=frozenset(_working(own[0])) if own else frozenset(),
                              connected=_connected(own[0].circuit) if own else {},
                              flowing=frozenset(_flowing(own[0])) if own else frozenset(),
                              tied=frozenset(_tied(own[0].circuit)) if own else frozenset(),
                              loose=_loose(own[0].circuit) if own else 0))
    return surveys


def wire_up(text: str | bytes, library: Library) -> Wired:
    """One list up to its circuits, one a reading; nothing is solved."""
    bench, mishaps = lay_out(read(text), library)
    seated = seat(bench)
    circuits = []
    found = [*mishaps, *seated.mishaps]
    for reading in seated.readings:
        circuit, more = connect(seated, reading)
        circuits.append(circuit)
        if len(circuits) == 1:
            found.extend(more)
    return Wired(seated=seated, circuits=tuple(circuits), mishaps=tuple(found))


def _connected(circuit: Circuit) -> dict[str, int]:
    pins: dict[str, int] = {}
    for (key, pin), net in circuit.pin_net.items():
        part = circuit.part(key)
        if not (part.is_supply or part.is_controller) and not _is_free_contact(part, pin) \
                and any(other != key and not _resonates(circuit.part(other)) for other, _ in circuit.pins_on[net]):
            pins[key] = pins.get(key, 0) + 1
    return pins


def _resonates(part: BenchPart) -> bool:
    """A crystal serves nothing on a pin that is no clock pin: which it should be on is asked by itself."""
    return isinstance(part.entry, Capacitor) and part.entry.resonates


def _is_free_contact(part: BenchPart, pin: str) -> bool:
    """A contact of a relay may stay open: what it served is asked by itself."""
    return isinstance(part.entry, Relay) and pin not in ("A1", "A2")


def keeps(before: Survey, after: Survey, currents: bool = True) -> bool:
    """True where every load that worked still works and can still be switched off, no part was unplugged, no signal pin was
    tied to a supply, and no wire was left with a loose end. Without ``currents`` a resistor may stop carrying one: what flowed
    backwards need not flow once a supply is turned."""
    return (before.working <= after.working and (not currents or before.flowing <= after.flowing) and after.tied <= before.tied
            and after.loose <= before.loose
            and all(after.connected.get(key, 0) >= count for key, count in before.connected.items() if key in after.bench.parts))


STILL_FLOWS = 2e-5


def _flowing(operating: Operating) -> list[str]:
    """Resistors that carry more than twenty microamps in some nominal state."""
    mask = operating.mask("nominal") & operating.converged
    return [key for key, part in operating.circuit.bench.parts.items() if isinstance(part.entry, Resistor)
            and float(np.abs(operating.amps_into(key, "1"))[mask].max(initial=0.0)) > STILL_FLOWS]


def _tied(circuit: Circuit) -> list[tuple[str, str]]:
    held = stiff_nets(circuit)
    return _grounds_on_plus(circuit) + [(key, pin) for (key, pin), net in circuit.pin_net.items()
            if isinstance(entry := circuit.part(key).entry, Controller) and pin in (*entry.digital, *entry.analog)
            and net in held]


def _grounds_on_plus(circuit: Circuit) -> list[tuple[str, str]]:
    """Ground pins of controllers and chips on a supply's plus that is no other supply's minus."""
    found = []
    for key, part in circuit.bench.parts.items():
        pin = "GND" if part.is_controller else getattr(part.entry, "ground", None)
        ends = {p for k, p in circuit.pins_on[circuit.pin_net[key, pin]] if circuit.part(k).is_supply} if pin else set()
        if pin and ends == {"+"}:
            found.append((key, pin))
    return found


def _loose(circuit: Circuit) -> int:
    """Wire ends in a strip or rail with no leg, no supply and no other wire."""
    seats = {conductor for (key, pin), conductor in circuit.conductor_of.items() if not isinstance(conductor, Lead)}
    return sum(conductor not in seats and circuit.conductors.degree(conductor) == 1
               for jumper in circuit.jumpers for conductor in jumper.conductors
               if isinstance(conductor, Strip | RailPiece)) + _idle_supplies(circuit)


def _idle_supplies(circuit: Circuit) -> int:
    """Supply leads on a net with nothing else."""
    return sum(part.is_supply and len(circuit.pins_on[circuit.pin_net[key, pin]]) < 2
               for key, part in circuit.bench.parts.items() for pin in part.pins if part.is_supply)


def _working(operating: Operating) -> list[str]:
    """The loads and lights that get at least half of what they need in some nominal state."""
    working = []
    mask, standing = operating.mask("nominal") & operating.converged, _standing(operating)
    for key, part in operating.circuit.bench.parts.items():
        if isinstance(part.entry, Chip) and part.entry.supply and part.entry.ground:
            volts = (operating.volts_at(key, part.entry.supply) - operating.volts_at(key, part.entry.ground))[mask]
            if volts.max(initial=0.0) > 0.9 * float(part.entry.supply_min or 1.0):
                working.append(f"{key}:fed")
        if is_coupled(operating.circuit, key):
            # its current alternates; at rest there is none to judge it by
            working.append(key)
        elif isinstance(part.entry, LIGHTS_AND_LOADS):
            if isinstance(part.entry, LedGroup):
                working.extend(f"{key}:{one.anode}-{one.cathode}" for one in part.entry.members
                               if _forward(operating, key, one)[mask].max(initial=0.0) > LIT_VOLTS)
            pins = part.load_pins
            amps = np.max([np.abs(operating.amps_into(key, pin)) for pin in pins], axis=0)
            if amps[mask].max(initial=0.0) > max(0.5 * rated_amps(part), 1e-4):
                working.append(key)
                if amps[mask & standing].min(initial=np.inf) < max(0.02 * rated_amps(part), 2e-5):
                    working.append(f"{key}:off")
    return working


LIT_VOLTS = 1.5
"""Volts across an LED of a package from which it gives light, whatever its colour."""


def _forward(operating: Operating, key: str, member: LedMember) -> Floats:
    return operating.volts_at(key, member.anode) - operating.volts_at(key, member.cathode)


STANDS = 0.5


def _standing(operating: Operating) -> NDArray[np.bool_]:
    """The points at which every supply has half of what it has at best, or more: what is dark at others is not switched off."""
    standing = np.ones(len(operating.points), dtype=bool)
    for key, part in operating.circuit.bench.parts.items():
        if part.is_supply:
            volts = operating.volts_at(key, "+") - operating.volts_at(key, "-")
            standing &= volts >= STANDS * volts.max(initial=0.0)
    return standing
