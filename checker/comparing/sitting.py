"""How a part could sit otherwise as a whole: turned round, or all of it a row further up or down.

Input: the given form and a part. Output: for each way the nets that its pins would have. A chip that is counted in from the
wrong row has every leg wrong, and is one thing to do.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.circuit.model import Circuit, Conductor
from checker.comparing.form import Form, pin_nets
from checker.seating.model import Spot
from checker.seating.seat import plan_for
from grammar.syntax_tree import Hole
from parts_library.schema import Switch

FEWEST_LEGS = 3
"""With fewer legs each of them is a movement of its own."""

STEPS = (("down", 1), ("up", -1))
"""By how many rows a part is moved to put it right."""

Nets = dict[tuple[str, str], int]


def can_sit_otherwise(form: Form, key: str) -> bool:
    """True for a part on the board with legs enough to be counted in as a whole."""
    circuit = form.circuit
    return key in circuit.reading.seats and len(circuit.bench.parts[key].pins) >= FEWEST_LEGS


def ways_to_sit(form: Form, key: str) -> Iterator[tuple[str, Nets]]:
    """Name and nets of every other way in which a part on the board could sit."""
    circuit = form.circuit
    part = circuit.bench.parts[key]
    if not can_sit_otherwise(form, key):
        return
    nets = pin_nets(form)
    if len(part.pins) > FEWEST_LEGS and not isinstance(part.entry, Switch):
        yield "turned", {**nets, **_turned(circuit, key, nets)}
    for how, step in STEPS:
        yield how, {**nets, **_shifted(circuit, key, nets, step)}


def _turned(circuit: Circuit, key: str, nets: Nets) -> Nets:
    """With two rows of legs pin 1 goes where the first of the other row was, with one row where the last was."""
    entry = circuit.bench.parts[key].entry
    package = circuit.bench.library.packages.get(entry.package) if entry is not None else None
    pins = circuit.bench.parts[key].pins
    half = len(pins) // 2
    others = pins[half:] + pins[:half] if package is not None and package.form == "dip" else pins[::-1]
    return {(key, pin): nets[key, other] for pin, other in zip(pins, others)}


def _shifted(circuit: Circuit, key: str, nets: Nets, step: int) -> Nets:
    """Every leg on the net of the strip so many rows on; a strip with nothing in it is a net of its own."""
    known = {conductor: nets[pin] for pin, conductor in circuit.conductor_of.items() if pin in nets and pin[0] != key}
    fresh = max(max(circuit.members, default=0), *nets.values()) + 1
    shifted: Nets = {}
    for number, (pin, spot) in enumerate(circuit.reading.seats[key].legs.items()):
        conductor = _strip(circuit, spot, step)
        shifted[key, pin] = known.get(conductor, circuit.net_of.get(conductor, fresh + number)) \
            if conductor is not None else fresh + number
    return shifted


def _strip(circuit: Circuit, spot: Spot, step: int) -> Conductor | None:
    plan = plan_for(circuit.reading.plans, spot)
    if plan is None or not isinstance(spot, Hole):
        return None
    hole = structs.replace(spot, row=spot.row + step)
    return plan.strip(hole) if plan.has_hole(hole) else None
