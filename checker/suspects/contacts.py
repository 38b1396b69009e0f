"""Contacts that are none: a wire that is missing or loose, a leg bent under or not in its spring, a gap in a rail."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.circuit.build import connect
from checker.circuit.model import Circuit, Jumper, Lead
from checker.seating.boards import RailPiece
from checker.seating.model import Seated
from checker.sentences.words import listed
from checker.suspects.model import PRIORS, Suspect
from checker.suspects.rewiring import with_leg_open, with_terminal_open, without_jumper


def loose_wires(circuit: Circuit) -> Iterator[Suspect]:
    """Each stretch of wire that is not there, or makes no contact."""
    for jumper in circuit.jumpers:
        if jumper.conductors[0] == jumper.conductors[1]:
            continue
        one, other = jumper.ends
        yield Suspect(kind="wire-loose", say=f"the {wire_words(circuit, jumper)} is missing or makes no contact",
                      parts=_leads(circuit, jumper), points=(one, other), circuit=without_jumper(circuit, jumper),
                      prior=PRIORS["wire-loose"],
                      remedy=f"press both ends of the wire home, at {one} and at {other}, or use another")
    for key, part in circuit.bench.parts.items():
        for pin in part.pins if part.is_supply else ():
            at = circuit.place_of[key, pin]
            if at != f"{part.name}.{pin}":
                yield Suspect(kind="wire-loose", say=f"the {pin} lead of {part.name} makes no contact at {at}",
                              parts=(part.name,), points=(at,), circuit=with_terminal_open(circuit, key, pin),
                              prior=PRIORS["wire-loose"], remedy=f"push the {pin} lead of {part.name} into {at} anew")


def wire_words(circuit: Circuit, jumper: Jumper) -> str:
    """``red wire from e18 to L+18``."""
    wire = circuit.bench.wires[jumper.wire]
    colour = f"{wire.colour} " if wire.colour else ""
    return f"{colour}wire from {jumper.ends[0]} to {jumper.ends[1]}"


def _leads(circuit: Circuit, jumper: Jumper) -> tuple[str, ...]:
    return tuple(circuit.bench.parts[c.part].name for c in jumper.conductors if isinstance(c, Lead))


def open_legs(circuit: Circuit) -> Iterator[Suspect]:
    """Each leg on the board that does not touch its spring."""
    for (key, pin), conductor in circuit.conductor_of.items():
        part = circuit.part(key)
        if isinstance(conductor, Lead) or part.entry is None or circuit.is_alone(circuit.pin_net[key, pin]):
            continue
        at = circuit.place_of[key, pin]
        yield Suspect(kind="leg-open", say=f"{part.name}'s leg at {at} makes no contact", parts=(part.name,), points=(at,),
                      circuit=with_leg_open(circuit, key, pin), prior=PRIORS["leg-open"],
                      remedy=f"see whether {part.name}'s leg is in {at} at all; pull it out, straighten it and push it in again, "
                             f"or use another hole of that {'rail' if isinstance(conductor, RailPiece) else 'row'}")


def rail_gaps(circuit: Circuit, seated: Seated) -> Iterator[Suspect]:
    """Each board whose rails are taken to go through, with a gap in the middle."""
    for name, plan in circuit.reading.plans.items():
        if plan.split or not plan.has_rails:
            continue
        plans = {**circuit.reading.plans, name: structs.replace(plan, split=True)}
        gapped, _ = connect(seated, structs.replace(circuit.reading, plans=plans))
        rails = sorted({str(c) for c in gapped.net_of if isinstance(c, RailPiece) and c.board == name and c.piece})
        if rails and len(gapped.members) > len(circuit.members):
            which = f"the rail {rails[0]} has" if len(rails) == 1 else f"the rails {listed(rails)} have"
            yield Suspect(kind="rail-gap", say=f"{which} a gap in the middle of the board", parts=(), points=tuple(rails),
                          circuit=gapped, prior=PRIORS["rail-gap"],
                          remedy=f"bridge the gap in the middle of {listed(rails)} with a short wire")
