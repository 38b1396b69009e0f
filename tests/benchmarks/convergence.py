"""How many random circuits are solved, of bare elements and of parts of the library: python -m tests.benchmarks.convergence
[COUNT [SEED]]"""

from __future__ import annotations

import sys
from time import perf_counter

import numpy as np

from checker.operating.operate import operate
from checker.physics import Status, solve
from parts_library import load_library
from tests.physics.drawn import drawn_circuits
from tests.physics.senseless import senseless_circuits

CHUNK, PARTS_CHUNK = 1000, 100


def main(count: int, seed: int) -> int:
    """Print what became of ``count`` circuits of either kind; 0 if all were solved."""
    return max(of_elements(count, seed), of_parts(count, seed))


def of_parts(count: int, seed: int) -> int:
    """Circuits drawn from the library, at all their points."""
    library, solved, points, begin = load_library(None), 0, 0, perf_counter()
    for first in range(0, count, PARTS_CHUNK):
        for number, one in enumerate(operate(drawn_circuits(seed + first, min(PARTS_CHUNK, count - first), library))):
            points += len(one.points)
            solved += bool(one.converged.all())
            if not one.converged.all():
                print(f"seed {seed + first} circuit {number}: {int((~one.converged).sum())} points not solved")
    print(f"library: {solved} of {count} circuits solved at all of {points} points in {perf_counter() - begin:.1f} s")
    return int(solved < count)


def of_elements(count: int, seed: int) -> int:
    """Senseless circuits of bare elements."""
    statuses, iterations, residuals, seconds = [], [], [], 0.0
    for first in range(0, count, CHUNK):
        stack = senseless_circuits(seed + first, min(CHUNK, count - first))
        begin = perf_counter()
        solution = solve(stack)
        seconds += perf_counter() - begin
        statuses.append(solution.status)
        iterations.append(solution.iterations)
        residuals.append(solution.residual)
        for member in np.flatnonzero(solution.status):
            print(f"seed {seed + first} member {member}: {Status(solution.status[member]).name.lower()}")
    spent = np.concatenate(iterations)
    percentiles = ", ".join(f"{share} % {np.percentile(spent, share):.0f}" for share in (50, 90, 99, 100))
    solved = int((np.concatenate(statuses) == Status.CONVERGED).sum())
    print(f"elements: {solved} of {count} circuits solved in {seconds:.1f} s; iterations: {percentiles}")
    print(f"largest residual {np.nanmax(np.concatenate(residuals)):.1e} A")
    return int(solved < count)


if __name__ == "__main__":
    given = [int(argument) for argument in sys.argv[1:]]
    sys.exit(main(*(given + [10_000, 100_000][len(given) :])))
