"""The intake: every submission read once from its source and put aside on disk, so that a source of any size fits.

Input: submissions, a job. Output: them again, as often as needed, and the different texts among them.
"""

from __future__ import annotations

import tempfile
import weakref
from array import array
from collections.abc import Iterable, Iterator

import msgspec

from checker.batch.model import Job, Submission, Work


class Intake:
    """Submissions in a temporary file; held in memory are their places, and one key for each different text."""

    def __init__(self, submissions: Iterable[Submission], job: Job) -> None:
        self._file = tempfile.TemporaryFile()
        weakref.finalize(self, self._file.close)
        self._places = array("Q", [0])
        self._firsts: dict[bytes, int] = {}
        self._job = job
        for number, submission in enumerate(submissions):
            data = msgspec.msgpack.encode(submission)
            self._file.write(data)
            self._places.append(self._places[-1] + len(data))
            if not submission.problem:
                self._firsts.setdefault(self.key_of(submission), number)

    def key_of(self, submission: Submission) -> bytes:
        """The key of its outcome."""
        return self._job.key_of(submission.text)

    def __len__(self) -> int:
        return len(self._places) - 1

    def __iter__(self) -> Iterator[Submission]:
        return (self[number] for number in range(len(self)))

    def __getitem__(self, number: int) -> Submission:
        start, end = self._places[number], self._places[number + 1]
        self._file.seek(start)
        return msgspec.msgpack.decode(self._file.read(end - start), type=Submission)

    def keys(self) -> Iterable[bytes]:
        """The keys of the different texts, in the order of their first submissions."""
        return self._firsts.keys()

    def works(self, keys: Iterable[bytes]) -> Iterator[Work]:
        """The texts of these keys."""
        return (Work(key, self[self._firsts[key]].text) for key in keys)
