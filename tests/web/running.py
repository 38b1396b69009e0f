"""A server as it is typed: the real command in a process of its own, asked over a real connection."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
TEXT = {"content-type": "text/plain"}
_AT = re.compile(r"http://\S+:(\d+)/")


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)

    @property
    def detail(self) -> str:
        """The sentence of a refusal."""
        return str(self.json["detail"])


@dataclass(frozen=True)
class Running:
    """A server that answers at ``port``."""

    process: subprocess.Popen[str]
    port: int

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def ask(self, path: str, body: bytes | str | None = None, headers: dict[str, str] | None = None,
            method: str | None = None) -> Answer:
        """One request on a connection of its own: GET without a body, else POST of a list."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=60)
        data = body.encode() if isinstance(body, str) else body
        connection.request(method or ("GET" if data is None else "POST"), path, data,
                           headers if headers is not None else TEXT if data is not None else {})
        response = connection.getresponse()
        answer = Answer(response.status, {name.lower(): value for name, value in response.getheaders()}, response.read())
        connection.close()
        return answer


def started(*arguments: str) -> Running:
    """A server with these arguments, once it has said where it is."""
    process = subprocess.Popen(
        [sys.executable, "-m", "checker", "serve", "--port", "0", *arguments], cwd=ROOT, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, encoding="utf-8", env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"})
    assert process.stdout is not None
    line = process.stdout.readline()
    found = _AT.search(line)
    if found is None:
        process.kill()
        raise AssertionError(f"the server did not start: {line}{process.communicate()[1]}")
    return Running(process, int(found[1]))


@contextmanager
def running(*arguments: str) -> Iterator[Running]:
    """The same, ended afterwards."""
    server = started(*arguments)
    try:
        yield server
    finally:
        server.process.terminate()
        server.process.communicate(timeout=60)
