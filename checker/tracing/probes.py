"""Everything that a person can put a probe on or look at, and the states that can be set.

Input: the circuit of the list, and those of the suspects that are left. Output: probes in the order in which one would take them:
what needs no meter first, then rails and rows with a free hole, then leads, then the legs themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit, Conductor, Lead, NamedNode
from checker.fixes.places import Places
from checker.operating.points import State
from checker.rules.case import LIGHTS_AND_LOADS
from checker.seating.boards import RailPiece, Strip, name_of
from checker.seating.model import Spot as LegSpot
from checker.tracing.following import settable
from checker.tracing.grounds import Grounds
from checker.tracing.model import Probe
from grammar.syntax_tree import Hole
from parts_library.schema import Chip, Led, LedGroup, Load, Stepper

MOST_STATES = 8
MOST_LEGS = 3
"""Legs on which a probe can be held; those of a chip are too close to each other."""


def probes_of(circuit: Circuit, suspected: Sequence[Circuit], grounds: Grounds) -> list[Probe]:
    """All probes; strips that only a suspect uses are among them."""
    return [*_looks(circuit), *_conductors(circuit, suspected, grounds), *_legs(circuit, grounds)]


def _looks(circuit: Circuit) -> Iterator[Probe]:
    for key, part in circuit.bench.parts.items():
        if isinstance(part.entry, LedGroup):
            for pin in _light_pins(part.entry):
                if (key, pin) in circuit.touched:
                    yield Probe("look", f"{part.name}.{pin}", pin=(key, pin), look="lit")
        elif isinstance(part.entry, LIGHTS_AND_LOADS) and not isinstance(part.entry, Stepper):
            yield Probe("look", part.name, pin=(key, part.load_pins[0]), look="lit" if _shines(part.entry) else "running")


def _light_pins(group: LedGroup) -> tuple[str, ...]:
    """A pin for each light: the side that they do not share."""
    sides = tuple(dict.fromkeys(one.anode for one in group.members)), tuple(dict.fromkeys(one.cathode for one in group.members))
    return max(sides, key=len)


def _shines(entry: object) -> bool:
    return isinstance(entry, Led) or (isinstance(entry, Load) and entry.type == "lamp")


def _conductors(circuit: Circuit, suspected: Sequence[Circuit], grounds: Grounds) -> Iterator[Probe]:
    places = Places(circuit)
    conductors = dict.fromkeys(conductor for one in (circuit, *suspected) for conductor in one.net_of)
    order: dict[type, int] = {RailPiece: 0, Strip: 1, NamedNode: 2, Lead: 3}
    black = {conductor for conductor, _ in grounds.black}
    for conductor in sorted(conductors, key=lambda c: order[type(c)]):
        name = name_at(circuit, conductor, places) if conductor not in black else ""
        if name:
            to, its_name = grounds.of_net(circuit.net_of.get(conductor))
            yield Probe("volts", f"{name}~{its_name}" if to is not None else name, conductor, to)


def name_at(circuit: Circuit, conductor: Conductor, places: Places) -> str:
    """How a person finds a conductor: a free hole of a row, a rail, a lead; "" for a pin in a hole, or wired to nothing."""
    if isinstance(conductor, Strip):
        used = next((p for p in _used(circuit) if isinstance(p, Hole) and _strip(circuit, p) == conductor), None)
        return places.free_in(conductor) or (name_of(used) if used is not None else "")
    if isinstance(conductor, RailPiece):
        return places.rail_spot(conductor) if conductor.piece or _is_split(circuit, conductor) else \
            places.rail_spot(conductor).rstrip("0123456789")
    if isinstance(conductor, NamedNode):
        return f"@{conductor.name}"
    part = circuit.bench.parts.get(conductor.part)
    if part is None or (conductor.part in circuit.reading.seats) or (conductor.part, conductor.pin) not in circuit.touched:
        return ""
    return f"{part.name}.{conductor.pin}"


def _used(circuit: Circuit) -> Iterator[LegSpot]:
    for seat in circuit.reading.seats.values():
        yield from seat.legs.values()


def _strip(circuit: Circuit, hole: Hole) -> Strip | None:
    plan = circuit.reading.plans.get(hole.board or "") or next(iter(circuit.reading.plans.values()), None)
    return plan.strip(hole) if plan is not None else None


def _is_split(circuit: Circuit, rail: RailPiece) -> bool:
    plan = circuit.reading.plans.get(rail.board)
    return plan is not None and plan.split


def _legs(circuit: Circuit, grounds: Grounds) -> Iterator[Probe]:
    for key, seat in circuit.reading.seats.items():
        part = circuit.bench.parts.get(key)
        if part is None or part.entry is None or isinstance(part.entry, Chip) or len(seat.legs) > MOST_LEGS:
            continue
        for pin, spot in seat.legs.items():
            to, its_name = grounds.of_net(circuit.pin_net[key, pin])
            name = f"{part.name}.{pin}~{its_name}" if to is not None else f"{part.name}.{pin}"
            yield Probe("volts", name, (key, pin), to, leg_at=name_of(spot))


def rest_of(circuit: Circuit) -> State:
    """Everything that can be set, at rest."""
    return {v.name: v.options[0] for v in settable(circuit) if len(v.options) > 1}


def states_to_set(circuit: Circuit, given: Sequence[State]) -> list[State]:
    """The states in which to measure next: those already set, the last one first; all at rest; all switched; and each thing
    switched alone."""
    rest = rest_of(circuit)
    variables = [variable for variable in settable(circuit) if variable.name in rest]
    states = [{**rest, **state} for state in (*reversed(given), {})]
    states.append({variable.name: variable.options[1] for variable in variables})
    states += [{**rest, variable.name: option} for variable in variables for option in variable.options]
    unique = {repr(sorted(state.items())): state for state in states}
    return list(unique.values())[:MOST_STATES]
