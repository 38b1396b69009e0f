"""What a command costs from a standing start, and a check once all is warm: ``python -m tests.benchmarks.cold [--runs N]``.

Ratios within one run: a cold ``check`` of a small list against importing networkx, lark, rich and numpy alone (pairs, taken in
turn); the parts library's share of it; a warm check of a list of twenty parts against reading its text.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

from checker import check
from checker.examples import text_of
from grammar import reader

ROOT = Path(__file__).parents[2]
SMALL, LARGE = "branch-line-signal", "score-board"
IMPORTS = "import networkx, lark, rich, numpy"
LOAD = """
import time
from parts_library import load_library
began = time.process_time()
load_library()
print(time.process_time() - began)
"""


def child_seconds(*arguments: str, given: str = "") -> float:
    """Processor seconds of one run of this Python."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], input=given, text=True, cwd=ROOT, capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime + after.ru_stime) - (before.ru_utime + before.ru_stime)


def library_seconds() -> float:
    """Processor seconds of loading the parts library in a process of its own."""
    done = subprocess.run([sys.executable, "-c", LOAD], cwd=ROOT, capture_output=True, text=True, check=True)
    return float(done.stdout)


def warm_seconds(text: str, runs: int) -> tuple[float, float]:
    """Processor seconds of a check and of bare reading, nothing remembered of the text."""
    checks, reads = [], []
    for _ in range(runs):
        began = time.process_time()
        check(text)
        checks.append(time.process_time() - began)
        for remembered in (reader._read, reader._read_line_at, reader._read_line):
            remembered.cache_clear()
        began = time.process_time()
        reader.read(text)
        reads.append(time.process_time() - began)
    return median(checks), median(reads)


def main() -> None:
    """Prints the ratios."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--runs", type=int, default=7)
    runs = asked.parse_args().runs
    pairs = [(child_seconds("-m", "checker", "check", "-", given=text_of(SMALL)), child_seconds("-c", IMPORTS))
             for _ in range(runs)]
    cold, bare = median(c for c, _ in pairs), median(b for _, b in pairs)
    library = median(library_seconds() for _ in range(runs))
    print(f"cold check of {SMALL}: {cold * 1e3:.0f} ms; importing the four libraries: {bare * 1e3:.0f} ms; "
          f"ratio {median(c / b for c, b in pairs):.2f}")
    print(f"the parts library's share of the cold check: {100 * library / cold:.1f} % ({library * 1e3:.1f} ms)")
    text = text_of(LARGE)
    check(text)
    checked, read = warm_seconds(text, runs)
    print(f"warm check of {LARGE}: {checked * 1e3:.1f} ms, {checked / read:.0f} times its bare reading ({read * 1e3:.2f} ms)")


if __name__ == "__main__":
    main()
