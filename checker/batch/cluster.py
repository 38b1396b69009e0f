"""A cluster as an executor: the same calls, on the workers of a dask scheduler.

Input: the address of a scheduler (``tcp://host:8786``). Each worker needs legwise installed, in the same version. A worker that
is lost gives its calls to the others by itself; only a call that costs several workers comes back as lost. Needs the
extra ``cluster``.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection
from contextlib import suppress
from time import monotonic
from typing import Any

import distributed
from distributed.scheduler import KilledWorker

from checker.batch.model import SourceError
from checker.batch.workers import Task
from checker.version import VERSION

_ENGINE: Any = distributed
"""The engine without its types: it has none for most of what is used here."""

_SECONDS_TO_CONNECT = 20
_SECONDS_WITHOUT_WORKERS = 120
"""How long a cluster may be without workers (they may be starting anew) before the batch gives up."""


class Cluster:
    """The workers of a scheduler, however many there are at the moment."""

    def __init__(self, address: str) -> None:
        """Raises SourceError where no scheduler answers, or a worker runs another version of legwise."""
        try:
            self._client = _ENGINE.Client(address, timeout=_SECONDS_TO_CONNECT, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as problem:
            raise SourceError(f"no cluster answers at {address}: {problem}") from None
        self._last_seen = monotonic()
        other = {where: found for where, found in self._client.run(_version).items() if found != VERSION}
        if other:
            where, found = next(iter(other.items()))
            self._client.close()
            raise SourceError(f"the worker at {where} has legwise {found}, here it is {VERSION}")

    def capacity(self) -> int:
        """One call a thread: what is in flight then runs, so that its time can be measured. Raises SourceError where there has
        been no worker for two minutes."""
        threads: dict[str, int] = self._client.nthreads()
        now = monotonic()
        self._last_seen = now if threads else self._last_seen
        if now - self._last_seen > _SECONDS_WITHOUT_WORKERS:
            raise SourceError("the cluster has lost all its workers")
        return max(1, sum(threads.values()))

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task:
        task: Task = self._client.submit(function, *arguments, pure=False)
        return task

    def finished(self, tasks: Collection[Task], seconds: float) -> set[Task]:
        with self._client.as_current(), suppress(TimeoutError):
            return set(_ENGINE.wait(list(tasks), timeout=max(seconds, 0.01), return_when="FIRST_COMPLETED").done)
        return set()

    def stop(self, task: Task) -> bool:
        """The worker that runs it ends, and its nanny starts another; what else it was doing goes to others. A call that still
        waits for its turn, as those of a lost worker do, waits on."""
        assert isinstance(task, distributed.Future)
        running = [where for where, stacks in self._client.call_stack([task]).items() if str(task.key) in map(str, stacks)]
        if running:
            self._client.cancel([task], force=True)
            self._client.run(_end, workers=running, wait=False)
        return bool(running)

    def lost(self, error: BaseException) -> bool:
        return isinstance(error, KilledWorker)

    def close(self) -> None:
        self._client.close()


def _version() -> str:
    return VERSION


async def _end() -> None:
    """In a worker: its event loop runs this while the call that hangs runs in a thread."""
    os._exit(1)
