"""The application: routes, pages and the guard before them, with the pools started and stopped around them.

Input: limits, kit, names. Output: an ASGI application.
"""

from __future__ import annotations

import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from msgspec import Struct
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from checker.web import api, site
from checker.web.class_upload import check_class
from checker.web.guard import Guard
from checker.web.limits import LIMITS, Limits
from checker.web.problems import Problem, response_to
from checker.web.workers import Pool
from parts_library import load_library


class Settings(Struct, frozen=True, kw_only=True):
    """How a server is run: ``workers`` processes, a ``kit`` of parts, ``names`` of hosts to answer to besides the loopback
    ones, and ``outside`` where it can be reached from other machines."""

    workers: int
    kit: Path | None = None
    names: frozenset[str] = frozenset()
    outside: bool = False
    limits: Limits = LIMITS


def usual_workers() -> int:
    """As many as there are cores, but two at least, so that one slow list leaves a worker to the others."""
    return max(2, min(8, os.cpu_count() or 2))


def application(settings: Settings) -> Guard:
    """The ASGI application. Raises LibraryError for a kit that cannot be used."""
    limits = settings.limits
    arguments = () if settings.kit is None else (str(settings.kit),)
    shop = api.Shop(pool=Pool(settings.workers, limits.waiting, arguments), class_pool=Pool(1, 1, arguments),
                    library=load_library(settings.kit), limits=limits)

    @asynccontextmanager
    async def running(_: Starlette) -> AsyncIterator[None]:
        await shop.pool.start()
        await shop.class_pool.start(at_once=False)
        yield
        await shop.pool.stop()
        await shop.class_pool.stop()

    inner = Starlette(routes=[*site.routes(), *api.routes(), Route("/class", check_class, methods=["POST"])], lifespan=running,
                      exception_handlers={Problem: _refused, HTTPException: _not_there, Exception: _failed})
    inner.state.shop = shop
    return Guard(inner, names=settings.names, outside=settings.outside, size=limits.list_bytes,
                 sizes={"/class": limits.upload_bytes})


async def _refused(_: Request, problem: Exception) -> Response:
    assert isinstance(problem, Problem)
    return response_to(problem)


async def _not_there(request: Request, problem: Exception) -> Response:
    """A path or method that there is not."""
    assert isinstance(problem, HTTPException)
    said = {404: "There is nothing at this address.", 405: f"This address does not take {request.method}."}
    return response_to(Problem(problem.status_code, said.get(problem.status_code, problem.detail)))


async def _failed(_: Request, problem: Exception) -> Response:
    """The server's own fault; the traceback goes to standard error."""
    return response_to(Problem(500, f"The server itself failed ({type(problem).__name__})."))
