"""Candidates that join what nothing feeds: a rail that is wired but leads nowhere, a chip's open supply or ground pin.

Input: the circuit and its findings; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places
from checker.rules.base import Found
from checker.seating.boards import RailPiece, Strip
from parts_library.schema import Chip, Controller, Regulator, SupplyKind

FULL = 1.01
"""A supply pin is joined to no more volts than it works with; a hundredth is rounding."""

MOST_SOURCES = 3
"""A lead is tried at so many grounds or pluses: more than a bench usually has."""


def joinings(circuit: Circuit, found: Sequence[Found]) -> Iterator[Candidate]:
    """What can be joined against the findings."""
    yield from _idle_rails(circuit)
    for one in found:
        if one.rule == "supply-pin-open" and one.parts:
            yield from _open_pin(circuit, one)


def grounds_of(circuit: Circuit) -> list[int]:
    """The nets of supplies' minuses and controllers' grounds, without repeats."""
    return _nets(circuit, {"-": SupplyKind, "GND": Controller})


def pluses_of(circuit: Circuit) -> dict[int, float]:
    """The nets of what feeds, with its volts: supplies, regulators, a controller's 5V and 3V3."""
    volts: dict[int, float] = {}
    for (key, pin), net in circuit.pin_net.items():
        entry = circuit.part(key).entry
        if isinstance(entry, SupplyKind) and pin == "+":
            volts[net] = float(entry.voltage or 0.0)
        elif isinstance(entry, Regulator) and pin == "OUT" and not entry.negative:
            volts.setdefault(net, float(entry.output))
        elif isinstance(entry, Controller) and pin in ("5V", "3V3"):
            volts.setdefault(net, 5.0 if pin == "5V" else float(entry.aux_voltage))
    return volts


def _nets(circuit: Circuit, pins: dict[str, type]) -> list[int]:
    return list(dict.fromkeys(net for (key, pin), net in circuit.pin_net.items()
                              if pin in pins and isinstance(circuit.part(key).entry, pins[pin])))


# ── rails ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _idle_rails(circuit: Circuit) -> Iterator[Candidate]:
    """A rail on a net without any source, joined to the rail of its sign that has one."""
    sources = {"+": set(pluses_of(circuit)), "-": set(grounds_of(circuit))}
    fed = {net for nets in sources.values() for net in nets}
    rails = [conductor for conductor in circuit.net_of if isinstance(conductor, RailPiece)]
    for idle in rails:
        net = circuit.net_of[idle]
        gap = any((rail.board, rail.side, rail.sign) == (idle.board, idle.side, idle.sign) and circuit.net_of[rail] in fed
                  for rail in rails)
        if net in fed or gap or not circuit.pins_on.get(net):
            continue
        for rail in rails:
            if rail.sign == idle.sign and circuit.net_of[rail] in sources[rail.sign]:
                places = Places(circuit)
                ends = places.rail_spot(rail), places.rail_spot(idle)
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire {ends[0]} to {ends[1]}")
                line = next((j.span.line for j in circuit.jumpers if idle in j.conductors), 1)
                yield Candidate(say=f"rail {idle.side}{idle.sign} is joined to nothing: a wire from {ends[0]} to {ends[1]}",
                                edits=draft.edits(), effort=1.0, points=ends, line=line, parts=tuple(dict.fromkeys(
                                    circuit.part(key).name for key, _ in circuit.pins_on[net])))
                break


# ── open pins ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _open_pin(circuit: Circuit, found: Found) -> Iterator[Candidate]:
    """A new wire from an open supply or ground pin to what it wants."""
    part = circuit.bench.part(found.parts[0])
    if part is None or not isinstance(part.entry, Chip | Regulator):
        return
    key = part.name.lower()
    for pin in part.pins:
        names = {circuit.place_of.get((key, pin), ""), f"{part.name}.{pin}"}
        if not names & set(found.points) and pin != found.facts.get("pin"):
            continue
        wanted = wanted_nets(circuit, part.entry, pin)
        stray = _has_stray_lead(circuit, key, part.entry, set(wanted)) or has_loose_end(circuit, set(wanted))
        later = 0.75 if stray else 0.0
        for number, net in enumerate(wanted[:MOST_SOURCES]):
            places = Places(circuit)
            conductor = circuit.conductor_of.get((key, pin))
            here = places.free_in(conductor) if isinstance(conductor, Strip) else f"{part.name}.{pin}"
            there = (places.spot_in_net(net) if circuit.reading.plans else None) or _named(circuit, net)
            if here is not None and there is not None:
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire {here} to {there}")
                yield Candidate(say=f"add a wire from {here} to {there}", edits=draft.edits(),
                                effort=1.2 + later + 0.02 * number, parts=(part.name,), points=(here, there),
                                line=part.span.line)


def _has_stray_lead(circuit: Circuit, key: str, entry: Chip | Regulator, nets: set[int]) -> bool:
    """True where a wire from one of the nets ends at another pin of the part, which is no supply or ground pin and no input
    that may be held: it may be meant for the open one."""
    fed = {"IN", "GND"} if isinstance(entry, Regulator) else {
        *entry.supply_pins, *(pin for one in entry.inputs for pin in one.pins)}
    return any(circuit.net_of.get(circuit.conductor_of[key, pin]) in nets for pin in circuit.part(key).pins
               if pin not in fed and (key, pin) in circuit.conductor_of)


def has_loose_end(circuit: Circuit, nets: set[int]) -> bool:
    """True where a wire from one of the nets ends in a strip with nothing else in it: it may be a row off."""
    seats = set(circuit.conductor_of.values())
    return any(isinstance(conductor, Strip) and conductor not in seats and circuit.conductors.degree(conductor) == 1
               and circuit.net_of.get(conductor) in nets for jumper in circuit.jumpers for conductor in jumper.conductors)


def _named(circuit: Circuit, net: int) -> str:
    """A pin of a net by its name: the source's own, where it is off the board."""
    key, pin = min(circuit.pins_on[net], key=lambda at: not (circuit.part(at[0]).is_supply or circuit.part(at[0]).is_controller))
    return f"{circuit.part(key).name}.{pin}"


def wanted_nets(circuit: Circuit, entry: Chip | Regulator, pin: str) -> list[int]:
    """The nets that a supply or ground pin may be joined to: grounds; pluses whose volts fit, those that the most pins share
    first."""
    if isinstance(entry, Regulator):
        nets = grounds_of(circuit) if pin == "GND" else list(pluses_of(circuit)) if pin == "IN" else []
    elif pin in (entry.ground, *entry.more_grounds):
        nets = grounds_of(circuit)
    elif pin in (entry.supply, *entry.more_supplies):
        low, high = float(entry.supply_min or 0.0), float(entry.supply_max or entry.supply_absolute or 1e3)
        nets = [net for net, volts in pluses_of(circuit).items() if 0.95 * low <= volts <= FULL * high]
    else:
        nets = []
    return sorted(nets, key=lambda net: -len(circuit.pins_on[net]))
