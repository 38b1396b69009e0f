"""Every text gets its outcome, once, whatever happens to the processes that work on it.

The workers are real processes; what goes wrong in them is in ``tests.batch.hazards``.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence

import pytest

from checker.batch.driving import LONG_PATIENCE, outcomes_of
from checker.batch.judging import check_chunk
from checker.batch.model import Job, Work
from checker.batch.workers import Here, Lanes
from tests.batch.hazards import DEADLY, ENDLESS, SLOW, TRIPPING, WELL, Hazardous, works_of

TWICE = "the process that checked it ended twice, perhaps for want of memory"
TRIPPED = "the checker itself failed (ValueError: tripped); the list is not to blame"
QUIET = [b"quiet %d" % number for number in range(20)]


@pytest.fixture(scope="module")
def lanes() -> Iterator[Lanes]:
    two = Lanes(2)
    yield two
    two.close()


def problems(texts: Sequence[bytes], executor: Hazardous, patience: float = 60.0) -> dict[bytes, str]:
    """What became of each text; each must come back exactly once."""
    works = works_of(texts)
    found = list(outcomes_of(works, Job(), executor, patience))

    assert sorted(work.key for work in works) == sorted(outcome.key for outcome in found)
    text_of = {work.key: work.text for work in works}
    return {text_of[outcome.key]: outcome.problem for outcome in found}


@pytest.mark.parametrize(
    ("hazard", "patience", "said"),
    [
        (DEADLY, 60.0, TWICE),
        (TRIPPING, 5.0, TRIPPED),
        (ENDLESS, 3.0, "it took longer than 3 s and was stopped"),
        (DEADLY, 5.0, TWICE),
    ],
)
def test_what_goes_wrong_costs_only_its_own_outcome(lanes: Lanes, hazard: bytes, patience: float, said: str) -> None:
    found = problems([*QUIET[:9], hazard, *QUIET[9:]], Hazardous(lanes), patience)

    assert {**dict.fromkeys(QUIET, WELL), hazard: said} == found


def test_what_takes_too_long_in_a_chunk_is_tried_again_alone(lanes: Lanes, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("checker.batch.driving.LONG_PATIENCE", 1.0)
    found = problems([*QUIET[:3], ENDLESS, *QUIET[3:]], Hazardous(lanes), 2.0)

    assert {**dict.fromkeys(QUIET, WELL), ENDLESS: "it took longer than 2 s and was stopped"} == found
    assert LONG_PATIENCE > 2.0


def test_a_worker_killed_from_outside_loses_nothing(lanes: Lanes) -> None:
    works = works_of([SLOW + b"%d" % number for number in range(40)])
    process = lanes.submit(os.getpid).result()
    found = []
    for outcome in outcomes_of(works, Job(), Hazardous(lanes), 60.0):
        found.append(outcome)
        if len(found) == 8:
            os.kill(process, signal.SIGKILL)

    assert sorted((work.key, WELL) for work in works) == sorted((outcome.key, outcome.problem) for outcome in found)


def test_no_more_is_in_flight_than_there_are_processes(lanes: Lanes) -> None:
    seen = 0

    def counted() -> Iterator[Work]:
        nonlocal seen
        for work in works_of(QUIET):
            seen += 1
            yield work

    executor = Hazardous(lanes)
    first = next(iter(outcomes_of(counted(), Job(), executor, 60.0)))

    assert WELL == first.problem
    assert 2 >= executor.most
    assert seen < len(QUIET)


def test_without_processes_the_same_comes_out() -> None:
    assert {**dict.fromkeys(QUIET, WELL), TRIPPING: TRIPPED} == problems([*QUIET, TRIPPING], Hazardous(Here()), 5.0)


def test_workers_have_one_thread_of_linear_algebra_each(lanes: Lanes) -> None:
    before = os.environ.get("OPENBLAS_NUM_THREADS")

    assert "1" == lanes.submit(os.getenv, "OPENBLAS_NUM_THREADS").result()
    assert before == os.environ.get("OPENBLAS_NUM_THREADS")


def test_a_chunk_comes_out_as_its_lists_do_alone() -> None:
    """Solving several lists as one stack changes no outcome."""
    texts = [b"board half\nsupply PACK 9V on L+ L-\npart R1 %d in a5 a10\npart LED1 led red in b10 b15 long b%d\n"
             b"wire L+ to c5\nwire c15 to L-\n" % (ohms, leg) for ohms in (22, 470) for leg in (10, 15)]
    works = works_of([*texts, b"\xff\xfe\x00nonsense", b"part"])

    assert check_chunk(Job(), works) == tuple(outcome for work in works for outcome in check_chunk(Job(), [work]))
