"""What a batch costs: python -m tests.benchmarks.batch [COUNT [SEED]]

The lists are shipped examples with one slip of the hand in each, all different (``tests.batch.classroom``). Printed are
what a batch costs beside checking each list by itself in a warm process, two workers against one, lists a second and core,
and what the parent process needs, memory and time, at a quarter of the lists, at all of them and at four times as many (each
in a process of its own, with outcomes that are replayed, since the checking is done elsewhere). Nothing else should be
running; where something is, a core's time says more than the clock.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

from msgspec import structs

from checker.batch import Options, Submission, default_scheme, run_batch
from checker.batch.driving import outcomes_of
from checker.batch.judging import check_chunk
from checker.batch.model import Job, Outcome, Work
from checker.batch.workers import Here, Lanes, Task
from tests.batch.classroom import mutations

WARM = 60
"""Lists that are checked one by one, for comparison: they cost as much each as the rest do."""


def works_of(texts: Sequence[str]) -> list[Work]:
    job = Job()
    return [Work(job.key_of(text.encode()), text.encode()) for text in texts]


def warmed(workers: int) -> Lanes:
    """Lanes whose processes have imported and read all they need."""
    lanes = Lanes(workers)
    spare = works_of(mutations(2 * workers, seed=99))
    list(outcomes_of(spare, Job(), lanes))
    return lanes


def seconds(works: Sequence[Work], workers: int) -> tuple[float, float]:
    """How long a number of warm processes take, and how much of a core's time the first of them and this one spend."""
    lanes = warmed(workers)
    begin, busy = perf_counter(), process_time() + lanes.submit(process_time).result()
    assert len(list(outcomes_of(works, Job(), lanes))) == len(works)
    spent, busy = perf_counter() - begin, process_time() + lanes.submit(process_time).result() - busy
    lanes.close()
    return spent, busy


def alone(works: Sequence[Work]) -> float:
    """A core's time for each by itself in this process, warm."""
    check_chunk(Job(), works[:1])
    begin = process_time()
    for work in works:
        check_chunk(Job(), [work])
    return process_time() - begin


class Replaying(Here):
    """Gives the outcomes of a few lists over and over: what the parent process does with them is all the same to it."""

    def __init__(self) -> None:
        self.known = check_chunk(Job(), works_of(mutations(12, seed=3)))

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task:
        return super().submit(self._replayed, *arguments)

    def _replayed(self, job: Job, works: Sequence[Work]) -> tuple[Outcome, ...]:
        return tuple(structs.replace(self.known[work.key[0] % len(self.known)], key=work.key) for work in works)


def memory(count: int) -> None:
    """Print the megabytes of this process before and after a whole batch of ``count`` different lists, and its seconds."""
    executor = Replaying()
    people = (Submission(name=f"person {number}", file=f"{number}.legs", text=b"# list %d\n" % number + b"wire a1 to a2\n" * 40)
              for number in range(count))
    with tempfile.TemporaryDirectory() as folder:
        before, begin = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, process_time()
        run_batch(people, Options(feedback="markdown", scheme=default_scheme()), out=Path(folder), executor=executor)
        after, spent = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, process_time() - begin
        print(f"{count} lists: {before / 1024:.0f} MB before, {after / 1024:.0f} MB at most; "
              f"{1e3 * spent / count:.1f} ms of a core each for all but the checking")


def main(count: int, seed: int) -> None:
    """Print one line a question."""
    works = works_of(mutations(count, seed))
    few = works[:min(WARM, count)]
    single, chunked = alone(few), seconds(few, 1)[1]
    print(f"{len(few)} lists one by one, warm, in this process: {1e3 * single / len(few):.0f} ms of a core each; "
          f"in a batch of one worker, both processes: {1e3 * chunked / len(few):.0f} ms: {chunked / single - 1:+.0%}", flush=True)
    quarter = works[:max(count // 4, 1)]
    (one, busy), (two, half) = seconds(quarter, 1), seconds(quarter, 2)
    print(f"{len(quarter)} lists: one worker {one:.1f} s, two {two:.1f} s: {one / two:.2f} times as fast; by the core's time of "
          f"the first and this process {busy:.1f} s and {half:.1f} s: {busy / half:.2f} times", flush=True)
    print(f"{len(quarter) / busy:.2f} lists a second of a core's time", flush=True)
    for size in (max(count // 4, 1), count, 4 * count):
        subprocess.run([sys.executable, "-m", "tests.benchmarks.batch", "memory", str(size)], check=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["memory"]:
        memory(int(sys.argv[2]))
    else:
        given = [int(argument) for argument in sys.argv[1:]]
        main(*(given + [1000, 1][len(given):]))
