"""``legwise draw`` as it is typed: what it prints, what it writes, its status and its complaints."""

from __future__ import annotations

import os
from pathlib import Path
from xml.etree import ElementTree

import pytest

from checker.cli import main
from checker.examples import text_of


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("seed-tray-mister", "seed-tray-mister-diode-round", "puppet-nose"):
        (tmp_path / f"{name}.legs").write_text(text_of(name), encoding="utf-8")
    (tmp_path / "unreadable.legs").write_text("part R1 in\n???\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


STATUSES = [("seed-tray-mister.legs", 0), ("seed-tray-mister-diode-round.legs", 1), ("unreadable.legs", 2), ("missing.legs", 2)]


@pytest.mark.parametrize(("name", "status"), STATUSES)
def test_the_status_is_that_of_check(bench: Path, name: str, status: int) -> None:
    assert status == main(["draw", name]) == main(["check", name])


def test_the_terminal_drawing_is_printed_unless_asked_otherwise(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["draw", "seed-tray-mister-diode-round.legs"])
    shown = capsys.readouterr().out

    assert " 10  ·  o   o  · ▐E" in shown and "(1) D1 is the wrong way round" in shown


@pytest.mark.parametrize(("options", "kind"), [(["--format", "svg"], "board-drawing"),
                                               (["--format", "svg", "--view", "connections"], "connection-diagram")])
def test_svg_goes_to_standard_output(bench: Path, capsysbinary: pytest.CaptureFixture[bytes], options: list[str],
                                     kind: str) -> None:
    main(["draw", "seed-tray-mister.legs", *options])

    assert kind == ElementTree.fromstring(capsysbinary.readouterr().out).get("class")


@pytest.mark.parametrize(("options", "kind"), [([], "board-drawing"), (["--view", "connections"], "connection-diagram")])
def test_a_drawing_is_written_into_a_file(bench: Path, capsys: pytest.CaptureFixture[str], options: list[str], kind: str) -> None:
    status = main(["draw", "seed-tray-mister.legs", "--into", "board.svg", *options])

    assert (0, "") == (status, capsys.readouterr().out)
    assert kind == ElementTree.fromstring((bench / "board.svg").read_bytes()).get("class")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no named pipes here")
def test_what_is_no_file_is_written_to_and_not_replaced(bench: Path) -> None:
    os.mkfifo(bench / "pipe")
    reading = os.open(bench / "pipe", os.O_RDONLY | os.O_NONBLOCK)
    status = main(["draw", "puppet-nose.legs", "--into", "pipe"])
    written = os.read(reading, 65536)
    os.close(reading)

    assert (0, True, True) == (status, bool(written), (bench / "pipe").is_fifo())


COMPLAINTS = [
    ("seed-tray-mister.legs --format sgv", "no format 'sgv'. The nearest is svg"),
    ("seed-tray-mister.legs --view bord", "no view 'bord'. The nearest is board"),
    ("seed-tray-mister.legs --view connections", "the connections are drawn as SVG only: add --format svg, or --into FILE.svg"),
    ("seed-tray-mister.legs --into nowhere/board.svg", "nowhere/board.svg cannot be written: No such file or directory"),
    ("seed-tray-mister.legs --parts kit.toml", "the parts of kit.toml cannot be used: "),
    ("missing.legs", "cannot read missing.legs: no such file or directory"),
]


@pytest.mark.parametrize(("typed", "complaint"), COMPLAINTS)
def test_misuse_is_said_in_one_line(bench: Path, capsys: pytest.CaptureFixture[str], typed: str, complaint: str) -> None:
    status = main(["draw", *typed.split()])

    assert 2 == status
    assert capsys.readouterr().err.startswith(f"legwise: {complaint}")
