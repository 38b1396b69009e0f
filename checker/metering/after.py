"""After power: volts at a few telling holes, in a few states, and what another value means.

Input: the solved list, its spots, the likely faults. Output: readings in the order of the states, and which faults change one.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import isnan

import numpy as np
from msgspec import Struct

from checker.circuit.model import Circuit, Conductor
from checker.metering.choosing import choose
from checker.metering.faulty import on_faults
from checker.metering.feeds import feed_name, feeds
from checker.metering.grounds import references
from checker.metering.instead import instead
from checker.metering.meter import INPUT_OHMS, READS_WITHIN
from checker.metering.model import Reading
from checker.metering.probing import Attachment, probe
from checker.metering.spots import Spots
from checker.metering.states import Stand, discharges
from checker.metering.words import volts_expected, volts_range
from checker.operating.islands import powered
from checker.operating.operate import Operating
from checker.operating.points import State
from checker.sentences.words import listed
from checker.suspects import Suspect

MOST_AFTER = 6
MOST_NAMES = 4
LEAST_APART, APART_SHARE = 0.25, 0.08
"""How far outside its band a voltage has to be to be noticed: volts, and as a share."""

KNOWN_COUNTS = 0.25
"""Share for which a fault counts that a reading before power shows: that one may have been skipped."""

MOVES = 0.05
"""A point that the meter's own 10 MΩ pull down by more than this share is not worth measuring."""


class Place(Struct, frozen=True):
    """A conductor to measure at, the black probe's conductor, its name, and whether it is a supply's plus."""

    conductor: Conductor
    black: Conductor
    what: str
    feed: bool


class Volt(Struct, frozen=True):
    """``place`` in the state ``stand``: usual volts, and the band over the corners."""

    place: Place
    stand: Stand
    value: float
    low: float
    high: float


def readings_after(operating: Operating, spots: Spots, standing: Sequence[Stand], suspects: Sequence[Suspect],
                   known: Collection[int] = ()) -> tuple[tuple[Reading, ...], set[int]]:
    """The readings with power on, and the numbers of the suspects that at least one of them shows. Those ``known`` are shown
    before power already, and count less."""
    if not standing:
        return (), set()
    places = [place for place in _places(operating, spots, standing) if not swings(operating, place.conductor, place.black)]
    volts = _volts(operating, standing, places)
    asked = [(one.place.conductor, one.place.black, one.stand.state) for one in volts]
    values = on_faults(asked, [stand.state for stand in standing], [suspect.circuit for suspect in suspects])
    outcomes = np.array([[_outcome(one, value) for value in row] for one, row in zip(volts, values, strict=True)],
                        dtype=np.int64).reshape(len(volts), len(suspects))
    always = [number for number, one in enumerate(volts) if one.place.feed and one.stand is standing[0]]
    priors = np.array([suspect.prior * (KNOWN_COUNTS if number in known else 1.0) for number, suspect in enumerate(suspects)])
    worth = np.array([1.0 if one.stand.rest else 0.95 for one in volts])
    chosen = choose(outcomes, worth, priors, always, max(MOST_AFTER, len(always)))
    order = {stand.say: number for number, stand in enumerate(standing)}
    most = max((one.high for one in volts), default=0.0)
    seen: set[int] = set()
    readings = []
    for number in sorted(chosen, key=lambda n: (order[volts[n].stand.say], not volts[n].place.feed, n)):
        new = [fault for fault in range(len(suspects)) if outcomes[number, fault] and fault not in seen]
        seen.update(new)
        swinging = _to_and_fro(volts, volts[number])
        readings.append(_reading(spots, volts[number], most, swinging, [(suspects[f], values[number][f]) for f in new]))
    return tuple(readings), seen


def swings(operating: Operating, red: Conductor, black: Conductor) -> bool:
    """True for a point that a timer charges and discharges: a meter shows something in between, which tells nothing."""
    mask = operating.mask("nominal") & operating.converged
    nets = [operating.circuit.net_of.get(c) for c in (red, black)]
    if None in nets:
        return False
    volts = (operating.volts[:, nets[0]] - operating.volts[:, nets[1]])[mask]
    points = [point for point, fine in zip(operating.points, mask, strict=True) if fine]
    for variable in discharges(operating):
        by_rest: dict[frozenset[tuple[str, str]], list[float]] = {}
        for point, value in zip(points, volts, strict=True):
            rest = frozenset((name, option) for name, option in point.state.items() if name != variable.name)
            by_rest.setdefault(rest, []).append(float(value))
        if any(max(found) - min(found) > LEAST_APART for found in by_rest.values()):
            return True
    return False


