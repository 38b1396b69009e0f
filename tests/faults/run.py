"""The benchmark of diagnosis: ``python -m tests.faults.run [--circuits N] [--faults N] [--seed S] …``.

Makes faults in correct lists, asks the oracle what each does and the checker what it says, and prints a table a kind of fault.
``--faults`` is how many a list (all of them without it), ``--circuits`` how many lists, ``--only`` a part of their names.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import time
import traceback
from collections.abc import Iterator
from multiprocessing import Pool
from pathlib import Path

import msgspec

from checker import check
from tests.faults.edits import Fault
from tests.faults.generator import doubles, faults
from tests.faults.geometry import NotCovered
from tests.faults.harmless import harmless
from tests.faults.judge import Result, judged
from tests.faults.oracle import outcome
from tests.faults.solve import Unsolved
from tests.faults.table import table

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
FOLDERS = (HERE / "circuits", ROOT / "tests" / "clear", ROOT / "checker" / "examples")


def lists() -> list[Path]:
    """Every correct list: those of the benchmark, of the clear lists, and the examples that announce no finding."""
    return [path for folder in FOLDERS for path in sorted(folder.glob("*.legs")) if "#:" not in path.read_text("utf-8")]


class Job(msgspec.Struct, frozen=True):
    """One list: how many single and double faults (0 singles: all), and which truths the checker is asked about."""

    path: Path
    most: int
    seed: int
    asked: tuple[str, ...] = ("harmful", "dead")
    doubles: int = 0


def one_list(job: Job) -> list[Result]:
    """All results of one list: itself, its harmless changes, its faults."""
    path, most, seed = job.path, job.most, job.seed
    text = path.read_text("utf-8")
    results = [_alarm(path.stem, "correct", path.stem, text)]
    chosen = random.Random(f"{seed} {path.stem}")
    quiet = list(harmless(text))
    results += [_alarm(path.stem, "harmless change", fault.say, fault.text) for fault in _sample(quiet, most // 4, chosen)]
    try:
        base = outcome(text)
    except (NotCovered, Unsolved) as reason:
        return [*results, Result(path.stem, "not covered", str(reason), "unknown")]
    if base.harms:
        return [*results, Result(path.stem, "oracle finds harm in the correct list", str(base.harms[0]), "unknown")]
    for fault in [*_sample(list(faults(text)), most, chosen), *doubles(text, job.doubles, chosen)]:
        try:
            results.append(judged(path.stem, text, base, fault, job.asked))
        except Exception:  # a crash of the checker is a result, and the rest goes on
            results.append(_crash(path.stem, fault))
    return results


def _crash(base: str, fault: Fault) -> Result:
    return Result(base, fault.kind, fault.say, "crash", first=traceback.format_exc()[-600:], text=fault.text)


def _sample(every: list[Fault], most: int, chosen: random.Random) -> list[Fault]:
    return every if most <= 0 or len(every) <= most else chosen.sample(every, most)


def _alarm(base: str, kind: str, say: str, text: str) -> Result:
    began = time.perf_counter()
    try:
        report = check(text)
    except Exception:  # as above
        return Result(base, kind, say, "crash", first=traceback.format_exc()[-600:], text=text)
    first = f"{report.findings[0].severity} {report.findings[0].rule}: {report.findings[0].message}" if report.findings else ""
    return Result(base, kind, say, "clear", verdict=report.verdict, first=first, text=text,
                  seconds=time.perf_counter() - began)


def results_of(jobs: list[Job], workers: int) -> Iterator[Result]:
    """Results, list by list."""
    if workers <= 1:
        for job in jobs:
            yield from one_list(job)
        return
    with Pool(workers) as pool:
        for found in pool.imap_unordered(one_list, jobs):
            yield from found


def main() -> int:
    """Prints the table; the exit status is 1 where a bar is missed."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--circuits", type=int, default=0, help="how many lists (all)")
    asked.add_argument("--faults", type=int, default=0, help="how many faults a list (all)")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="", help="lists whose name holds this")
    asked.add_argument("--ask", default="harmful,dead", help="truths that the checker is asked about: harmful, dead, same")
    asked.add_argument("--double", type=int, default=0, help="how many double faults a list")
    asked.add_argument("--workers", type=int, default=1)
    asked.add_argument("--out", type=Path, help="every result as a line of JSON")
    said = asked.parse_args()
    paths = [path for path in lists() if said.only in path.stem]
    if said.circuits:
        paths = random.Random(said.seed).sample(paths, min(said.circuits, len(paths)))
    began = time.perf_counter()
    results: list[Result] = []
    if said.out:
        said.out.write_text("")
    jobs = [Job(path, said.faults, said.seed, tuple(said.ask.split(",")), said.double) for path in paths]
    for result in results_of(jobs, said.workers):
        results.append(result)
        if said.out:
            with said.out.open("a") as out:
                out.write(json.dumps(msgspec.to_builtins(result)) + "\n")
    text, good = table(results)
    print(text)
    print(f"{len(paths)} lists, {time.perf_counter() - began:.0f} s")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
