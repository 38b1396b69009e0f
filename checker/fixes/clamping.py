"""Candidates that clamp a coil: a diode across it, or a driver array's COM joined to the coil's plus.

Input: the circuit, its operating points and a finding; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, free_name
from checker.operating.operate import Operating
from checker.rules.base import Found
from parts_library.schema import Chip, Diode


def clamps(circuit: Circuit, operating: Operating, found: Found) -> Iterator[Candidate]:
    """A diode across the coil with its band at the end that is positive while current flows."""
    part = circuit.bench.part(found.parts[0])
    if part is None:
        return
    key = part.name.lower()
    yield from _common_of_array(circuit, found, key)
    pins = part.load_pins[:2]
    ends = {circuit.pin_net[key, pin] for pin in pins}
    if any(isinstance(other.entry, Diode) and {circuit.pin_net[its, pin] for pin in other.pins} == ends
           for its, other in circuit.bench.parts.items()):
        # the one that is there is the wrong way round
        return
    amps = operating.amps_into(key, pins[0])
    steady = operating.mask("nominal")
    flow = float(amps[steady][abs(amps[steady]).argmax()]) if steady.any() else 1.0
    plus, minus = pins if flow > 0 else (pins[1], pins[0])
    name = free_name(circuit, "D")
    draft = Draft(circuit.bench.tree.lines)
    places = Places(circuit)
    anode = places.spot_in_net(circuit.pin_net[key, minus])
    cathode = places.spot_in_net(circuit.pin_net[key, plus])
    if anode is None or cathode is None or anode == cathode:
        return
    if "." in anode or "." in cathode:
        draft.add_line(f"part {name} 1N4001").add_line(f"wire {name}.A to {anode}")
        draft.add_line(f"wire {name}.K to {cathode}")
        say = f"add a diode {name} (1N4001) across {part.name}: anode to {anode}, band to {cathode}"
    else:
        draft.add_line(f"part {name} 1N4001 in {anode} {cathode} band {cathode}")
        say = f"add a diode {name} (1N4001) across {part.name}: from {anode} to {cathode}, band at {cathode}"
    yield Candidate(say=say, edits=draft.edits(), effort=3.0, parts=(part.name,), line=part.span.line)


def _common_of_array(circuit: Circuit, found: Found, coil: str) -> Iterator[Candidate]:
    """A driver array's COM, which its diodes lead to, joined to the plus of the coil."""
    array = circuit.bench.part(found.parts[1]) if len(found.parts) > 1 else None
    if array is None or not isinstance(array.entry, Chip) or "COM" not in array.pins:
        return
    common = circuit.pin_net[array.name.lower(), "COM"]
    if not circuit.is_alone(common):
        return
    outputs = {net for (key, pin), net in circuit.pin_net.items() if key == array.name.lower()}
    for pin in circuit.bench.parts[coil].pins:
        net = circuit.pin_net[coil, pin]
        if net not in outputs:
            places = Places(circuit)
            one, other = places.spot_in_net(common), places.spot_in_net(net)
            if one is not None and other is not None:
                draft = Draft(circuit.bench.tree.lines).add_line(f"wire red {one} to {other}")
                yield Candidate(say=f"join COM of {array.name} to the coil's plus: a wire from {one} to {other}",
                                edits=draft.edits(), effort=1.5, parts=(array.name,), points=(one, other),
                                line=array.span.line)
