"""What the hand built otherwise than the list says: the slips, each read anew, and the other orders that a part is sold in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import permutations

from checker.bench.inventory import lay_out
from checker.circuit.build import connect
from checker.circuit.model import Circuit
from checker.fixes.draft import applied
from checker.seating.seat import seat
from checker.sentences.words import listed
from checker.slips import Slip
from checker.slips.generator import all_slips
from checker.survey import Survey
from checker.suspects.displaced import displaced
from checker.suspects.model import PRIORS, Suspect
from checker.suspects.rewiring import with_pins_exchanged
from grammar import read
from parts_library import Library
from parts_library.schema import Bipolar, Jfet, Mosfet, Regulator, Thyristor

SELDOM = 0.3
"""What is a larger slip than a row or a sign is that much rarer (common practice, no source)."""

UNPRINTED = (Bipolar, Mosfet, Jfet, Thyristor, Regulator)
"""Parts on which only a part number is printed, with nothing at the legs."""

_BELONGS = re.compile(r"its (?P<what>.+) belongs (?:in|to) (?P<place>.+)")
_SITS = re.compile(r"it sits in (?P<place>.+)")
_TURNED = ("turned round", "a quarter round", "leads exchanged")


def misbuilt(circuit: Circuit, library: Library) -> Iterator[Suspect]:
    """Each slip that turns or moves something, as the circuit of the edited list."""
    for slip, share in (*((slip, 1.0) for slip in all_slips(circuit)), *((slip, SELDOM) for slip in displaced(circuit))):
        named = _named(circuit, slip)
        if named is None:
            continue
        kind, say, remedy = named
        changed = _read_anew(circuit, slip, library)
        if changed is not None:
            yield Suspect(kind=kind, say=say, parts=_parts(circuit, slip), points=_points(slip), circuit=changed,
                          prior=share * PRIORS[kind] * _how_often(circuit, slip), edits=slip.edits, remedy=remedy)


def _named(circuit: Circuit, slip: Slip) -> tuple[str, str, str] | None:
    """Kind, sentence and remedy of a slip; None where it is no suspect of its own (left out, bridged, symmetric)."""
    if slip.wrong in _TURNED:
        return _turned_words(circuit, slip)
    if slip.wrong.startswith("all of it"):
        where = slip.wrong.removeprefix("all of it ")
        return "row-off", f"{slip.at} sits {where} of where it belongs", f"move {slip.at}: {slip.right}"
    if slip.wrong.startswith("in "):
        return _moved_words(slip)
    return None


def _how_often(circuit: Circuit, slip: Slip) -> float:
    """The printed pins of a controller are seldom exchanged; a battery's leads are."""
    part = circuit.bench.part(slip.at)
    return SELDOM if part is not None and part.is_controller else 1.0


def _turned_words(circuit: Circuit, slip: Slip) -> tuple[str, str, str]:
    part = circuit.bench.part(slip.at)
    kind = "supply-exchanged" if part is not None and (part.is_supply or part.is_controller) else "turned"
    leads = slip.right.removeprefix("the leads at ").removesuffix(" are not exchanged")
    if leads != slip.right:
        return kind, f"{slip.at}'s leads at {leads} are exchanged", f"exchange the leads at {leads}"
    if slip.wrong == "leads exchanged":
        return kind, f"{slip.at} has its leads exchanged: {slip.right}", f"exchange the leads of {slip.at}: {slip.right}"
    if slip.wrong == "a quarter round":
        return kind, f"{slip.at} sits a quarter of a turn from how it belongs", f"take {slip.at} out and turn it by a quarter"
    return kind, f"{slip.at} is {slip.wrong}: {slip.right}", f"take {slip.at} out and put it in so that {slip.right}"


def _moved_words(slip: Slip) -> tuple[str, str, str] | None:
    if match := _SITS.fullmatch(slip.right):
        return "row-off", f"{slip.at} sits {slip.wrong} instead of {match['place']}", f"move {slip.at} to {match['place']}"
    match = _BELONGS.fullmatch(slip.right)
    if match is None:
        return None
    place, there = match["place"], slip.wrong.removeprefix("in ")
    kind = "wrong-rail" if place[-1] in "+-" or re.search(r"[LR][+-]", place) else "row-off"
    what = slip.at if match["what"] == "end" else f"{slip.at}'s {match['what']}"
    verb = "ends in" if match["what"] == "end" else "is in"
    end = what if match["what"] != "end" else f"the end of {what.partition(' from ')[0]}"
    return kind, f"{what} {verb} {there} instead of {place}", f"move {end} from {there} to {place}"