def _places(operating: Operating, spots: Spots, standing: Sequence[Stand]) -> list[Place]:
    """One place for each net that a probe reaches: pluses of supplies first, then where parts meet."""
    circuit = operating.circuit
    stack, nodes = powered(circuit, [operating.points[standing[0].point]])
    black_of = references(circuit, stack, nodes)
    blacks = {net: spots.of_net(net) for net in set(black_of.values())}
    plus = {circuit.pin_net[key, pin]: feed_name(circuit, key, pin) for key, pin, _ in feeds(circuit)}
    places = []
    for net in sorted(nodes, key=lambda net: net not in plus):
        black = blacks.get(black_of.get(net, -1))
        found = spots.of_net(net)
        if black is None or found is None or net == black_of[net] or len(circuit.pins_on[net]) < 2:
            continue
        places.append(Place(found[0], black[0], _what(circuit, net, plus), net in plus))
    return places


def _what(circuit: Circuit, net: int, plus: dict[int, str]) -> str:
    """What meets there: ``PACK's plus``, ``R1 and Q1.B``."""
    if net in plus:
        return plus[net] if "." in plus[net] else f"{plus[net]}'s plus"
    names = [circuit.part(key).name + (f".{pin}" if len(circuit.part(key).pins) > 2 else "")
             for key, pin in circuit.pins_on[net] if not circuit.part(key).is_supply]
    names = list(dict.fromkeys(names))
    if len(names) > MOST_NAMES:
        names = [*names[:MOST_NAMES - 1], f"{len(names) - MOST_NAMES + 1} more"]
    return f"where {listed(names)} meet" if len(names) > 1 else names[0]


def _volts(operating: Operating, standing: Sequence[Stand], places: Sequence[Place]) -> list[Volt]:
    """Every place in every state, without those that the meter itself moves."""
    circuit = operating.circuit
    stack, nodes = powered(circuit, [operating.points[stand.point] for stand in standing])
    attachments = [Attachment(stack, row, nodes[circuit.net_of[place.conductor]], nodes[circuit.net_of[place.black]], 0.0,
                              INPUT_OHMS) for place in places for row in range(len(standing))]
    loaded = probe(attachments, powered=True)
    found = []
    for number, place in enumerate(places):
        for row, stand in enumerate(standing):
            value = float(loaded.volts[number * len(standing) + row])
            bare = _at(operating, stand.point, place)
            if not loaded.fine[number * len(standing) + row] or abs(value - bare) > MOVES * max(abs(bare), 1.0):
                continue
            low, high = _band(operating, place, stand.state)
            found.append(Volt(place, stand, value, min(low, value), max(high, value)))
    return found


def _at(operating: Operating, point: int, place: Place) -> float:
    nets = [operating.circuit.net_of.get(c) for c in (place.conductor, place.black)]
    return float("nan") if None in nets else float(operating.volts[point, nets[0]] - operating.volts[point, nets[1]])


def _band(operating: Operating, place: Place, state: State) -> tuple[float, float]:
    mask = operating.mask("running") & operating.converged
    found = [_at(operating, number, place) for number, point in enumerate(operating.points)
             if mask[number] and point.phase == "steady" and point.state == state]
    return min(found), max(found)


def _outcome(one: Volt, value: float) -> int:
    if isnan(value):
        return 0
    slack = max(LEAST_APART, APART_SHARE * abs(one.value))
    if one.low - slack <= value <= one.high + slack:
        return 0
    return 1000 + round(value * 4)


TO_AND_FRO = "it goes to and fro by itself: read it while it stands"


def _to_and_fro(volts: Sequence[Volt], one: Volt) -> bool:
    """True for a place that shows something else a moment later, with nothing done."""
    return one.stand.rest and any(other.place is one.place and other.stand.rest and abs(other.value - one.value) > LEAST_APART
                                  for other in volts)


def _reading(spots: Spots, one: Volt, most: float, swinging: bool, faults: Sequence[tuple[Suspect, float]]) -> Reading:
    red, black = spots.of(one.place.conductor), spots.of(one.place.black)
    assert red is not None and black is not None
    slack = abs(one.value) * READS_WITHIN + 0.02
    low, high = one.low - slack, one.high + slack
    return Reading(what=one.place.what, red=red, black=black, function="DC volts", range=volts_range(most),
                   hold=one.stand.say, expect=volts_expected(one.value, low, high), value=one.value, low=low, high=high,
                   unit="V", notes=(TO_AND_FRO,) if swinging else (), instead=instead("volts", faults))

