"""Running the server: a socket, the application, and an end that answers what was accepted.

Input: settings and where to listen. Runs until it is told to end (SIGTERM or SIGINT); then no new connection is taken, what
was accepted is answered, and the processes are ended.
"""

from __future__ import annotations

import logging
import socket
import sys
from collections.abc import Callable

import uvicorn

from checker.web.application import Settings, application
from checker.web.guard import LOG

_BACKLOG = 512
_CONNECTIONS = 512
"""Connections at once: as many browsers as a lecture hall holds, and what their bodies take still fits the memory."""


def listen(host: str, port: int) -> socket.socket:
    """A socket that listens; ``port`` 0 takes one that is free. Raises OSError."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    found = socket.socket(family, socket.SOCK_STREAM)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    found.bind((host, port))
    found.listen(_BACKLOG)
    return found


def serve(settings: Settings, listening: socket.socket, ready: Callable[[], None], *, log: bool) -> None:
    """Answer until told to end. ``ready`` is called when the first request would be answered; ``log`` writes a line for
    each request to standard error, without what it carried."""
    if log:
        handler = logging.StreamHandler(sys.stderr)
        handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
        LOG.addHandler(handler)
        LOG.setLevel(logging.INFO)
        LOG.propagate = False
    config = uvicorn.Config(application(settings), log_level="warning", access_log=False, server_header=False, date_header=True,
                            proxy_headers=False, lifespan="on", loop="asyncio", http="h11", ws="none",
                            limit_concurrency=_CONNECTIONS,
                            timeout_keep_alive=30, timeout_graceful_shutdown=int(settings.limits.seconds) + 5)
    _Announced(config, ready).run(sockets=[listening])


class _Announced(uvicorn.Server):
    """A server that says when it is ready."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._ready()
