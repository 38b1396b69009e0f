"""Many lists at once: sources, checking in several processes, marks, feedback, and a page for the class.

``run_batch`` does it all and prints nothing: submissions from ``from_paths`` or ``from_memory`` go in, rows and files come out.
"""

from __future__ import annotations

from checker.batch.model import Progress, Row, SourceError, Submission
from checker.batch.roster import read_roster
from checker.batch.run import Batch, Options, run_batch, zipped
from checker.batch.scheme import SchemeError, default_scheme, default_text, read_scheme
from checker.batch.sources import from_memory, from_paths

__all__ = [
    "Batch",
    "Options",
    "Progress",
    "Row",
    "SchemeError",
    "SourceError",
    "Submission",
    "default_scheme",
    "default_text",
    "from_memory",
    "from_paths",
    "read_roster",
    "read_scheme",
    "run_batch",
    "zipped",
]
