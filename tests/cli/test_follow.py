"""``legwise check --follow``: a real process, a real file, saved in the ways that editors save.

Nothing here waits a fixed time for the process: each step reads its output until what it expects has come, and the limit is
only there so that a fault ends the test instead of hanging it.
"""

from __future__ import annotations

import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from queue import Queue
from threading import Thread

import pytest

from tests.cli.test_cli import CLEAR, CLEAR_STATUS, FOUND, MISUSED, REVERSED, UNREADABLE, legwise

LONGEST_WAIT = 60.0
ROOT = Path(__file__).parents[2]


class Following:
    """A running ``legwise check --follow``; its two outputs as one queue of lines."""

    def __init__(self, folder: Path, *more: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "checker", "check", "--follow", "list.legs", *more],
            cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8",
            env={"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", "PYTHONUNBUFFERED": "1"})
        self.lines: Queue[str] = Queue()
        self.reader = Thread(target=self._read, daemon=True)
        self.reader.start()

    def _read(self) -> None:
        assert self.process.stdout is not None

        for line in self.process.stdout:
            self.lines.put(line.rstrip("\n"))

    def until(self, start: str) -> list[str]:
        """The lines up to the one that begins with ``start``; queue.Empty where it never comes."""
        read: list[str] = []
        while not read or not read[-1].startswith(start):
            read.append(self.lines.get(timeout=LONGEST_WAIT))
        return read

    def report(self) -> list[str]:
        """The lines of one more report."""
        return self.until("Following list.legs, checked at ")

    def end(self) -> int:
        """Press Ctrl-C; the status."""
        self.process.send_signal(signal.SIGINT)
        return self.process.wait(timeout=LONGEST_WAIT)


@pytest.fixture
def following(tmp_path: Path) -> Iterator[Following]:
    (tmp_path / "list.legs").write_text(REVERSED, encoding="utf-8")
    started = Following(tmp_path)
    yield started
    started.process.kill()
    started.process.wait()
    started.reader.join()
    assert started.process.stdout is not None

    started.process.stdout.close()


def in_place(path: Path, text: str) -> None:
    """As a plain editor saves: the file is emptied and written."""
    path.write_text(text, encoding="utf-8")


def by_replacing(path: Path, text: str) -> None:
    """As a careful editor saves: a new file is written beside it and put in its place."""
    beside = path.with_name("list.legs.new")
    beside.write_text(text, encoding="utf-8")
    beside.replace(path)


def by_removing_first(path: Path, text: str) -> None:
    """As some do: for a moment there is no file."""
    path.rename(path.with_name("list.legs~"))
    path.write_text(text, encoding="utf-8")


@pytest.mark.parametrize("save", [in_place, by_replacing, by_removing_first])
def test_the_list_is_checked_again_on_every_save(following: Following, tmp_path: Path, save: object) -> None:
    assert callable(save)
    first = following.report()
    save(tmp_path / "list.legs", CLEAR)
    second = following.report()
    save(tmp_path / "list.legs", UNREADABLE)
    third = following.report()

    assert ["DO NOT POWER", "", "COULD NOT READ ALL OF IT"] == [first[0], second[0], third[3]]
    assert "CLEAR" in second
    assert ["-" * 60] == [line for line in second if line and set(line) == {"-"}]
    assert MISUSED == following.end()


@pytest.mark.parametrize(("last", "status"), [(CLEAR, CLEAR_STATUS), (REVERSED + "\n", FOUND), (UNREADABLE, MISUSED)])
def test_ctrl_c_ends_it_with_the_status_of_the_last_check(
    following: Following, tmp_path: Path, last: str, status: int
) -> None:
    following.report()
    in_place(tmp_path / "list.legs", last)
    following.report()

    assert status == following.end()
    assert "Traceback" not in "".join(following.lines.queue)


def test_a_file_that_is_gone_is_waited_for(following: Following, tmp_path: Path) -> None:
    following.report()
    (tmp_path / "list.legs").unlink()
    following.until("list.legs is gone; waiting for it.")
    in_place(tmp_path / "list.legs", CLEAR)

    assert "CLEAR" in following.report()
    assert CLEAR_STATUS == following.end()


@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("check --follow clear.legs --format json", "--format terminal only"),
        ("check --follow clear.legs --format html", "--format terminal only"),
        ("check --follow clear.legs --mend", "not with --mend"),
        ("check --follow clear.legs reversed.legs", "follows one list in a file"),
        ("check --follow -", "follows one list in a file"),
        ("check --follow", "follows one list in a file"),
        ("check --follow missing.legs", "cannot read missing.legs"),
    ],
)
def test_what_cannot_be_followed_is_refused(tmp_path: Path, command: str, said: str) -> None:
    for name, text in (("clear.legs", CLEAR), ("reversed.legs", REVERSED)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    done = legwise(tmp_path, command)

    assert MISUSED == done.returncode
    assert said in done.stderr
    assert "" == done.stdout
