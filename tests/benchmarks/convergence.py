"""How many senseless circuits are solved, and in how many iterations: python -m tests.benchmarks.convergence [COUNT
[SEED]]"""

from __future__ import annotations

import sys
from time import perf_counter

import numpy as np

from checker.physics import Status, solve
from tests.physics.senseless import senseless_circuits

CHUNK = 1000


def main(count: int, seed: int) -> int:
    """Print what became of ``count`` circuits; 0 if all were solved."""
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
    print(f"{solved} of {count} solved in {seconds:.1f} s; iterations: {percentiles}")
    print(f"largest residual {np.nanmax(np.concatenate(residuals)):.1e} A")
    return int(solved < count)


if __name__ == "__main__":
    given = [int(argument) for argument in sys.argv[1:]]
    sys.exit(main(*(given + [10_000, 100_000][len(given) :])))
