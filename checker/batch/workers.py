"""Where chunks are checked: the seam between a batch and the processes that work for it.

An ``Executor`` takes a call and gives a future; ``finished`` waits for the first of several; ``stop`` ends the process that runs
one. The futures are those of ``concurrent.futures``, whose interface distributed engines share. ``Lanes`` is the executor of
this machine: one process a lane, each in a pool of its own, so that a process that dies takes only its own call with it.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Collection, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import connection, get_context, parent_process
from typing import Any, Protocol

from checker.process import ONE_THREAD


class Task(Protocol):
    """One call on its way."""

    def result(self, timeout: float | None = None) -> Any: ...


class Executor(Protocol):
    """Runs calls elsewhere.

    1. ``capacity`` is how many calls run at once, now; the caller keeps no more in flight.
    2. ``submit`` sends a call; function and arguments can be pickled.
    3. ``finished`` gives those that are done, after at most so many seconds.
    4. ``stop`` ends the process that runs a task, which is then not asked for again; False where the task is not running
       yet, and waits on.
    5. ``lost`` tells from a task's error that its process ended, rather than the call itself.
    6. ``close`` ends everything.
    """

    def capacity(self) -> int: ...

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task: ...

    def finished(self, tasks: Collection[Task], seconds: float) -> set[Task]: ...

    def stop(self, task: Task) -> bool: ...

    def lost(self, error: BaseException) -> bool: ...

    def close(self) -> None: ...


class Here:
    """Runs each call in this process when it is submitted: for one list, and where no process may be started. It can stop
    nothing, so there is no patience to lose."""

    def capacity(self) -> int:
        return 1

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task:
        future: Future[Any] = Future()
        try:
            future.set_result(function(*arguments))
        except Exception as problem:
            future.set_exception(problem)
        return future

    def finished(self, tasks: Collection[Task], seconds: float) -> set[Task]:
        return set(tasks)

    def stop(self, task: Task) -> bool:
        return True

    def lost(self, error: BaseException) -> bool:
        return False

    def close(self) -> None:
        """Nothing is open."""


class _Lane:
    """One process, started when it is first needed and again after it was lost."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None
        self._process: Future[int] | None = None
        self.task: Future[Any] | None = None

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Future[Any]:
        try:
            self.task = self._started().submit(function, *arguments)
        except BrokenProcessPool:
            self.close()
            self.task = self._started().submit(function, *arguments)
        return self.task

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is None:
            with _one_thread_each():
                self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_settle_in)
                self._process = self._pool.submit(os.getpid)
        return self._pool

    def stop(self) -> None:
        """End the process, whatever it is doing."""
        process = self._process
        if process is not None and process.done() and process.exception() is None:
            with contextlib.suppress(OSError):
                os.kill(process.result(), getattr(signal, "SIGKILL", signal.SIGTERM))
        self.close()

    def close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
        self._pool = self._process = self.task = None


class Lanes:
    """So many processes of this machine."""

    def __init__(self, workers: int) -> None:
        self._lanes = [_Lane() for _ in range(max(1, workers))]

    def capacity(self) -> int:
        return len(self._lanes)

    def submit(self, function: Callable[..., Any], *arguments: Any) -> Task:
        free = next(lane for lane in self._lanes if lane.task is None or lane.task.done())
        return free.submit(function, *arguments)

    def finished(self, tasks: Collection[Task], seconds: float) -> set[Task]:
        futures = [task for task in tasks if isinstance(task, Future)]
        return set(wait(futures, timeout=max(0.0, seconds), return_when=FIRST_COMPLETED).done)

    def stop(self, task: Task) -> bool:
        for lane in self._lanes:
            if lane.task is task:
                lane.stop()
        return True

    def lost(self, error: BaseException) -> bool:
        return isinstance(error, BrokenProcessPool)

    def close(self) -> None:
        for lane in self._lanes:
            if lane.task is not None and not lane.task.done():
                lane.stop()
            lane.close()


@contextlib.contextmanager
def _one_thread_each() -> Iterator[None]:
    """Processes started meanwhile load their linear algebra with one thread; this process keeps its own setting."""
    before = {name: os.environ.get(name) for name in ONE_THREAD}
    os.environ.update(ONE_THREAD)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def _settle_in() -> None:
    """In a new process: the keyboard is the parent's, and without a parent there is nothing left to do."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    connection.wait([sentinel])
    os._exit(1)


def cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
