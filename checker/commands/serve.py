"""``legwise serve``: the page for pasting a list into, on this machine.

Input: where to listen. Output: the address, then nothing until it is ended with Ctrl-C. Nothing that is pasted is kept, and no
other host is ever asked for anything.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from checker.commands.shared import CLEAR, Misuse

_HOST, _PORT = "127.0.0.1", 8642
_MOST_PORTS, _MOST_WORKERS = 65535, 64
_EXTRA = ("starlette", "uvicorn", "anyio", "python_multipart")
_MISSING = """\
the page needs a server, which is an extra.
  pip install 'legwise[web]'"""
_OPEN = "Reachable by other machines. There is no password: anybody who can reach this address can use it."


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--port", metavar="NUMBER", type=int, default=_PORT, help=f"where to listen ({_PORT}); 0: a free one")
    parser.add_argument("--host", metavar="ADDRESS", default=_HOST, help="an address of this machine that others can reach too")
    parser.add_argument("--name", metavar="NAME", action="append", default=[], help="a host name to answer to, besides localhost")
    parser.add_argument("--workers", metavar="NUMBER", type=int, help="how many lists are checked at once (one a core)")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")
    parser.add_argument("--log", action="store_true", help="a line for each request, without what was pasted")


def run(arguments: Namespace) -> int:
    """Serve until ended; the exit status."""
    if not 0 <= arguments.port <= _MOST_PORTS:
        raise Misuse(f"--port is a number from 0 to {_MOST_PORTS}")
    if arguments.workers is not None and not 1 <= arguments.workers <= _MOST_WORKERS:
        raise Misuse(f"--workers is a number from 1 to {_MOST_WORKERS}")
    try:
        from checker.web.application import Settings, usual_workers
        from checker.web.serving import listen, serve
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] not in _EXTRA:
            raise
        raise Misuse(_MISSING) from None
    from checker.commands.shared import library_with
    from checker.web.guard import is_loopback

    library_with(arguments.parts)
    outside = not is_loopback(arguments.host)
    settings = Settings(workers=arguments.workers or usual_workers(), kit=arguments.parts, outside=outside,
                        names=frozenset(name.lower() for name in arguments.name))
    try:
        socket = listen(arguments.host, arguments.port)
    except OSError as problem:
        raise Misuse(f"cannot listen at {arguments.host}, port {arguments.port}: {problem.strerror or problem}") from None

    def announce() -> None:
        host = f"[{arguments.host}]" if ":" in arguments.host else arguments.host
        print(f"legwise is at http://{host}:{socket.getsockname()[1]}/  (Ctrl-C ends it)", flush=True)
        if outside:
            print(_OPEN, flush=True)

    serve(settings, socket, announce, log=arguments.log)
    return CLEAR
