"""What goes through a batch: submissions come in, each gets an outcome, and a row tells both.

A *submission* is what a person handed in; its *outcome* is what the checker found, the same for everyone who handed in the
same text; a *row* joins them with the roster and the marks. All are frozen values that can be sent to another process.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from hashlib import blake2b
from typing import Protocol

import msgspec
from msgspec import Struct

from checker.report.model import Report, Summary
from checker.version import VERSION

NOT_CHECKED, MISSING = "not-checked", "missing"
"""What stands in a row in place of a verdict: the list could not be checked; the roster names the person, no list came."""


class SourceError(ValueError):
    """A source that cannot be used at all; the message says why, in one sentence."""


class Submission(Struct, frozen=True, kw_only=True):
    """One list as it was handed in. ``name`` is who, ``identifier`` a number or login where there is one, ``file`` where in
    the source it was. ``problem`` says why there is no ``text``. ``handed_in`` is known from ``time_from`` ("the file")."""

    name: str
    file: str
    identifier: str = ""
    text: bytes = b""
    problem: str = ""
    handed_in: datetime | None = None
    time_from: str = ""


class Job(Struct, frozen=True, kw_only=True):
    """What every list of a batch is checked with: a parts file of one's own and a reference list, as bytes."""

    kit: bytes | None = None
    reference: bytes | None = None

    def key_of(self, text: bytes) -> bytes:
        """16 bytes that name the outcome of a text: equal texts checked in the same way by the same version have the same."""
        return blake2b(text, digest_size=16, key=self._fingerprint).digest()

    @property
    def _fingerprint(self) -> bytes:
        return blake2b(msgspec.msgpack.encode((VERSION, self.kit, self.reference)), digest_size=32).digest()


class Work(Struct, frozen=True):
    """One text to check, under the key of its outcome."""

    key: bytes
    text: bytes


class Expectation(Struct, frozen=True):
    """One required behaviour, as written, whether it was met, and what was computed, as a clause."""

    say: str
    met: bool
    computed: str = ""

    @property
    def verdict(self) -> str:
        return f"{'met' if self.met else 'not met'}: {self.say}"

    @property
    def told(self) -> str:
        """All of it in one line."""
        return f"{self.verdict} ({self.computed})" if self.computed else self.verdict


class Outcome(Struct, frozen=True, kw_only=True):
    """What was found in one text. Without a ``report`` (its states are left out) ``problem`` says why.

    ``kinds`` maps the name of each part to what it is; ``sketch`` is what alike lists are found by; with a reference
    ``likeness`` is 0 to 1, ``same`` and ``differences`` say what the comparison says (``uncompared`` why there was none), the
    first ``counting`` of which make it another circuit (None where a line could not be read), ``pairs`` maps names in upper
    case to those of the reference, and ``expectations`` are the reference's, else the
    list's own; ``asked_for`` are the places of those findings of the report that the reference itself has too."""

    key: bytes
    report: Report | None = None
    problem: str = ""
    kinds: dict[str, str] = {}
    sketch: bytes = b""
    likeness: float | None = None
    same: bool | None = None
    differences: tuple[str, ...] = ()
    counting: int | None = None
    uncompared: str = ""
    pairs: dict[str, str] = {}
    expectations: tuple[Expectation, ...] = ()
    asked_for: tuple[int, ...] = ()


class MarkLine(Struct, frozen=True):
    """One line of a mark: what for, and how many points, in hundredths exact."""

    say: str
    points: float


class Mark(Struct, frozen=True):
    """A mark: ``points`` of ``most``, the sum of its lines. ``points`` is None where a person has to look."""

    points: float | None
    most: float
    lines: tuple[MarkLine, ...]


class Row(Struct, frozen=True, kw_only=True):
    """One person's line in the table. ``verdict`` is one of the report's, "not-checked" or "missing"; ``problem`` says why not;
    ``first`` is what to do first; ``rules`` are those of its findings, worst first; ``alike`` numbers a group of lists
    that are alike (0: none); ``remarks`` are for whoever marks; ``by`` is whose list it says it is, where that is not the
    name; ``feedback`` is the file written for the person. ``beside`` says how it differs from the reference, ``another`` is
    true where it is another circuit than that."""

    number: int
    name: str
    identifier: str
    file: str
    verdict: str
    headline: str = ""
    problem: str = ""
    title: str = ""
    first: str = ""
    rules: tuple[str, ...] = ()
    summary: Summary = Summary()
    likeness: float | None = None
    same: bool | None = None
    another: bool = False
    beside: str = ""
    met: int = 0
    expected: int = 0
    mark: Mark | None = None
    alike: int = 0
    remarks: tuple[str, ...] = ()
    by: str = ""
    feedback: str = ""


class Progress(Struct, frozen=True):
    """How far a batch is: ``done`` of ``total`` different lists are checked, ``again`` of them in an earlier run."""

    done: int
    total: int
    again: int = 0


class Rows(Protocol):
    """The rows of a batch in the order of the source, made anew each time they are gone through."""

    def __iter__(self) -> Iterator[Row]: ...

    def __len__(self) -> int: ...
