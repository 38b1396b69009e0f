"""Driving: every text checked once, by whichever process is free, and nothing lost when one dies.

Input: texts and an executor. Output: outcomes, in the order in which they are ready. No more is in flight than the executor
can run, so memory does not grow with the number of texts. A chunk whose process ended or that took too long is tried again
list by list; the list that does it again is named in its own outcome.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from time import monotonic

from msgspec import Struct

from checker.batch.judging import check_chunk, failed
from checker.batch.model import Job, Outcome, Work
from checker.batch.workers import Executor, Task

PATIENCE = 60.0
"""Seconds that one list may take: the largest circuits that were tried take two."""

CHUNK = 4
"""Lists that are solved as one stack. More gain little, since most of a list's time goes into its fixes, and the end of a
batch would wait longer for its last chunk."""

LONG_PATIENCE = 20.0
"""Below so many seconds each list is a chunk of its own: what is stopped is then one list, not four."""

_LONGEST_WAIT = 1.0


class Chunk(Struct, frozen=True):
    """Texts that are checked together; ``alone`` once they were tried again after something went wrong."""

    works: tuple[Work, ...]
    alone: bool = False


class _Flight(Struct):
    """A chunk on its way, and when it must be back."""

    chunk: Chunk
    due: float


def outcomes_of(works: Iterable[Work], job: Job, executor: Executor, patience: float = PATIENCE) -> Iterator[Outcome]:
    """The outcome of each work. ``patience`` is in seconds a list."""
    return _Drive(works, job, executor, patience).outcomes()


class _Drive:
    """Holds what a drive needs: what is still to do, and what is in flight."""

    def __init__(self, works: Iterable[Work], job: Job, executor: Executor, patience: float) -> None:
        self.job, self.executor, self.patience = job, executor, patience
        self.waiting = iter(works)
        self.size = CHUNK if patience >= LONG_PATIENCE else 1
        self.again: deque[Chunk] = deque()
        self.flying: dict[Task, _Flight] = {}
        self.capacity = 0

    def outcomes(self) -> Iterator[Outcome]:
        while True:
            self._fill()
            if not self.flying:
                return
            for task in self.executor.finished(tuple(self.flying), self._seconds_left()):
                yield from self._landed(task, self.flying.pop(task).chunk)
            yield from self._overdue()

    def _fill(self) -> None:
        capacity = self.executor.capacity()
        if capacity < self.capacity:
            # Those of the processes that are gone wait their turn again, which is not their fault.
            for flight in self.flying.values():
                flight.due = monotonic() + self.patience
        self.capacity = capacity
        while len(self.flying) < capacity and (chunk := self._next()) is not None:
            task = self.executor.submit(check_chunk, self.job, chunk.works)
            self.flying[task] = _Flight(chunk, monotonic() + self.patience)

    def _next(self) -> Chunk | None:
        if self.again:
            return self.again.popleft()
        works = tuple(islice(self.waiting, self.size))
        return Chunk(works) if works else None

    def _seconds_left(self) -> float:
        return max(0.0, min(_LONGEST_WAIT, min(flight.due for flight in self.flying.values()) - monotonic()))

    def _landed(self, task: Task, chunk: Chunk) -> Sequence[Outcome]:
        try:
            return tuple(task.result())
        except Exception as problem:
            if not self.executor.lost(problem):
                return [failed(work, problem) for work in chunk.works]
        if chunk.alone:
            return [Outcome(key=work.key, problem="the process that checked it ended twice, perhaps for want of memory")
                    for work in chunk.works]
        self._once_more(chunk)
        return ()

    def _overdue(self) -> Iterator[Outcome]:
        now = monotonic()
        for task, flight in [(task, flight) for task, flight in self.flying.items() if flight.due <= now]:
            if not self.executor.stop(task):
                flight.due = now + self.patience
                continue
            del self.flying[task]
            if len(flight.chunk.works) > 1:
                self._once_more(flight.chunk)
            else:
                yield from (Outcome(key=work.key, problem=f"it took longer than {self.patience:g} s and was stopped")
                            for work in flight.chunk.works)

    def _once_more(self, chunk: Chunk) -> None:
        self.again.extend(Chunk((work,), alone=True) for work in chunk.works)
