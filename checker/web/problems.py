"""Refusals: what the server says where it does not answer, as JSON in the form of RFC 9457 (problem details).

Input: a status and a sentence. Output: a ``Problem`` to raise, and its body.
"""

from __future__ import annotations

from http import HTTPStatus

import msgspec
from starlette.responses import Response

MEDIA_TYPE = "application/problem+json"


class Problem(Exception):
    """A request that gets no answer: the HTTP ``status``, one sentence for the reader, and after how many seconds to ask
    again where that helps."""

    def __init__(self, status: int, detail: str, retry_after: int | None = None) -> None:
        super().__init__(detail)
        self.status = status
        self.detail = detail
        self.retry_after = retry_after


def body_of(status: int, detail: str) -> bytes:
    """The members of a problem; the title is the standard phrase of the status."""
    return msgspec.json.encode({"title": HTTPStatus(status).phrase, "status": status, "detail": detail})


def response_to(problem: Problem) -> Response:
    """The problem as a response."""
    headers = {} if problem.retry_after is None else {"retry-after": str(problem.retry_after)}
    return Response(body_of(problem.status, problem.detail), problem.status, headers, MEDIA_TYPE)
