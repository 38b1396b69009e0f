"""One working process of the server: reads jobs from its input, writes answers to its output, ends with its input.

Frames as ``checker.web.workers`` writes them. Whatever the code prints goes to standard error, so that nothing but answers
is on the output. Nothing of a list is ever written anywhere else.
"""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import BinaryIO

from checker import examples
from checker.web import jobs
from checker.web.problems import body_of
from checker.web.workers import HEAD
from parts_library import load_library

try:
    import resource
except ImportError:  # No such limits on this system.
    resource = None  # type: ignore[assignment]

MEMORY = 6 * 2**30
"""Bytes of address space that one process may take; the numerical libraries reserve about one gigabyte of it unused."""

_FIRST = ("dusk-lamp", "dusk-lamp-row-off")
"""A list that is clear and one that is not: between them they load everything that a check needs."""

_FAILED = "The checker itself failed on this list ({problem}). The list is not to blame. Please report it together with the list."


def main(arguments: list[str]) -> None:
    """Answer jobs until the input ends. ``arguments``: perhaps the file of a kit."""
    if resource is not None:
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    kit = Path(arguments[0]) if arguments else None
    load_library(kit)
    _warm_up()
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    requests = sys.stdin.buffer
    while head := requests.read(HEAD.size):
        _answer_one(head, requests, answers, kit)


def _warm_up() -> None:
    """Do once what the first reader would wait for, then let the collector of rubbish leave alone what stays."""
    for name in _FIRST:
        jobs.JOBS["page"](examples.text_of(name).encode(), None)
    gc.collect()
    gc.freeze()


def _answer_one(head: bytes, requests: BinaryIO, answers: BinaryIO, kit: Path | None) -> None:
    name_length, length = HEAD.unpack(head)
    name = requests.read(name_length).decode()
    status, body = answer_to(name, requests.read(length), kit)
    answers.write(HEAD.pack(status, len(body)) + body)
    answers.flush()


def answer_to(name: str, payload: bytes, kit: Path | None) -> tuple[int, bytes]:
    """The status and body of one job; 422 with a problem where a list cannot be taken, 500 where the code fails."""
    try:
        return 200, jobs.JOBS[name](payload, kit)
    except jobs.NotTaken as refused:
        return 422, body_of(422, str(refused))
    except MemoryError:
        return 422, body_of(422, "This list takes more memory than a check may use. Try it in smaller pieces.")
    except Exception as problem:  # One list must not cost the others their process.
        return 500, body_of(500, _FAILED.format(problem=type(problem).__name__))


if __name__ == "__main__":
    main(sys.argv[1:])
