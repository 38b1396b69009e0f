"""The pool: a job that takes too long, a process that dies, a queue that is full, a reader who leaves. None stops the rest."""

from __future__ import annotations

import asyncio
import os
import signal
from collections.abc import Awaitable, Callable
from contextlib import suppress

import pytest

from checker.web.jobs import NotTaken, within_limits
from checker.web.problems import Problem
from checker.web.worker import answer_to
from checker.web.workers import Pool
from tests.web.test_api import CLEAR

LIST = CLEAR.encode()
PATIENT, AT_ONCE = 60.0, 0.001


def with_pool(size: int, waiting: int, does: Callable[[Pool], Awaitable[None]]) -> None:
    """Run a coroutine with a pool that is started before and stopped after."""
    async def whole() -> None:
        pool = Pool(size, waiting)
        await pool.start()
        try:
            await does(pool)
        finally:
            await pool.stop()
    asyncio.run(whole())


async def refusal(pool: Pool, seconds: float = PATIENT) -> Problem:
    """The problem that a job ends in."""
    with pytest.raises(Problem) as raised:
        await pool.run("check", LIST, seconds)
    return raised.value


async def works(pool: Pool) -> bool:
    return (await pool.run("check", LIST, PATIENT))[0] == 200


def processes(pool: Pool) -> list[int]:
    return [worker._process.pid for worker in pool._workers if worker._process is not None]


def test_a_job_past_its_deadline_is_refused_and_its_process_replaced() -> None:
    async def does(pool: Pool) -> None:
        before = processes(pool)
        problem = await refusal(pool, AT_ONCE)
        assert (problem.status, "took longer" in problem.detail) == (422, True)
        assert await works(pool)
        assert before != processes(pool)
    with_pool(1, 1, does)


def test_a_process_that_dies_costs_one_job() -> None:
    async def does(pool: Pool) -> None:
        running = asyncio.ensure_future(refusal(pool))
        await asyncio.sleep(0)
        os.kill(processes(pool)[0], signal.SIGKILL)
        assert (await running).status == 500
        assert await works(pool)
    with_pool(1, 1, does)


def test_what_does_not_fit_the_queue_is_refused_at_once_and_told_when_to_ask_again() -> None:
    async def does(pool: Pool) -> None:
        asked = [asyncio.ensure_future(pool.run("check", LIST, PATIENT)) for _ in range(3)]
        await asyncio.sleep(0)
        problem = await refusal(pool)
        assert problem.status == 503
        assert problem.retry_after is not None and problem.retry_after >= 1
        assert [status for status, _ in await asyncio.gather(*asked)] == [200, 200, 200]
        assert await works(pool)
    with_pool(1, 2, does)


def test_a_job_that_nobody_waits_for_is_given_up() -> None:
    async def does(pool: Pool) -> None:
        before = processes(pool)
        running = asyncio.ensure_future(pool.run("check", LIST, PATIENT, abandoned=0.0))
        await asyncio.sleep(0.001)
        running.cancel()
        with suppress(asyncio.CancelledError):
            await running
        assert await works(pool)
        assert before != processes(pool)
    with_pool(1, 1, does)


def test_a_slow_list_leaves_the_other_worker_to_the_others() -> None:
    async def does(pool: Pool) -> None:
        slow = asyncio.ensure_future(pool.run("slips", LIST, PATIENT))
        quick = [await works(pool) for _ in range(3)]
        assert quick == [True, True, True]
        assert (await slow)[0] == 200
    with_pool(2, 1, does)


def test_no_process_is_left_when_the_pool_stops() -> None:
    left: list[int] = []

    async def does(pool: Pool) -> None:
        left.extend(processes(pool))
    with_pool(3, 1, does)

    assert len(left) == 3
    assert [pid for pid in left if os.path.exists(f"/proc/{pid}")] == []


@pytest.mark.parametrize(("text", "says"), [
    (b"\n" * 2000, "2000 lines"), (b"R1 220 in a1 a5\n" * 501, "500 parts"),
])
def test_a_list_past_the_limits_is_not_taken(text: bytes, says: str) -> None:
    with pytest.raises(NotTaken, match=says):
        within_limits(text)


@pytest.mark.parametrize("text", [b"\n" * 1999, b"R1 220 in a1 a5\n" * 500, b"# a comment\n" * 1500, b""])
def test_a_list_at_the_limits_is_taken(text: bytes) -> None:
    within_limits(text)


def test_code_that_fails_is_told_apart_from_a_list_that_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(text: bytes, kit: None) -> bytes:
        raise ZeroDivisionError(text.decode())

    def tires(text: bytes, kit: None) -> bytes:
        raise MemoryError
    monkeypatch.setattr("checker.web.jobs.JOBS", {"fails": fails, "tires": tires})
    status, body = answer_to("fails", b"secret", None)

    assert (status, b"ZeroDivisionError" in body, b"secret" in body) == (500, True, False)
    assert answer_to("tires", b"", None)[0] == 422
