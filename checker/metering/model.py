"""The meter sheet: what to measure before power, how to power up, what to measure after, what to do without a meter.

Plain frozen values, which every format prints. Quantities are in SI units; ``inf`` is what a meter shows as OL.
"""

from __future__ import annotations

from msgspec import Struct

from checker.report.model import Report


class Spot(Struct, frozen=True):
    """Where a probe goes: ``point`` as lists write it ("d12", "L-3", "U1.D9"), ``say`` for the hand ("free hole d12")."""

    point: str
    say: str


class Instead(Struct, frozen=True):
    """Another reading and what it means: ``shows`` in words, ``means`` the faults that give it, the likeliest first; ``more``
    how many others do."""

    shows: str
    means: tuple[str, ...]
    more: int = 0


class Reading(Struct, frozen=True, kw_only=True):
    """One thing to measure.

    ``what`` is measured, red probe and black probe, the meter's ``function`` and ``range``; ``hold`` what else the hand does
    ("hold S1 pressed") or the state the circuit has to be in; ``expect`` in words; ``value`` usual, ``low`` and
    ``high`` the ends of what is fine, in ``unit`` (ohm or V); ``notes`` the pitfalls; ``instead`` what other readings mean."""

    what: str
    red: Spot
    black: Spot
    function: str
    range: str
    hold: str = ""
    expect: str
    value: float
    low: float
    high: float
    unit: str
    notes: tuple[str, ...] = ()
    instead: tuple[Instead, ...] = ()


class Draw(Struct, frozen=True):
    """Current that a supply gives in a state: ``state`` in words, ``amps`` nominal, ``low`` to ``high`` over the corners,
    ``start`` the most for a moment (motors still held, cold lamps); ``idle`` the boards and chips of which it is not known how
    much they draw for themselves."""

    state: str
    amps: float
    low: float
    high: float
    start: float
    idle: tuple[str, ...] = ()


class Stage(Struct, frozen=True, kw_only=True):
    """First power from one supply: ``limit`` amps to set on a bench supply first and ``limit_loaded`` once the loads may
    run (None where nothing can be set), ``limits_say`` both in words; ``draws`` the state at rest first; ``steps`` what to
    do in order; ``off_at_once`` amps above which to switch off, in the state at rest."""

    supply: str
    say: str
    volts: float
    limit: float | None
    limit_loaded: float | None
    draws: tuple[Draw, ...]
    steps: tuple[str, ...]
    off_at_once: float


class LampHole(Struct, frozen=True):
    """A hole where the lamp probe is held: the states in which it is ``lit`` and ``dark``, the most ``amps`` through it,
    and ``dim`` the states in between."""

    red: Spot
    lit: tuple[str, ...]
    dark: tuple[str, ...]
    amps: float
    dim: tuple[str, ...] = ()


class LampProbe(Struct, frozen=True, kw_only=True):
    """An LED with a resistor instead of a meter: its ``ohms``, where its short leg goes, and what it does at each hole."""

    supply: str
    ohms: float
    amps: float
    black: Spot
    say: str
    holes: tuple[LampHole, ...]


class MeterSheet(Struct, frozen=True, kw_only=True):
    """Everything for one list. ``warning`` is what to know first ("" for a list that is clear); ``rest`` says what everything
    at rest means, and ``resting`` names the states in which no hand does anything; ``ready`` the
    steps before the first reading; of ``faults`` likely faults ``found_before`` change a
    reading before power and ``found_after`` any reading of the sheet; ``cautions`` close it."""

    report: Report
    warning: str
    rest: str
    ready: tuple[str, ...]
    before: tuple[Reading, ...]
    power: tuple[Stage, ...]
    watch: tuple[str, ...]
    after: tuple[Reading, ...]
    lamp: tuple[LampProbe, ...]
    faults: int
    found_before: int
    found_after: int
    cautions: tuple[str, ...]
    resting: tuple[str, ...] = ()