def _read_anew(circuit: Circuit, slip: Slip, library: Library) -> Circuit | None:
    """The circuit of the edited list, in the reading that it says itself."""
    bench, _ = lay_out(read(applied(circuit.bench.tree.lines, slip.edits)), library)
    if bench.parts.keys() != circuit.bench.parts.keys():
        return None
    seated = seat(bench)
    return connect(seated, seated.readings[0])[0]


def _parts(circuit: Circuit, slip: Slip) -> tuple[str, ...]:
    return (slip.at,) if circuit.bench.part(slip.at) is not None else ()


def _points(slip: Slip) -> tuple[str, ...]:
    match = _BELONGS.fullmatch(slip.right)
    there = slip.wrong.removeprefix("in ") if slip.wrong.startswith("in ") else ""
    return tuple(point for point in (match["place"] if match and " " not in match["place"] else "", there) if point)


def other_orders(circuit: Circuit, surveyed: Survey) -> Iterator[Suspect]:
    """Each part in every other pin order that its type is sold in, and the other ways to read the list."""
    for operating in surveyed.operatings[1:]:
        reading = operating.circuit.reading
        names = tuple(circuit.bench.parts[key].name for key in reading.differs if key in circuit.bench.parts)
        words = "; ".join(reading.seats[key].words for key in reading.differs if key in reading.seats)
        if names:
            yield Suspect(kind="pin-order", say=f"{' and '.join(names)}: {words or 'its legs are in another order'}", parts=names,
                          points=(), circuit=operating.circuit, prior=PRIORS["pin-order"],
                          remedy=f"find out with a meter which leg of {' and '.join(names)} is which")
    yield from _sold_otherwise(circuit)
    yield from _legs_exchanged(circuit)


def _sold_otherwise(circuit: Circuit) -> Iterator[Suspect]:
    for key, part in circuit.bench.parts.items():
        for order in part.entry.other_orders if part.entry is not None else ():
            if sorted(order.pins) != sorted(part.pins):
                continue
            changed = with_pins_exchanged(circuit, key, dict(zip(order.pins, part.pins, strict=True)))
            yield Suspect(kind="pin-order", say=f"{part.name} is of the kind with the legs in the order {' '.join(order.pins)}",
                          parts=(part.name,), points=tuple(circuit.place_of[key, pin] for pin in part.pins), circuit=changed,
                          prior=PRIORS["pin-order"],
                          remedy=f"find out with a meter which leg of {part.name} is which, and put it in so")


def _legs_exchanged(circuit: Circuit) -> Iterator[Suspect]:
    """Each part with three legs that is on the board, or has nothing printed at them; its legs in every other order."""
    for key, part in circuit.bench.parts.items():
        if len(part.pins) != 3 or not (key in circuit.reading.seats or isinstance(part.entry, UNPRINTED)):
            continue
        holes = [circuit.place_of[key, pin] for pin in part.pins]
        for order in list(permutations(part.pins))[1:]:
            say, remedy = _order_words(circuit, key, order)
            yield Suspect(kind="pin-order", say=say, parts=(part.name,), points=tuple(holes), prior=SELDOM * PRIORS["pin-order"],
                          circuit=with_pins_exchanged(circuit, key, dict(zip(order, part.pins, strict=True))), remedy=remedy)


def _order_words(circuit: Circuit, key: str, order: Sequence[str]) -> tuple[str, str]:
    """What is said of another order of three legs, and what to do about it. Legs that are in no holes have wires instead."""
    part = circuit.part(key)
    pins, holes = part.pins, [circuit.place_of[key, pin] for pin in part.pins]
    if key in circuit.reading.seats:
        return (f"{part.name} has its legs {' '.join(order)} in {' '.join(holes)}, instead of {' '.join(pins)}",
                f"bend the legs of {part.name} so that {' '.join(pins)} are in {' '.join(holes)}")
    moved = [pin for pin, other in zip(pins, order, strict=True) if pin != other]
    if len(moved) == 2:
        return (f"the wires of {part.name}'s {' and '.join(moved)} are exchanged",
                f"exchange the wires of {part.name}'s {' and '.join(moved)}")
    return (f"the wires of {part.name}'s {listed(pins)} are at its {listed(order)}",
            f"find out which leg of {part.name} is {listed(pins)}, and put its wires to them")
