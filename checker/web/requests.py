"""What comes in: the text of a list from a request, and a job of the pool that is given up when nobody waits for it.

Input: a request. Output: bytes of a list, or the answer of a job. Raises Problem for what cannot be taken.
"""

from __future__ import annotations

import asyncio
from typing import cast

import msgspec
from msgspec import Struct
from starlette.requests import Request
from starlette.types import Receive

from checker.web.problems import Problem
from checker.web.workers import Pool

_JSON = "application/json"
_TEXT = ("text/plain", "application/x-legwise", "")
_NO_TYPE = "Send the list as text/plain, or as application/json in the form {{\"text\": …}}; this is {type}."
_NO_JSON = "This is no JSON in the form {{\"text\": \"the list\"}}: {reason}."


class ListText(Struct, frozen=True, forbid_unknown_fields=True):
    """The body of a request in JSON: the whole text of one list."""

    text: str


async def list_in(request: Request) -> bytes:
    """The list that a request carries, as UTF-8."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    body = await request.body()
    if kind == _JSON:
        try:
            return msgspec.json.decode(body, type=ListText).text.encode()
        except msgspec.DecodeError as error:
            raise Problem(400, _NO_JSON.format(reason=str(error).rstrip("."))) from None
    if kind not in _TEXT:
        raise Problem(415, _NO_TYPE.format(type=kind))
    return body


class NobodyWaits(Exception):
    """The connection was closed before the answer was there."""


async def done(request: Request, pool: Pool, job: str, payload: bytes, seconds: float, abandoned: float) -> tuple[int, bytes]:
    """The answer of the pool. Where the connection is closed meanwhile, the job is given up; raises NobodyWaits."""
    work = asyncio.ensure_future(pool.run(job, payload, seconds, abandoned))
    gone = asyncio.ensure_future(_closed(request.receive))
    try:
        await asyncio.wait({work, gone}, return_when=asyncio.FIRST_COMPLETED)
        if not work.done():
            raise NobodyWaits
        return await work
    finally:
        work.cancel()
        gone.cancel()


async def _closed(receive: Receive) -> None:
    """Returns when the other side has closed the connection. The body has been read before."""
    while cast(str, (await receive())["type"]) != "http.disconnect":
        pass
