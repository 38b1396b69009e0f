"""The same work on a cluster: a real scheduler with two workers on this machine, one of which is killed midway.

What is not tested here: several machines. Whether the futures of dask (``distributed``) fit the seam is.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator

import dask
import pytest
from distributed import LocalCluster

from checker.batch import Options, SourceError, Submission, run_batch
from checker.batch.cluster import Cluster
from checker.batch.driving import outcomes_of
from checker.batch.model import Job
from tests.batch.classroom import students
from tests.batch.hazards import DEADLY, ENDLESS, SLOW, WELL, Hazardous, works_of

pytestmark = pytest.mark.filterwarnings("default")  # The engine's own, as its processes end.


@pytest.fixture
def cluster() -> Iterator[Cluster]:
    """A new one for each test, since each kills workers; a call that kills its worker is not tried again by the scheduler."""
    with (dask.config.set({"distributed.scheduler.allowed-failures": 0}),
          LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50) as running):
        connected = Cluster(running.scheduler_address)
        yield connected
        connected.close()


def test_a_class_comes_out_as_it_does_here(cluster: Cluster) -> None:
    people = [Submission(name=student.name, file=f"{student.name}.legs", text=student.text.encode()) for student in students(4)]

    there = run_batch(people, Options(), executor=cluster)

    assert run_batch(people, Options(workers=0)).files == there.files


def test_a_worker_that_is_killed_midway_loses_nothing(cluster: Cluster) -> None:
    works = works_of([SLOW + b"%d" % number for number in range(40)])
    process = cluster.submit(os.getpid).result()
    found = []
    for outcome in outcomes_of(works, Job(), Hazardous(cluster), 60.0):
        found.append(outcome)
        if len(found) == 8:
            os.kill(process, signal.SIGKILL)

    assert sorted((work.key, WELL) for work in works) == sorted((outcome.key, outcome.problem) for outcome in found)


@pytest.mark.parametrize(
    ("hazard", "patience", "said"),
    [
        (DEADLY, 15.0, "the process that checked it ended twice, perhaps for want of memory"),
        (ENDLESS, 4.0, "it took longer than 4 s and was stopped"),
    ],
)
def test_what_goes_wrong_costs_only_its_own_outcome(cluster: Cluster, hazard: bytes, patience: float, said: str) -> None:
    works = works_of([b"one", hazard, b"two"])
    found = {outcome.key: outcome.problem for outcome in outcomes_of(works, Job(), Hazardous(cluster), patience)}

    assert [WELL, said, WELL] == [found[work.key] for work in works]


def test_where_no_scheduler_answers_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("checker.batch.cluster._SECONDS_TO_CONNECT", 1)
    with pytest.raises(SourceError, match=r"no cluster answers at tcp://127.0.0.1:9: "):
        Cluster("tcp://127.0.0.1:9")
