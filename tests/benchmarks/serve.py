"""What the server costs beside the bare check, how even its answers are, and whether its memory stays where it is.

    python -m tests.benchmarks.serve [CHECKS]

Three measurements, each beside its bar: requests a second of one core against the bare warm check on the same core (at most
a fifth less; both from processor time, server and worker together, so that whatever else runs on the machine does not
count); at half of that load, evenly spaced, the 99th percentile against twice the median; memory of all processes over
CHECKS checks (20,000 unless said), which may not grow by more than a twentieth once it is warm. The server has one worker
and one core to itself where the machine has two. The percentile is of the clock: it wants a machine that is idle.
"""

from __future__ import annotations

import asyncio
import os
import statistics
import sys
import time
from pathlib import Path

from checker import examples
from checker.checking import check
from checker.report import Page, render
from tests.web.running import Running, started

CHECKS = 20_000
ROUNDS = 20
SECONDS = 12.0
AT_ONCE = 3
MOST_OVERHEAD, MOST_SPREAD, MOST_GROWTH = 0.20, 2.0, 0.05
LIST = "seed-tray-mister"


def bare(texts: list[bytes], rounds: int) -> float:
    """Checks in a second of the processor in this process, reports encoded."""
    began = time.process_time()
    for _ in range(rounds):
        for text in texts:
            render("json", [check(text)], Page())
    return rounds * len(texts) / (time.process_time() - began)


def served(server: Running, texts: list[bytes], rounds: int) -> float:
    """The same in a second of the processor of the server and its processes together."""
    began = processor_seconds(server)
    asyncio.run(closed_loop(server.port, texts, most=rounds * len(texts)))
    return rounds * len(texts) / (processor_seconds(server) - began)


def processes(server: Running) -> list[str]:
    root = server.process.pid
    return [str(root), *Path(f"/proc/{root}/task/{root}/children").read_text(encoding="ascii").split()]


def processor_seconds(server: Running) -> float:
    """What the server and its processes have taken of the processor so far (proc(5): utime and stime)."""
    stats = [Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split() for pid in processes(server)]
    return sum(int(stat[11]) + int(stat[12]) for stat in stats) / os.sysconf("SC_CLK_TCK")


class Connection:
    """One connection that is kept open."""

    def __init__(self, port: int) -> None:
        self._port = port

    async def open(self) -> None:
        self._reader, self._writer = await asyncio.open_connection("127.0.0.1", self._port)

    async def check(self, text: bytes) -> None:
        """Ask, and read the answer whole. Raises AssertionError for anything but a report."""
        self._writer.write(b"POST /check HTTP/1.1\r\nhost: localhost\r\ncontent-type: text/plain\r\ncontent-length: %d\r\n\r\n%s"
                           % (len(text), text))
        head = await self._reader.readuntil(b"\r\n\r\n")
        assert head.startswith(b"HTTP/1.1 200"), head
        length = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0])
        await self._reader.readexactly(length)

    def close(self) -> None:
        self._writer.close()


async def closed_loop(port: int, texts: list[bytes], *, seconds: float = 1e9, most: int = 10**9) -> float:
    """Requests a second where each of a few connections asks again as soon as it is answered."""
    began, asked = time.perf_counter(), 0

    async def one() -> None:
        nonlocal asked
        connection = Connection(port)
        await connection.open()
        while time.perf_counter() - began < seconds and asked < most:
            asked += 1
            await connection.check(texts[asked % len(texts)])
        connection.close()
    await asyncio.gather(*(one() for _ in range(AT_ONCE)))
    return asked / (time.perf_counter() - began)


async def evenly(port: int, text: bytes, rate: float, seconds: float) -> list[float]:
    """How long each of the requests took that come at an even rate, in seconds."""
    connections = [Connection(port) for _ in range(20)]
    for each in connections:
        await each.open()
    times: list[float] = []

    async def one(connection: Connection) -> None:
        began = time.perf_counter()
        await connection.check(text)
        times.append(time.perf_counter() - began)
    began, asked = time.perf_counter(), []
    for number in range(int(rate * seconds)):
        await asyncio.sleep(max(0.0, began + number / rate - time.perf_counter()))
        asked.append(asyncio.ensure_future(one(connections[number % len(connections)])))
    await asyncio.gather(*asked)
    for each in connections:
        each.close()
    return times


def memory(server: Running) -> int:
    """Kilobytes that the server and its processes hold."""
    return sum(int(line.split()[1]) for pid in processes(server)
               for line in Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines() if line.startswith("VmRSS"))


def on_one_core() -> tuple[Running, set[int]]:
    """A server with one worker on the last core, and the cores that are left to the others."""
    cores = os.sched_getaffinity(0)
    last = {max(cores)}
    os.sched_setaffinity(0, last)
    server = started("--workers", "1")
    return server, cores - last or cores


def said(what: str, value: str, bar: str, kept: bool) -> bool:
    print(f"{what:46} {value:>28}   {bar}{'' if kept else '   MISSED'}")
    return kept


def main(checks: int) -> bool:
    """Measure and print; whether every bar was kept."""
    names = [name for name in examples.names() if check(examples.text_of(name)).verdict == "clear"]
    texts = [examples.text_of(name).encode() for name in names]
    server, others = on_one_core()
    try:
        bare(texts, 1)
        alone = bare(texts, ROUNDS)
        os.sched_setaffinity(0, others)
        served(server, texts, 1)
        asked = served(server, texts, ROUNDS)
        overhead = 1 - asked / alone
        kept = [said(f"{len(texts)} clear lists, bare and served", f"{alone:.1f}/s, {asked:.1f}/s, {overhead:.0%} less",
                     f"at most {MOST_OVERHEAD:.0%} less", overhead <= MOST_OVERHEAD)]
        text = examples.text_of(LIST).encode()
        rate = asyncio.run(closed_loop(server.port, [text], seconds=SECONDS / 3)) / 2
        times = sorted(asyncio.run(evenly(server.port, text, rate, 2 * SECONDS)))
        middle, late = statistics.median(times), times[int(0.99 * len(times))]
        kept.append(said(f"{LIST} at half load ({rate:.0f}/s)", f"median {1e3 * middle:.1f} ms, 99 % {1e3 * late:.1f} ms",
                         f"under {MOST_SPREAD:g} times the median", late < MOST_SPREAD * middle))
        asyncio.run(closed_loop(server.port, texts, most=min(1000, checks // 4)))
        before = memory(server)
        asyncio.run(closed_loop(server.port, texts, most=checks))
        growth = memory(server) / before - 1
        kept.append(said(f"memory over {checks} checks", f"{before / 1024:.0f} MB, {growth:+.1%}", f"at most {MOST_GROWTH:+.0%}",
                         growth <= MOST_GROWTH))
        return all(kept)
    finally:
        server.process.terminate()
        server.process.communicate(timeout=60)


if __name__ == "__main__":
    sys.exit(0 if main(int(sys.argv[1]) if len(sys.argv) > 1 else CHECKS) else 1)
