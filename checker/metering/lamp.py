"""No meter: an LED with a resistor as a probe. At which holes it lights, in which state.

Input: the solved list, its spots, its states. Output: for each supply the resistor, and what the probe does at a few holes,
computed with the probe on the circuit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.circuit.model import Conductor
from checker.metering.after import swings
from checker.metering.feeds import feed_name, feeds
from checker.metering.grounds import references
from checker.metering.model import LampHole, LampProbe
from checker.metering.probing import Attachment, Lamp, probe
from checker.metering.spots import Spots
from checker.metering.states import Stand
from checker.operating.fit import junction_from
from checker.operating.islands import powered
from checker.operating.models import supply_volts
from checker.operating.operate import Operating
from grammar import show_quantity
from parts_library import Library
from parts_library.schema import Led, SupplyKind

E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
"""IEC 60063, series E12."""

WANTED_AMPS, RED_VOLTS = 0.003, 1.8
"""Enough for a modern red LED to be plain in daylight, and little enough to upset nothing (common practice, no source)."""

SEEN_AMPS, DARK_AMPS = 4e-4, 5e-5
"""Above the first it is plainly lit, below the second plainly dark; holes in between are left out (from memory)."""

MOST_HOLES, MOST_STEADY = 4, 2
HIGHEST_VOLTS = 30.0


def lamp_probes(operating: Operating, spots: Spots, standing: Sequence[Stand], library: Library) -> tuple[LampProbe, ...]:
    """A probe for each minus on which a supply stands; of several supplies on one the highest decides the resistor."""
    led = library.entries.get("led red")
    if not standing or not isinstance(led, Led):
        return ()
    circuit = operating.circuit
    highest: dict[int, tuple[float, str, str, str]] = {}
    for key, plus, minus in feeds(circuit):
        entry = circuit.part(key).entry
        volts = supply_volts(entry)[2] if isinstance(entry, SupplyKind) else 5.0
        net = circuit.pin_net[key, minus]
        if volts > highest.get(net, (0.0, "", "", ""))[0]:
            highest[net] = (volts, key, plus, minus)
    junction = junction_from(led.forward, most_emission=8.0)
    lamp = Lamp(junction.saturation, junction.slope, junction.ohms)
    return tuple(found for net, (volts, key, plus, _) in highest.items() if RED_VOLTS + 0.5 < volts < HIGHEST_VOLTS
                 if (found := _probe(operating, spots, standing, net, volts, feed_name(circuit, key, plus), lamp)) is not None)


def resistor_for(volts: float) -> float:
    """The next E12 value above what lets ``WANTED_AMPS`` through a red LED at so many volts."""
    ohms = (volts - RED_VOLTS) / WANTED_AMPS
    decade = 1.0
    while True:
        for step in E12:
            if step * decade >= ohms:
                return step * decade
        decade *= 10.0


def _probe(operating: Operating, spots: Spots, standing: Sequence[Stand], net: int, volts: float, supply: str, lamp: Lamp
           ) -> LampProbe | None:
    black = spots.of_net(net)
    if black is None:
        return None
    volts = max(volts, _highest(operating, net))
    ohms = resistor_for(volts)
    holes = tuple(_telling(list(_holes(operating, spots, standing, net, black[0], ohms, lamp))))
    say = (f"make a probe of a red LED: {show_quantity(ohms, 'ohm')} on its long leg, its short leg to {black[1].say}. Touch the "
           f"points below with the resistor's free end; it takes {show_quantity((volts - RED_VOLTS) / ohms, 'A')} at most")
    return LampProbe(supply=supply, ohms=ohms, amps=(volts - RED_VOLTS) / ohms, black=black[1], say=say, holes=holes)


def _highest(operating: Operating, ground: int) -> float:
    """The most volts above a ground in any state: of two batteries in a row the second one's plus."""
    mask = operating.mask("nominal") & operating.converged
    above = (operating.volts - operating.volts[:, [ground]])[mask]
    return float(above.max(initial=0.0)) if above.max(initial=0.0) < HIGHEST_VOLTS else 0.0


def _holes(operating: Operating, spots: Spots, standing: Sequence[Stand], ground: int, black: Conductor, ohms: float,
           lamp: Lamp) -> Iterator[LampHole]:
    """Every net on this ground in every state, where the probe is plainly lit or plainly dark."""
    circuit = operating.circuit
    stack, nodes = powered(circuit, [operating.points[stand.point] for stand in standing])
    reference = references(circuit, stack, nodes)
    nets = [net for net in nodes if reference.get(net) == reference.get(ground) and net != ground
            and len(circuit.pins_on[net]) > 1]
    found = [(net, spots.of_net(net)) for net in nets]
    places = [(net, spot[1]) for net, spot in found if spot is not None and not swings(operating, spot[0], black)]
    attachments = [Attachment(stack, row, nodes[net], nodes[circuit.net_of[black]], 0.0, ohms, lamp)
                   for net, _ in places for row in range(len(standing))]
    probed = probe(attachments, powered=True)
    for number, (_, spot) in enumerate(places):
        rows = range(number * len(standing), (number + 1) * len(standing))
        amps = [-float(probed.amps[row]) if probed.fine[row] else float("nan") for row in rows]
        yield LampHole(spot, tuple(stand.say for stand, one in zip(standing, amps, strict=True) if one >= SEEN_AMPS),
                       tuple(stand.say for stand, one in zip(standing, amps, strict=True) if one <= DARK_AMPS),
                       max(0.0, *amps), tuple(stand.say for stand, one in zip(standing, amps, strict=True)
                                              if not (one >= SEEN_AMPS or one <= DARK_AMPS)))


def _telling(holes: Sequence[LampHole]) -> Iterator[LampHole]:
    """Where it lights all the time, then where it changes with the state."""
    yield from [hole for hole in holes if hole.lit and not hole.dark][:MOST_STEADY]
    yield from [hole for hole in holes if hole.lit and hole.dark][:MOST_HOLES - MOST_STEADY]
