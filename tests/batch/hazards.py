"""Work that goes wrong in a worker, for tests: a text that kills its process, one that never ends, one that trips the code.

A worker imports this by name, so it stands in a module of its own and runs anywhere.
"""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Collection, Sequence
from typing import Any

from checker.batch.model import Job, Outcome, Work
from checker.batch.workers import Executor, Task

DEADLY, ENDLESS, TRIPPING, SLOW = b"deadly", b"endless", b"tripping", b"slow"
WELL = "went well"


def check_with_hazards(job: Job, works: Sequence[Work]) -> tuple[Outcome, ...]:
    """An outcome for each text that holds no hazard; its ``problem`` says that it went well."""
    for work in works:
        if DEADLY in work.text:
            time.sleep(1.0)  # As memory that runs out does; a process that is only starting would not be started again.
            os.kill(os.getpid(), signal.SIGKILL)
        if ENDLESS in work.text:
            time.sleep(3600)
        if TRIPPING in work.text:
            raise ValueError("tripped")
        if SLOW in work.text:
            time.sleep(0.1)
    return tuple(Outcome(key=work.key, problem=WELL) for work in works)


class Hazardous:
    """An executor that runs ``check_with_hazards`` whatever it is asked for, and counts how much is in flight."""

    def __init__(self, inner: Executor) -> None:
        self.inner, self.in_flight, self.most = inner, 0, 0

    def capacity(self) -> int:
        return self.inner.capacity()

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task:
        self.in_flight += 1
        self.most = max(self.most, self.in_flight)
        return self.inner.submit(check_with_hazards, *arguments)

    def finished(self, tasks: Collection[Task], seconds: float) -> set[Task]:
        done = self.inner.finished(tasks, seconds)
        self.in_flight -= len(done)
        return done

    def stop(self, task: Task) -> bool:
        stopped = self.inner.stop(task)
        self.in_flight -= stopped
        return stopped

    def lost(self, error: BaseException) -> bool:
        return self.inner.lost(error)

    def close(self) -> None:
        self.inner.close()


def works_of(texts: Sequence[bytes]) -> list[Work]:
    """Works under the keys of a plain job."""
    job = Job()
    return [Work(job.key_of(text), text) for text in texts]
