"""What stands before every route: which names the server answers to, how large a body may be, headers of safety, the log.

An ASGI application around another. Input: a request. Output: the inner answer with the headers added, or a problem.
Bodies and what stands after the path are never logged.
"""

from __future__ import annotations

import ipaddress
import logging
import secrets
import time

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from checker.web.problems import Problem, response_to

LOG = logging.getLogger("legwise.serve")
LOOPBACK = ("localhost", "127.0.0.1", "[::1]")

POLICY = ("default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; img-src 'self'; connect-src 'self'; "
          "base-uri 'none'; form-action 'self'; frame-ancestors 'none'")
"""The content security policy (W3C, Content Security Policy Level 3). The editor adds its own style element, for which
the nonce of the response is."""

HEADERS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-embedder-policy": "require-corp",
    "x-frame-options": "DENY",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
}

_NAME = "This server does not answer to the name '{name}'. Open it by its address, or start it with --name {name}."
_ORIGIN = "Another page may not send lists to this server."
_SIZE = "This is larger than the {most} KB that can be taken at once."


class Guard:
    """``names`` are host names to answer to besides the loopback ones; addresses are answered to where ``outside`` is
    true: a name can be bound to another address behind the reader's back, an address cannot. ``sizes`` gives the most
    bytes for each path, ``size`` for all others."""

    def __init__(self, inner: ASGIApp, *, names: frozenset[str] = frozenset(), outside: bool = False, size: int,
                 sizes: dict[str, int] | None = None) -> None:
        self._inner = inner
        self._names = names | set(LOOPBACK)
        self._outside = outside
        self._size = size
        self._sizes = sizes or {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._inner(scope, receive, send)
            return
        began = time.monotonic()
        status = 500
        nonce = secrets.token_urlsafe(16)
        scope["state"] = {**scope.get("state", {}), "nonce": nonce}

        async def send_safely(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                headers = MutableHeaders(scope=message)
                headers["content-security-policy"] = POLICY.format(nonce=nonce)
                headers.update(HEADERS)
                headers.setdefault("cache-control", "no-store")
            await send(message)

        try:
            self._let_in(scope)
            await self._inner(scope, Counted(receive, self._most(scope)), send_safely)
        except Problem as problem:
            await response_to(problem)(scope, receive, send_safely)
        finally:
            LOG.info("%s %s %d %.0f ms", scope["method"], scope["path"], status, 1000 * (time.monotonic() - began))

    def _most(self, scope: Scope) -> int:
        return self._sizes.get(scope["path"], self._size)

    def _let_in(self, scope: Scope) -> None:
        """Raises Problem for a host name that is not ours, a page of another host, or a body that says it is too large."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        name = _without_port(host)
        if name not in self._names and not (self._outside and _is_address(name)):
            raise Problem(421, _NAME.format(name=name))
        origin = headers.get("origin")
        if origin is not None and scope["method"] not in ("GET", "HEAD") and origin.partition("://")[2] != host:
            raise Problem(403, _ORIGIN)
        length = headers.get("content-length", "0")
        if length.isdigit() and int(length) > self._most(scope):
            raise Problem(413, _SIZE.format(most=self._most(scope) // 1024))


class Counted:
    """``receive`` that raises Problem once a body has become larger than ``most`` bytes, whatever its header says."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive = receive
        self._most = most
        self._taken = 0

    async def __call__(self) -> Message:
        message = await self._receive()
        if message["type"] == "http.request":
            self._taken += len(message.get("body", b""))
            if self._taken > self._most:
                raise Problem(413, _SIZE.format(most=self._most // 1024))
        return message


def _without_port(host: str) -> str:
    name, colon, port = host.lower().rpartition(":")
    return name if colon and port.isdigit() else host.lower()


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name.strip("[]"))
    except ValueError:
        return False
    return True


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach what listens at ``host``."""
    name = host.strip("[]").lower()
    return name == "localhost" or (_is_address(name) and ipaddress.ip_address(name).is_loopback)
