"""A small pool of processes that do the checking, so that no list can hold up the server or the lists of others.

Input: the name of a job of ``checker.web.jobs`` and its bytes. Output: its status and bytes. Each process does one job at
a time and is ended and replaced when the job passes its deadline or the process dies. What cannot start at once waits in
a queue with a bound; beyond it a job is refused at once, which tells the reader to ask again. No library is used: the
pools of the standard library cannot end one process for one job.
"""

from __future__ import annotations

import asyncio
import math
import os
import signal
import struct
import sys
from asyncio.subprocess import PIPE, Process
from contextlib import suppress

from checker.process import ONE_THREAD
from checker.web.problems import Problem

HEAD = struct.Struct(">HI")
"""What comes before a frame: of a request the length of the job's name, of an answer its status; then the length."""

_BUFFER = 2**20
"""Bytes of an answer that are taken from the pipe at once."""

_TOO_LONG = "This list took longer than {seconds:g} s to check, so the check was stopped. Try it in smaller pieces."
_BUSY = "Too many lists are being checked just now. Try again in a few seconds."
_DIED = "The checker stopped while it worked on this list. Please report it together with the list."


def _end_with_its_own(process: Process) -> None:
    """End a process and those that it has started, which are its session."""
    with suppress(ProcessLookupError):
        if hasattr(os, "killpg"):
            os.killpg(process.pid, signal.SIGKILL)
        else:
            process.kill()


class Worker:
    """One process. ``ask`` must not be called again before it has returned."""

    def __init__(self, arguments: tuple[str, ...]) -> None:
        self._arguments = arguments
        self._process: Process | None = None

    async def start(self) -> None:
        """A new process, its libraries loaded; its own session, so that a key pressed for the server does not end it."""
        self._process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "checker.web.worker", *self._arguments, stdin=PIPE, stdout=PIPE, limit=_BUFFER,
            env={**os.environ, **ONE_THREAD}, start_new_session=True)

    async def ask(self, job: str, payload: bytes) -> tuple[int, bytes]:
        """The status and body of the answer. Raises IncompleteReadError or OSError where the process has died."""
        if self._process is None or self._process.returncode is not None:
            await self.start()
        assert self._process and self._process.stdin and self._process.stdout
        name = job.encode()
        self._process.stdin.write(HEAD.pack(len(name), len(payload)) + name + payload)
        await self._process.stdin.drain()
        status, length = HEAD.unpack(await self._process.stdout.readexactly(HEAD.size))
        return int(status), await self._process.stdout.readexactly(length)

    async def end(self) -> None:
        """End the process, whatever it does; the next ``ask`` starts another."""
        process, self._process = self._process, None
        if process is None:
            return
        if process.returncode is None:
            _end_with_its_own(process)
        await process.wait()
        if process.stdin:
            process.stdin.close()


class Pool:
    """``size`` workers and a queue of at most ``waiting`` jobs before each."""

    def __init__(self, size: int, waiting: int, arguments: tuple[str, ...] = ()) -> None:
        self._workers = [Worker(arguments) for _ in range(size)]
        self._idle: asyncio.LifoQueue[Worker] = asyncio.LifoQueue()
        self._most_waiting = waiting * size
        self._waiting = 0
        self._left: set[asyncio.Task[tuple[int, bytes]]] = set()

    async def start(self, *, at_once: bool = True) -> None:
        """Open the queue, and start all processes; not ``at_once``, each is started by its first job."""
        for worker in self._workers:
            if at_once:
                await worker.start()
            self._idle.put_nowait(worker)

    async def stop(self) -> None:
        """End all processes."""
        for task in self._left:
            task.cancel()
        await asyncio.gather(*self._left, return_exceptions=True)
        await asyncio.gather(*(worker.end() for worker in self._workers))

    async def run(self, job: str, payload: bytes, seconds: float, abandoned: float = 0.0) -> tuple[int, bytes]:
        """Do one job within ``seconds``. Cancelled, the job may run on for ``abandoned`` seconds, then its process is
        ended. Raises Problem where it is not done."""
        worker = await self._free_worker()
        task = asyncio.ensure_future(self._done_by(worker, job, payload, seconds))
        try:
            return await asyncio.shield(task)
        except asyncio.CancelledError:
            self._left.add(task)
            task.add_done_callback(self._forget)
            asyncio.get_running_loop().call_later(abandoned, task.cancel)
            raise

    def must_have_room(self) -> None:
        """Raises Problem where a job would not even be let into the queue: asked before a body is read."""
        if self._idle.empty() and self._waiting >= self._most_waiting:
            raise Problem(503, _BUSY, retry_after=math.ceil(self._waiting / len(self._workers)))

    def _forget(self, task: asyncio.Task[tuple[int, bytes]]) -> None:
        self._left.discard(task)
        if not task.cancelled():
            task.exception()

    async def _free_worker(self) -> Worker:
        self.must_have_room()
        self._waiting += 1
        try:
            return await self._idle.get()
        finally:
            self._waiting -= 1

    async def _done_by(self, worker: Worker, job: str, payload: bytes, seconds: float) -> tuple[int, bytes]:
        """The answer of the worker, which is idle again afterwards, with a new process where it failed."""
        whole = False
        try:
            async with asyncio.timeout(seconds):
                answer = await worker.ask(job, payload)
            whole = True
            return answer
        except TimeoutError:
            raise Problem(422, _TOO_LONG.format(seconds=seconds)) from None
        except (asyncio.IncompleteReadError, OSError):
            raise Problem(500, _DIED) from None
        finally:
            if not whole:
                await worker.end()
            self._idle.put_nowait(worker)
