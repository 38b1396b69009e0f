"""Every suspect of a surveyed list, without those that change nothing and those that come to the same circuit."""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.survey import Survey
from checker.suspects.contacts import loose_wires, open_legs, rail_gaps
from checker.suspects.inside import dead, other_values, shorted, stuck_pins
from checker.suspects.misbuilt import misbuilt, other_orders
from checker.suspects.model import Suspect
from checker.suspects.rewiring import fingerprint
from checker.suspects.sources import weak_sources
from parts_library import Library


def suspects_of(surveyed: Survey, library: Library) -> tuple[Suspect, ...]:
    """The likely single faults of a board that was built from the list; () where the list gives no circuit.

    Each is the list's own reading with one fault. The order is that of the kinds, and in a kind that of the list."""
    if not surveyed.operatings:
        return ()
    circuit = surveyed.operatings[0].circuit
    known = {fingerprint(circuit)}
    found = []
    for suspect in _all(circuit, surveyed, library):
        own = fingerprint(suspect.circuit)
        if own not in known:
            known.add(own)
            found.append(suspect)
    return tuple(found)


def _all(circuit: Circuit, surveyed: Survey, library: Library) -> Iterator[Suspect]:
    yield from misbuilt(circuit, library)
    yield from other_orders(circuit, surveyed)
    yield from rail_gaps(circuit, surveyed.seated)
    yield from loose_wires(circuit)
    yield from open_legs(circuit)
    yield from other_values(circuit)
    yield from weak_sources(circuit)
    yield from stuck_pins(circuit)
    yield from dead(circuit)
    yield from shorted(circuit)
