"""A clamp diode that still conducts backwards at each turn-on, for a good part of a fast pulse.

At turn-on the diode carries the coil's current and needs its recovery time to block. Until then it holds the switch at
the whole supply, and the switch carries the coil's current there: about volts * amps * recovery time * frequency watts.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checker.operating.corners import AMBIENT
from checker.operating.operate import coils_of
from checker.operating.points import Point
from checker.report.model import Evidence
from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import ROUNDING
from parts_library.schema import Bipolar, Chip, Diode, Mosfet

USUAL_HERTZ = 1000.0
"""Pulses a second where the list says nothing: controllers give 490 to 1000 (common practice, no source)."""

LEAST_SHARE = 0.01
"""Share of the period that a diode may take to block without a word (common practice, no source)."""

DIODE_SHARE = 0.25
"""Of volts * amps * recovery time, what heats the diode: its reverse current, about the coil's, falls off over about the
second half while the volts rise (the triangles of Haaf and Harper, see the source below). Its forward heat is left out:
the coil carries most where the pulses are widest, and there the diode hardly conducts forward."""


class _Clamp(Struct, frozen=True):
    """A diode that takes a coil's current and then has to block: ``volts`` that it blocks, ``amps`` that it carries when
    the ``switch`` turns on again, the steady ``watts`` of that switch while it is on, and the ``point`` where that is.
    ``pin`` pulses with ``hertz``, ``seconds`` is the recovery time."""

    diode: str
    coil: str
    switch: str
    pin: str
    hertz: float
    seconds: float
    volts: float
    amps: float
    watts: float
    point: Point

    @property
    def share(self) -> float:
        """The share of the period in which the diode conducts backwards."""
        return self.hertz * self.seconds

    @property
    def extra(self) -> float:
        """Watts that the recovery costs the switch."""
        return self.volts * self.amps * self.share


def find(case: Case) -> Iterator[Found]:
    """Clamp diodes whose recovery overheats the switch or themselves (damage), or takes over 1 % of the period (note)."""
    by_diode: dict[str, list[_Clamp]] = {}
    for clamp in _clamps(case):
        by_diode.setdefault(clamp.diode, []).append(clamp)
    for clamps in by_diode.values():
        hot = [found for clamp in clamps if (found := _overheated(case, clamp)) is not None]
        slow = max(clamps, key=lambda clamp: (clamp.share, clamp.extra))
        if hot:
            yield max(hot, key=lambda found: found.weight)
        elif slow.share > LEAST_SHARE:
            share = case.evidence("share of the period", case.name(slow.diode), "%", slow.share, slow.point, LEAST_SHARE)
            yield _found(case, slow, "note", "share", share)


# ── the numbers ───────────────────────────────────────────────────────────────────────────────────────────────────


def _clamps(case: Case) -> Iterator[_Clamp]:
    """Every diode with a recovery time that clamps a coil which a pulsing pin switches, in the corners whose heat counts.

    The current is the one that is still there at the next turn-on where the pulses are wide: none of it has died away."""
    pulsed = {case.pin_name(key, pin): case.bench.hertz.get((key, pin), USUAL_HERTZ)
              for (key, pin), (roles, _) in case.bench.roles.items() if "pwm" in roles}
    pins = {(key, number): one for key, number, one, _ in coils_of(case.circuit)}
    for off, point in enumerate(case.operating.points):
        if point.switched not in pulsed or not point.corner.heat or not case.operating.converged[off]:
            continue
        (coil, number), amps = next(iter(point.forced.items()))
        on = _while_on(case, point, coil, pins[coil, number], amps)
        if on is None:
            continue
        for key, part in case.parts(Diode):
            entry = part.entry
            blocked = float(case.volts(key, "K", "A")[on])
            # a diode in the supply's line conducts all the time and never has to recover
            if isinstance(entry, Diode) and entry.recovery and blocked > 0.0 \
                    and float(case.amps(key, "A")[off]) > 0.5 * abs(amps):
                switch = _switch(case, on, off, abs(amps))
                yield _Clamp(key, coil, switch, point.switched, pulsed[point.switched], float(entry.recovery), blocked,
                             abs(amps), float(case.power(switch)[on]) if switch else 0.0, case.operating.points[on])


def _while_on(case: Case, off: Point, coil: str, pin: str, amps: float) -> int | None:
    """The steady point from which a coil was switched off: in the same corner with the same current in the coil, the pin in
    another state and as little else as can be."""
    carried = case.amps(coil, pin)
    found = [(sum(off.state.get(name) != option for name, option in point.state.items()), number)
             for number, point in enumerate(case.operating.points)
             if point.phase == "steady" and point.corner is off.corner and case.operating.converged[number]
             and point.state.get(off.switched) != off.state.get(off.switched)
             and abs(float(carried[number]) - amps) <= 1e-6 * abs(amps)]
    return min(found)[1] if found else None


def _switch(case: Case, on: int, off: int, amps: float) -> str:
    """The transistor or driver that carries a coil's current in one point and not in the other, or ""."""
    best, most = "", 0.5 * amps
    for key, part in case.parts(Bipolar, Mosfet, Chip):
        for pin in part.pins:
            change = abs(float(case.amps(key, pin)[on])) - abs(float(case.amps(key, pin)[off]))
            if change > most * (1.0 + 1e-6) and case.circuit.pin_net.get((key, pin)) is not None:
                best, most = key, change
    return best


