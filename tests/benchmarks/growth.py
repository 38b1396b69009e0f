"""How the cost of a check grows with the list: python -m tests.benchmarks.growth [MOST PARTS]

Correct lists in three styles (see `large_lists`), 5 to 500 parts. Printed are the seconds of processor time that one warm
check takes, and the exponent of the power of the number of parts that fits best; wanted is at most 1.2. A faulty list
follows: one lamp of each list is put in the wrong way round, and candidates for a fix are proven too.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import process_time

import numpy as np

from checker.checking import examine
from tests.benchmarks.large_lists import STYLES

SIZES = (5, 10, 20, 50, 100, 200, 500)
WANTED = 1.2


def cost(text: str) -> tuple[int, float, str]:
    """Parts, seconds of the quickest of three checks, verdict."""
    seconds, parts, verdict = [], 0, ""
    for _ in range(3):
        begin = process_time()
        report, surveyed = examine(text)
        seconds.append(process_time() - begin)
        parts, verdict = len(surveyed.bench.parts), report.verdict
    return parts, min(seconds), verdict


def turned(text: str) -> str:
    """The same list with the first lamp the wrong way round, or the last lead loose where there is none."""
    lines = text.splitlines()
    lamp = next((i for i, line in enumerate(lines) if " led " in line), None)
    if lamp is None:
        return "\n".join(lines[:-1])
    words = lines[lamp].split()
    other = words[5] if words[-1] == words[6] else words[6]
    lines[lamp] = " ".join((*words[:-1], other))
    return "\n".join(lines)


def measure(most: int, change: Callable[[str], str]) -> None:
    """One line a style: milliseconds at each size, and the exponent."""
    for style, make in STYLES.items():
        sizes, times, verdicts = [], [], set()
        for size in (size for size in SIZES if size <= most):
            parts, seconds, verdict = cost(change(make(size)))
            sizes.append(parts)
            times.append(seconds)
            verdicts.add(verdict)
        exponent = float(np.polyfit(np.log(sizes), np.log(times), 1)[0])
        steps = "  ".join(f"{parts}: {1e3 * seconds:.0f}" for parts, seconds in zip(sizes, times, strict=True))
        print(f"{style:9s} {', '.join(sorted(verdicts)):13s} exponent {exponent:4.2f} (wanted at most {WANTED})   ms at {steps}",
              flush=True)


def main(most: int) -> None:
    """Print correct lists, then faulty ones."""
    measure(most, str)
    measure(most, turned)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1])
