"""The end of a server, and what the command says where it cannot begin."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from tests.web.running import ROOT, Answer, started
from tests.web.test_api import CLEAR


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT])
def test_what_was_accepted_is_answered_before_the_server_ends(how: signal.Signals) -> None:
    server = started("--workers", "1")
    children = Path(f"/proc/{server.process.pid}/task/{server.process.pid}/children").read_text(encoding="ascii").split()
    answers: list[Answer] = []
    asking = [threading.Thread(target=lambda: answers.append(server.ask("/slips", CLEAR))) for _ in range(3)]
    for each in asking:
        each.start()
    wait_until_taken(server.port)
    server.process.send_signal(how)
    for each in asking:
        each.join()
    server.process.communicate(timeout=60)

    assert [answer.status for answer in answers] == [200, 200, 200]
    assert len(children) == 1
    assert [pid for pid in children if Path(f"/proc/{pid}").exists()] == []
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", server.port), timeout=5)


def wait_until_taken(port: int) -> None:
    """Ask for something small on a connection that comes after the others: once it is answered they are accepted."""
    with socket.create_connection(("127.0.0.1", port), timeout=30) as connection:
        connection.sendall(b"GET /static/icon.svg HTTP/1.1\r\nhost: localhost\r\n\r\n")
        assert connection.recv(20).startswith(b"HTTP/1.1 200")


def serve(*arguments: str, before: str = "pass") -> subprocess.CompletedProcess[str]:
    """The command where it ends at once."""
    code = f"import sys; {before}; from checker.cli import main; sys.exit(main(['serve', *sys.argv[1:]]))"
    return subprocess.run([sys.executable, "-c", code, *arguments], cwd=ROOT, capture_output=True, encoding="utf-8", check=False,
                          timeout=60)


@pytest.mark.parametrize(("arguments", "says"), [
    (["--port", "70000"], "--port is a number from 0 to 65535"),
    (["--port", "web"], "invalid int value"),
    (["--workers", "0"], "--workers is a number from 1 to 64"),
    (["--host", "203.0.113.7"], "cannot listen at 203.0.113.7"),
    (["--parts", "no-such-kit.toml"], "cannot be used"),
    (["--port", "0", "page"], "one word too many"),
])
def test_a_server_that_cannot_begin_says_why(arguments: list[str], says: str) -> None:
    done = serve(*arguments)

    assert (done.returncode, done.stdout) == (2, "")
    assert says in done.stderr


def test_a_port_that_is_taken_is_named() -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        taken = other.getsockname()[1]
        done = serve("--port", str(taken))

    assert (done.returncode, f"port {taken}" in done.stderr) == (2, True)


@pytest.mark.parametrize("missing", ["starlette", "uvicorn"])
def test_without_the_extra_the_command_says_how_to_get_it(missing: str) -> None:
    done = serve(before=f"sys.modules['{missing}'] = None")

    assert done.returncode == 2
    assert "pip install 'legwise[web]'" in done.stderr
