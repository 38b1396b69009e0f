"""What a worker does: several texts in, their outcomes out. The only code of a batch that runs in another process.

Texts of one chunk are surveyed as one stack. A text that trips the checker costs only its own outcome.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path

from msgspec import Struct, structs

from checker.batch.behaviour import against_reference, own_expectations, with_asked_for
from checker.batch.model import Job, Outcome, Work
from checker.batch.sketch import sketch_of
from checker.bench.model import Bench
from checker.compose import compose
from checker.explain import explain
from checker.report.model import Finding
from checker.survey import Survey, survey
from parts_library import Library, load_library


class Prepared(Struct, frozen=True):
    """What every list of a job needs, made once in each process: the library, the reference as surveyed and what is found
    in it."""

    library: Library
    reference: Survey | None
    findings: tuple[Finding, ...] = ()


@lru_cache(maxsize=4)
def prepared(job: Job) -> Prepared:
    """Raises LibraryError for a kit that cannot be used."""
    library = _library(job.kit)
    if job.reference is None:
        return Prepared(library, None)
    reference = survey([job.reference], library)[0]
    return Prepared(library, reference, compose(reference, explain(reference, library), "reference").findings)


def _library(kit: bytes | None) -> Library:
    if kit is None:
        return load_library()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "kit.toml")
        path.write_bytes(kit)
        return load_library(path)


def check_chunk(job: Job, works: Sequence[Work]) -> tuple[Outcome, ...]:
    """The outcome of each text, in order."""
    ready = prepared(job)
    return tuple(_outcome(work, surveyed, ready) for work, surveyed in _surveyed(works, ready.library))


def _surveyed(works: Sequence[Work], library: Library) -> Iterator[tuple[Work, Survey | Exception]]:
    """The surveys, solved as one stack; where that trips, each alone."""
    try:
        yield from zip(works, survey([work.text for work in works], library), strict=True)
    except Exception as problem:
        if len(works) == 1:
            yield works[0], problem
        else:
            for work in works:
                yield from _surveyed([work], library)


def _outcome(work: Work, surveyed: Survey | Exception, ready: Prepared) -> Outcome:
    if isinstance(surveyed, Exception):
        return failed(work, surveyed)
    try:
        report = compose(surveyed, explain(surveyed, ready.library), "list")
        found = Outcome(key=work.key, report=structs.replace(report, states=()), kinds=_kinds(surveyed.bench),
                        sketch=sketch_of(surveyed.bench.tree), expectations=own_expectations(surveyed))
    except Exception as problem:
        return failed(work, problem)
    return found if ready.reference is None else _compared(found, ready.reference, surveyed, ready.findings)


def _compared(found: Outcome, reference: Survey, surveyed: Survey, findings: Sequence[Finding]) -> Outcome:
    """The outcome beside the reference. Where the comparison trips, what the checker found stands all the same."""
    try:
        return with_asked_for(against_reference(found, reference, surveyed), findings)
    except Exception as problem:
        return structs.replace(found, uncompared=f"it could not be compared ({type(problem).__name__}: {problem})")


def failed(work: Work, problem: Exception) -> Outcome:
    """The outcome of a text on which the checker itself failed."""
    return Outcome(key=work.key, problem=f"the checker itself failed ({type(problem).__name__}: {problem}); "
                                         "the list is not to blame")


def _kinds(bench: Bench) -> dict[str, str]:
    """What each part is: the library's name for it, and the words of the list for a value."""
    return {part.name: " ".join(word.text for word in part.statement.words) for part in bench.parts.values()}