def most_watts(case: Case, key: str) -> float | None:
    """What a part sheds in a warm room: its rating, or less where its junction gets to its limit before."""
    entry = case.bench.parts[key].entry
    limits = [] if entry is None or entry.max_power is None else [float(entry.max_power)]
    if entry is not None and entry.thermal_resistance is not None and entry.max_junction is not None:
        limits.append((float(entry.max_junction) - AMBIENT) / float(entry.thermal_resistance))
    return min(limits, default=None)


def _overheated(case: Case, clamp: _Clamp) -> Found | None:
    """The switch over its limit with the recovery and not without it; else the diode over its own."""
    own = DIODE_SHARE * clamp.extra
    for key, watts, extra in ((clamp.switch, clamp.watts, clamp.extra), (clamp.diode, 0.0, own)):
        limit = most_watts(case, key) if key else None
        if limit is not None and watts + extra > limit * ROUNDING and (watts <= limit or extra > limit):
            heat = case.evidence("power", case.name(key), "W", watts + extra, clamp.point, limit)
            return _found(case, clamp, "damage", "heat", heat)
    return None


def _found(case: Case, clamp: _Clamp, severity: str, words: str, first: Evidence) -> Found:
    """The finding with its first evidence; behind it recovery time, frequency, coil current, blocked volts, extra watts."""
    diode = case.bench.parts[clamp.diode]
    others = (("recovery time", diode.name, "s", clamp.seconds), ("frequency", clamp.pin, "Hz", clamp.hertz),
              ("current", case.name(clamp.coil), "A", clamp.amps), ("reverse voltage", diode.name, "V", clamp.volts),
              ("extra power", case.name(clamp.switch) if clamp.switch else diode.name, "W", clamp.extra))
    evidence = tuple(case.evidence(*other, clamp.point) for other in others)
    return Found(rule="clamp-too-slow", severity=severity, span=diode.span, case=words, parts=(diode.name,),
                 points=tuple(case.where(clamp.diode, pin) for pin in diode.pins),
                 facts={"of": first.of, "coil": case.name(clamp.coil),
                        "switch": case.name(clamp.switch) if clamp.switch else ""},
                 weight=first.value / first.limit if first.limit else 0.0, evidence=(first, *evidence))

EXPLANATION = """
# What it means
A diode across a coil carries the coil's current while the transistor is off. When the transistor turns on again, the
diode needs some time to block: about 2 µs for a 1N4001 to 1N4007, 75 ns for a UF4007, next to nothing for a Schottky
diode. Until then it conducts backwards and is all but a short, with the transistor in its way.

# Why it matters
In that time the transistor carries the coil's current at the whole supply voltage. With 12 V, 350 mA and 62.5 kHz, 2 µs
are an eighth of each period: 12 V times 0.35 A times an eighth is 0.5 W more, about all that a TO-92 transistor can
shed. At the usual 490 Hz of a controller the same diode takes a thousandth of the period and does no harm.

# A list that has it
title "Stage prop: the trapdoor magnet, pulsed too fast to be heard"
board half
supply PLUG 12V on L+ L-
part U1 controller-5v
part HOLD solenoid 12V 350mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 180 in e11 e16
part D1 1N4007 in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire HOLD.1 to L+18
wire HOLD.2 to a12
pin U1.D9 pwm 62.5kHz

# The same list mended
title "Stage prop: the trapdoor magnet, pulsed too fast to be heard"
board half
supply PLUG 12V on L+ L-
part U1 controller-5v
part HOLD solenoid 12V 350mA
part Q1 PN2222A in c10 c11 c12 flat faces a
part R1 180 in e11 e16
part D1 UF4007 in d12 L+12 band L+12
wire U1.D9 to a16
wire U1.GND to L-3
wire L-10 to a10
wire HOLD.1 to L+18
wire HOLD.2 to a12
pin U1.D9 pwm 62.5kHz

# How to check with a meter
A meter is too slow to see it; read the number printed on the diode. On the diode test a Schottky diode reads 0.15 to
0.3 V, a slow and a fast rectifier both 0.5 to 0.7 V. With power on at half pulses, a transistor that gets hotter when
the program pulses faster says the same.

# Source
Which diode for which pulse rate, standard recovery only for plain on and off: application note Free-Wheeling Diodes for
Inductive-Load Switches in Motors and Relays, Diotec Semiconductor. How recovery heats the switch: Understanding Diode
Reverse Recovery and its Effect on Switching Losses, P. Haaf and J. Harper, Fairchild Semiconductor. 2 µs: 1N4001 -
1N4007 datasheet, EIC, Rev. 05, March 2005. 75 ns: from memory.
"""

RULE = Rule("clamp-too-slow", "inductive", EXPLANATION, find)
