"""What the server takes at most. Each bound has its reason; all are common practice, no source."""

from __future__ import annotations

from msgspec import Struct


class Limits(Struct, frozen=True, kw_only=True):
    """Bounds of one server. Bytes, lines and parts are of one list; seconds of one job.

    ``waiting`` jobs may stand in the queue for each worker: more would wait longer than a person does."""

    list_bytes: int = 256 * 1024
    list_lines: int = 2000
    list_parts: int = 500
    upload_bytes: int = 16 * 1024 * 1024
    upload_lists: int = 600
    seconds: float = 20.0
    class_seconds: float = 900.0
    waiting: int = 8
    abandoned_seconds: float = 1.0


LIMITS = Limits()
"""The limits unless others are given. 500 parts is the largest list that the checker is built for; 20 s is ten times
what the slowest list of the examples takes; a job that nobody waits for any more may run on for one second, because a new
process costs about as much."""
