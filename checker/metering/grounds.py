"""Where the black probe goes: each side of a relay or an optocoupler is measured from its own minus."""

from __future__ import annotations

from checker.circuit.model import Circuit
from checker.operating.islands import islands_of
from checker.physics import Stack


def references(circuit: Circuit, stack: Stack, net_nodes: dict[int, int]) -> dict[int, int]:
    """For each net the net of the black probe: the first ground of its island (controllers' GND, then supplies' minus); nets
    without any are left out."""
    island = {net: number for number, nets in enumerate(islands_of(stack, net_nodes)) for net in nets}
    ground: dict[int, int] = {}
    for net in _grounds(circuit):
        if net in island:
            ground.setdefault(island[net], net)
    return {net: ground[number] for net, number in island.items() if number in ground}


def _grounds(circuit: Circuit) -> list[int]:
    parts = circuit.bench.parts.items()
    return [circuit.pin_net[key, "GND"] for key, part in parts if part.is_controller] + [
        circuit.pin_net[key, "-"] for key, part in parts if part.is_supply and (key, "-") in circuit.touched]
