"""What the command takes from outside: a terminal or a pipe, its width and colour, a checker that fails."""

from __future__ import annotations

import io
import sys
from pathlib import Path
from types import ModuleType

import pytest

from checker import cli
from checker.commands.check import status
from checker.commands.shared import CLEAR, MISUSED
from checker.report.model import Report


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """A checker that finds every list clear but the one called broken.legs, on which it fails."""

    def check(text: str | bytes, file: str = "list", kit: Path | None = None) -> Report:
        if file == "broken.legs":
            raise ZeroDivisionError("by zero")
        return Report(legwise="0", file=file, verdict="clear", headline="ampere " * 30)

    module = ModuleType("checker.checking")
    module.check = check  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "checker.checking", module)
    return module


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("good.legs", "broken.legs"):
        Path(name).write_text("board half\n", encoding="utf-8")


@pytest.mark.parametrize(
    ("terminal", "environment", "width", "colour"),
    [
        (True, {"TERM": "xterm-256color", "COLUMNS": "60"}, 60, True),
        (True, {"TERM": "xterm-256color", "COLUMNS": "60", "NO_COLOR": "1"}, 60, False),
        (True, {"TERM": "dumb", "COLUMNS": "60"}, 80, False),
        (False, {"TERM": "xterm-256color", "COLUMNS": "60"}, 80, False),
    ],
)
def test_a_terminal_gives_width_and_colour_and_a_pipe_gets_eighty_columns_without(
    checked: ModuleType,
    here: None,
    monkeypatch: pytest.MonkeyPatch,
    terminal: bool,
    environment: dict[str, str],
    width: int,
    colour: bool,
) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR", "COLORTERM", "TTY_COMPATIBLE"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    stream = Terminal() if terminal else io.StringIO()
    monkeypatch.setattr(sys, "stdout", stream)
    ended = cli.main(["check", "good.legs"])
    text = stream.getvalue()

    assert ended == CLEAR
    assert ("\x1b[" in text) is colour
    assert width - 7 < max(map(len, text.splitlines())) <= width


def test_with_no_list_and_a_terminal_it_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal())
    ended = cli.main(["check"])
    printed = capsys.readouterr()

    assert ended == MISUSED
    assert printed.out == ""
    assert printed.err.startswith("legwise: no list was given.\n  legwise check FILE.legs ")


def test_a_list_that_trips_the_checker_does_not_cost_the_others_their_report(
    checked: ModuleType, here: None, capsys: pytest.CaptureFixture[str]
) -> None:
    ended = cli.main(["check", "broken.legs", "good.legs"])
    printed = capsys.readouterr()

    assert ended == MISUSED
    assert printed.out.startswith("CLEAR\n=====\n")
    assert printed.err.startswith("legwise: the checker itself failed on broken.legs (ZeroDivisionError: by zero).\n")


@pytest.mark.parametrize(
    ("verdict", "expected"),
    [("clear", 0), ("look-first", 1), ("will-not-work", 1), ("do-not-power", 1), ("unreadable", 2)],
)
def test_each_verdict_has_its_exit_status(verdict: str, expected: int) -> None:
    assert status(Report(legwise="0", file="x", verdict=verdict, headline="")) == expected


def test_a_file_name_that_is_no_text_is_still_printed(
    checked: ModuleType, here: None, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "ma\udcffn.legs"
    Path(name).write_text("board half\n", encoding="utf-8")

    assert cli.main(["check", name, "--format", "json"]) == CLEAR
    assert '"file": "ma?n.legs"' in capsys.readouterr().out
