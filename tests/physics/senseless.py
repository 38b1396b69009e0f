"""Random circuits without any sense: whatever a hand could plug in, and worse.

Each member draws its own number of nodes and elements of every kind; terminals land anywhere, so elements are reversed,
shorted, in parallel, afloat. Sources 1.5 to 24 V, resistances 1 ohm to 1 megohm, some nodes joined by 0.05 ohm. Only
what a controlled current senses is kept apart (a lamp on a source of its own, as in an optocoupler): wired at random
it would be an amplifier without rails, and such a circuit need not have a solution.
"""

from __future__ import annotations

import numpy as np

from checker.physics import (
    Bipolars,
    Channels,
    Conductances,
    Drivers,
    Forced,
    Junctions,
    Sources,
    Stack,
    Transfers,
    stacked,
)

SHORT_SIEMENS = 20.0


def senseless_circuits(seed: int, members: int) -> Stack:
    """``members`` random circuits, the same for the same seed."""
    random = np.random.default_rng(seed)
    return stacked([senseless_circuit(random) for _ in range(members)])


def senseless_circuit(random: np.random.Generator) -> Stack:
    """One random circuit of 4 to 20 nodes."""
    nodes = int(random.integers(4, 21))

    def places(count: int, terminals: int) -> np.ndarray:
        return random.integers(0, nodes, (1, count, terminals))

    def some(most: int) -> int:
        return int(random.integers(0, most + 1))

    def even(count: int, low: float, high: float) -> np.ndarray:
        return random.uniform(low, high, (1, count))

    def decades(count: int, low: float, high: float) -> np.ndarray:
        return np.exp(random.uniform(np.log(low), np.log(high), (1, count)))

    def either(count: int, *choices: float) -> np.ndarray:
        return random.choice(choices, (1, count))

    resistors, shorts = nodes + some(nodes), some(3)
    siemens = np.concatenate((1.0 / decades(resistors, 1.0, 1e6), np.full((1, shorts), SHORT_SIEMENS)), axis=1)
    sources, forced, junctions, bipolars = 1 + some(3), some(1), some(8), some(4)
    channels, transfers, drivers = some(3), some(1), some(2)

    def with_lamp(random_places: np.ndarray) -> np.ndarray:
        return np.concatenate((random_places, np.full((1, transfers, 2), (nodes, 0))), axis=1)

    sources_at, junctions_at = with_lamp(places(sources, 2)), with_lamp(places(junctions, 2))
    outputs = np.concatenate((np.full((1, transfers, 2), (nodes, 0)), places(transfers, 2)), axis=2)
    sources, junctions = sources + transfers, junctions + transfers
    return Stack.of(
        nodes + transfers,
        1,
        Conductances(places(resistors + shorts, 2), siemens),
        Sources(
            sources_at,
            either(sources, 1.5, 3.3, 5.0, 9.0, 12.0, 24.0) * even(sources, 0.95, 1.05),
            decades(sources, 0.05, 25.0),
            either(sources, np.inf, np.inf, 0.02, 0.5, 2.0),
        ),
        Forced(places(forced, 2), even(forced, 0.0, 0.3)),
        Junctions(
            junctions_at,
            decades(junctions, 1e-20, 1e-8),
            even(junctions, 0.025, 0.08),
            decades(junctions, 0.02, 20.0),
            either(junctions, 3.3, 5.1, 6.0, 50.0, 100.0, np.inf),
            even(junctions, 0.02, 0.1),
            decades(junctions, 0.5, 50.0),
            decades(junctions, 1e-5, 5e-3),
        ),
        Bipolars(
            places(bipolars, 3),
            either(bipolars, 1.0, -1.0),
            decades(bipolars, 1e-16, 1e-11),
            even(bipolars, 0.0255, 0.035),
            decades(bipolars, 15.0, 5e3),
            even(bipolars, 0.5, 20.0),
            either(bipolars, np.inf, 0.1, 0.5, 5.0),
        ),
        Channels(
            places(channels, 3),
            either(channels, 1.0, -1.0),
            decades(channels, 1e-3, 20.0),
            even(channels, 0.7, 4.0),
            even(channels, 0.05, 0.2),
        ),
        Transfers(outputs, decades(transfers, 1e-6, 1e-2)),
        Drivers(
            places(drivers, 5),
            either(drivers, 0.0, 0.0, 1e3, 1e5),
            either(drivers, 0.0, 1.25, 3.3, 5.0),
            either(drivers, 0.0, 0.2, 1.5, 2.0),
            either(drivers, 0.0, 0.05, 1.0),
            decades(drivers, 0.01, 10.0),
            either(drivers, 0.0, 0.02, 1.0),
            either(drivers, 0.0, 0.02, 0.2),
        ),
    )
