"""The oracle of harm: what a list does when power comes on, from equations that share nothing with the checker.

Input: the text of a list. Output: ``Outcome``: what passes a rating and how far, what comes near to one, and in which states each
lamp or load is at work. States are the switch positions, pin levels and turns of a potentiometer; every state is looked at
nominally and with supplies high, motors running and held still, and at reset with every pin an input. Coils are switched off by
forcing their current through the state in which they are off.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product
from typing import TypeAlias

import numpy as np
from msgspec import Struct, structs

from parts_library.schema import (
    Capacitor,
    Chip,
    Controller,
    Led,
    Load,
    Mosfet,
    Potentiometer,
    Relay,
    SensorResistor,
    Switch,
)
from tests.faults.builders import network, relay_ohms, solved, used_pins
from tests.faults.nets import Wired, wired
from tests.faults.network import Network, Setting
from tests.faults.ratings import Stress, stresses

MARGIN = 1.15
"""Two honest models differ by this factor near a limit: within it either way nothing is said."""

MANY_STATES = 48

State: TypeAlias = tuple[str, Mapping[tuple[str, ...], str], bool]


class Outcome(Struct):
    """``harms``: (what, factor over its limit, state) worst first; ``borderline``: something is near a limit; ``active``: load →
    states in which it works; ``states``: all states that were looked at;
    ``partial``: there are chips, of which only the supply is modelled, so that nothing is said of what works."""

    harms: list[tuple[str, float, str]]
    borderline: list[tuple[str, float, str]]
    active: dict[str, dict[str, float]]
    states: list[str]
    unknown: str = ""
    partial: bool = False


def outcome(text: str) -> Outcome:
    """What happens. NotCovered or Unsolved where the oracle has no answer."""
    circuit = wired(text)
    seen: dict[str, tuple[float, str]] = {}
    active: dict[str, dict[str, float]] = {}
    calm: list[tuple[str, Setting, dict[str, float]]] = []
    unknown = ""
    for label, controls, is_reset in states(circuit):
        for high, stalled in _corners(circuit):
            setting, made, v = settled(circuit, Setting(controls, high, stalled))
            _note(seen, stresses(made, v, heat=not (high and stalled)), label, circuit, setting)
            if not high and not stalled:
                amps = at_work(made, v)
                if not is_reset:
                    for name, much in amps.items():
                        active.setdefault(name, {})[label] = much
                calm.append((label, setting, amps))
    for label, made, v, coil in _switched_off(circuit, calm):
        peaks = [s for s in stresses(made, v, heat=False) if s.peak]
        if _avalanche(circuit, made, v):
            unknown = f"a MOSFET takes the energy of {coil} as an avalanche"
            continue
        if _has_capacitor(circuit, coil) and any(s.value > s.limit / MARGIN for s in peaks):
            unknown = f"a capacitor beside the coil {coil}"
            continue
        _note(seen, peaks, f"{coil} switched off, {label}", circuit, None)
    over = [(what, factor, label) for what, (factor, label) in seen.items()]
    return Outcome(sorted((o for o in over if o[1] > MARGIN), key=lambda o: -o[1]),
                   [o for o in over if 1 / MARGIN < o[1] <= MARGIN], active, [s[0] for s in states(circuit)], unknown,
                   any(isinstance(entry, Chip) for entry in circuit.entries.values()))


def _corners(circuit: Wired) -> Iterator[tuple[bool, bool]]:
    turning = any(isinstance(e, Load) and e.stall_current for e in circuit.entries.values())
    for high in (False, True):
        for stalled in (False, True) if turning else (False,):
            yield high, stalled


def _note(seen: dict[str, tuple[float, str]], found: list[Stress], label: str, circuit: Wired, setting: Setting | None) -> None:
    for stress in found:
        factor = stress.value / stress.limit
        if factor <= seen.get(stress.what, (1 / MARGIN, ""))[0]:
            continue
        if stress.pins and setting is not None and factor > MARGIN and not _is_held(circuit, setting, stress):
            factor = MARGIN
        seen[stress.what] = (factor, label)


def _is_held(circuit: Wired, setting: Setting, stress: Stress) -> bool:
    """Whether a voltage is still too high with 100 kohm across it: else nothing holds it, and hardly anything breaks."""
    assert stress.pins is not None
    name = stress.what.split()[0]
    one, other = (circuit.nets[name, pin] for pin in stress.pins)
    made = network(circuit, structs.replace(setting, bridge=(one, other)))
    again = {s.what: s for s in stresses(made, solved(made), heat=True)}
    return stress.what in again and again[stress.what].value > stress.limit


def settled(circuit: Wired, setting: Setting) -> tuple[Setting, Network, np.ndarray]:
    """The operating point, with relays where their coils put them."""
    pulled: frozenset[str] = frozenset()
    for _ in range(4):
        setting = structs.replace(setting, pulled=pulled)
        made = network(circuit, setting)
        v = solved(made)
        relays = [(name, entry) for name, entry in circuit.entries.items() if isinstance(entry, Relay)]
        now = frozenset(name for name, entry in relays if _pulls(made, v, name, entry))
        if now == pulled:
            break
        pulled = now
    return setting, made, v


def _pulls(made: Network, v: np.ndarray, name: str, entry: Relay) -> bool:
    rated = float(entry.voltage or relay_ohms(entry) * (entry.current or 0.07))
    return bool(abs(v[made.node(name, "A1")] - v[made.node(name, "A2")]) >= float(entry.must_operate) * rated)


def at_work(made: Network, v: np.ndarray) -> dict[str, float]:
    """How much flows in every lamp and load, in amps."""
    found: dict[str, float] = {}
    for name, entry in made.wired.entries.items():
        if isinstance(entry, (Led, Load)):
            found[name] = abs(made.into(name, v, entry.pins[0]))
        elif isinstance(entry, Relay):
            found[name] = abs(v[made.node(name, "A1")] - v[made.node(name, "A2")]) / relay_ohms(entry)
    return found


# ── states ────────────────────────────────────────────────────────────────────────────────────────────────────────


def states(circuit: Wired) -> list[State]:
    """Every state with a label, and whether it is the reset of a controller."""
    choices = dict(_choices(circuit))
    keys = list(choices)
    count = int(np.prod([len(values) for values in choices.values()])) if choices else 1
    if count <= MANY_STATES:
        every = [dict(zip(keys, values)) for values in product(*choices.values())]
    else:
        rest = {key: values[0] for key, values in choices.items()}
        last = {key: values[-1] for key, values in choices.items()}
        every = [rest, last] + [{**rest, key: value} for key in keys for value in choices[key][1:]]
        every += [{**last, key: values[0]} for key, values in choices.items()]
    found: list[State] = [(_label(controls), controls, False) for controls in every]
    pins = [key for key in keys if len(key) == 2]
    if pins:
        fixed = [{**controls, **dict.fromkeys(pins, "input")} for controls in every]
        for label, controls in {_label(controls): controls for controls in fixed}.items():
            found.append((f"reset, {label}", controls, True))
    return found


def _label(controls: Mapping[tuple[str, ...], str]) -> str:
    return " ".join(f"{'.'.join(key)}={value}" for key, value in sorted(controls.items()))


def _choices(circuit: Wired) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    nets = list(circuit.nets.values())
    for name, entry in circuit.entries.items():
        if isinstance(entry, Switch):
            yield (name,), entry.positions
        elif isinstance(entry, Potentiometer):
            yield (name,), ("0.0", "0.5", "1.0")
        elif isinstance(entry, SensorResistor):
            yield (name,), ("low", "high")
        elif isinstance(entry, Controller):
            for pin in used_pins(circuit, name, entry):
                roles = circuit.roles.get((name, pin), ())
                if roles or nets.count(circuit.nets[name, pin]) > 1:
                    yield (name, pin), _levels(roles)


def _levels(roles: tuple[str, ...]) -> tuple[str, ...]:
    for role in ("high", "low", "pullup"):
        if role in roles:
            return (role,)
    if {"input", "analog", "unused", "bus"} & set(roles):
        return ("input",)
    return ("low", "high") if {"output", "pwm"} & set(roles) else ("low", "high", "input")


# ── switching coils off ───────────────────────────────────────────────────────────────────────────────────────────


def _switched_off(circuit: Wired, calm: list[tuple[str, Setting, dict[str, float]]]) -> Iterator[
        tuple[str, Network, np.ndarray, str]]:
    """For every coil: its on-state current forced through each state in which it is off."""
    for name, entry in circuit.entries.items():
        if not isinstance(entry, (Load, Relay)) or not entry.inductance:
            continue
        most = max(amps[name] for _, _, amps in calm)
        if most < 1e-3:
            continue
        on = next(setting for _, setting, amps in calm if amps[name] == most)
        signed = _signed(circuit, on, name)
        for label, setting, amps in calm:
            if amps[name] < 0.1 * most and _one_step(on.controls, setting.controls):
                made = network(circuit, structs.replace(setting, forced={name: signed}))
                yield label, made, solved(made), name


def _one_step(one: Mapping[tuple[str, ...], str], other: Mapping[tuple[str, ...], str]) -> bool:
    changed = [key for key in one if one[key] != other[key]]
    return len(changed) == 1 or all(len(key) == 2 for key in changed)


def _signed(circuit: Wired, setting: Setting, name: str) -> float:
    made = network(circuit, setting)
    return made.into(name, solved(made), circuit.entries[name].pins[0])


def _avalanche(circuit: Wired, made: Network, v: np.ndarray) -> bool:
    """Whether a MOSFET with a stated avalanche energy is driven past its voltage: how much it takes is not for this oracle."""
    return any(isinstance(entry, Mosfet) and entry.avalanche_energy is not None
               and abs(v[made.node(name, "D")] - v[made.node(name, "S")]) > entry.vds / MARGIN
               for name, entry in circuit.entries.items())


def _has_capacitor(circuit: Wired, coil: str) -> bool:
    entry = circuit.entries[coil]
    ends = {circuit.nets[coil, pin] for pin in entry.pins[:2]}
    return any(isinstance(other, Capacitor) and ends & {circuit.nets[name, pin] for pin in other.pins}
               and (other.farads or 0.0) < 1e-4 and ends == {circuit.nets[name, pin] for pin in other.pins}
               for name, other in circuit.entries.items())
