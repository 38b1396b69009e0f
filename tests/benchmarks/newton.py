"""What a point costs in bare matrix solves: python -m tests.benchmarks.newton

Each member is a state of a board of switched loads, 1 to 71 of them (7 to 497 parts, 8 to 428 nodes): a pin drives an NPN
transistor through a base resistor, the transistor an LED with its resistor and a motor with its clamp diode; the values
are drawn anew for each member. The ratio is the time of `solve`, over the iterations it took, to that of a bare
`numpy.linalg.solve` of the same size. For one state of a small board Python's own steps, some 0.2 ms an iteration, are
nearly all of it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from time import perf_counter

import numpy as np

from checker.physics import Bipolars, Conductances, Junctions, Sources, Stack, solve

PARTS = 7
ROUNDS = 5
MOST_NUMBERS = 2_000_000
MOST_STAGES = 20_000


def boards(members: int, stages: int = 5, seed: int = 20) -> Stack:
    """``members`` boards: node 1 the supply, six nodes a stage (pin, base, collector, LED, emitter, motor)."""
    random = np.random.default_rng(seed)
    links, pins, junctions, transistors = [], [], [], []
    for stage in range(stages):
        pin, base, collector, led, emitter, motor = range(2 + 6 * stage, 8 + 6 * stage)
        links += [(pin, base), (1, led), (emitter, 0), (1, motor), (motor, collector), (base, 0)]
        pins.append((pin, 0))
        junctions += [(led, collector), (collector, 1), (0, pin), (0, base)]
        transistors.append((collector, base, emitter))

    def nodes(places: Sequence[tuple[int, ...]]) -> np.ndarray:
        return np.broadcast_to(np.array(places), (members, len(places), len(places[0])))

    def about(*values: float, times: int = stages) -> np.ndarray:
        return np.tile(values, times) * random.uniform(0.9, 1.1, (members, times * len(values)))

    return Stack.of(
        2 + 6 * stages,
        members,
        Conductances(nodes(links), 1.0 / about(1e3, 220.0, 0.1, 5.0, 85.0, 1e5)),
        Sources(
            nodes([(1, 0), *pins]),
            np.concatenate((about(9.0, times=1), 5.0 * random.integers(0, 2, (members, stages))), axis=1),
            np.concatenate((about(1.7, times=1), about(25.0)), axis=1),
            np.full((members, 1 + stages), np.inf),
        ),
        Junctions(
            nodes(junctions),
            about(1e-18, 1e-9, 1e-14, 1e-15),
            about(0.05, 0.045, 0.026, 0.026),
            about(3.0, 0.05, 10.0, 1.0),
            about(5.0, 50.0, 60.0, 6.0),
            about(0.05, 0.05, 0.05, 0.05),
            about(10.0, 1.0, 1.0, 5.0),
            about(1e-3, 1e-3, 1e-3, 1e-3),
        ),
        Bipolars(
            nodes(transistors),
            np.ones((members, stages)),
            about(1e-14),
            about(0.026),
            about(200.0),
            about(5.0),
            about(0.6),
        ),
    )


def seconds(work: Callable[[], object]) -> float:
    """The shortest of a few runs."""
    times = []
    for _ in range(ROUNDS):
        begin = perf_counter()
        work()
        times.append(perf_counter() - begin)
    return min(times)


def line(members: int, stages: int) -> str:
    """One row of the table: a batch of so many boards of so many stages."""
    stack = boards(members, stages)
    solution = solve(stack)
    nodes = stack.nodes - 1
    chunk = max(min(members, MOST_NUMBERS // nodes**2), 1)
    random = np.random.default_rng(0)
    matrices = random.normal(size=(chunk, nodes, nodes)) + 10.0 * np.eye(nodes)
    right = random.normal(size=(chunk, nodes, 1))
    bare = seconds(partial(np.linalg.solve, matrices, right)) / chunk
    point = seconds(partial(solve, stack)) / members
    mean = float(solution.iterations.mean())
    failed = int((solution.status != 0).sum())
    return (
        f"{members:6d} {stages * PARTS:6d} {nodes:6d} {mean:6.1f} {solution.iterations.max():5d}  {1e6 * bare:10.1f}"
        f" {1e6 * point:10.1f} {1e6 * point / mean:10.1f}  {point / mean / bare:6.2f}"
        f"{f'  {failed} NOT CONVERGED' if failed else ''}"
    )


def main() -> None:
    """Print one line for each size of batch and of board."""
    print("states  parts  nodes  iterations   bare solve   a point  an iteration   ratio (wanted: at most 3)")
    print("                      mean  most           us         us         us")
    for stages in (1, 5, 10, 20, 50, 71):
        for members in (1, 10, 100, 1000):
            if members * stages <= MOST_STAGES:
                print(line(members, stages), flush=True)


if __name__ == "__main__":
    main()
