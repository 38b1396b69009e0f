"""``legwise compare`` and ``legwise check --expects`` as they are typed: what is printed, and the exit status."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import main
from checker.examples import text_of

PUMP = text_of("seed-tray-mister")
FILES = {"same": PUMP.replace("R1 ", "R4 "), "turned": PUMP.replace("band d18", "band d12"), "unread": PUMP + "wibble\n",
         "reference": PUMP, "expects": "expect PUMP carries 80mA to 120mA when U1.D9 high\n", "plain": "board half\n"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        (tmp_path / f"{name}.legs").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(("name", "status", "verdict"), [
    ("same", 0, "THE SAME CIRCUIT"),
    ("turned", 1, "NOT THE SAME CIRCUIT"),
    ("unread", 2, "THE SAME CIRCUIT, AS FAR AS IT CAN BE READ"),
])
def test_the_status_says_whether_it_is_the_same(folder: Path, capsys: pytest.CaptureFixture[str], name: str, status: int,
                                                verdict: str) -> None:
    assert main(["compare", str(folder / "reference.legs"), str(folder / f"{name}.legs")]) == status
    assert capsys.readouterr().out.splitlines()[0] == verdict


def test_the_differences_are_printed_with_what_to_do(folder: Path, capsys: pytest.CaptureFixture[str],
                                                     monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    main(["compare", "reference.legs", "turned.legs"])

    assert capsys.readouterr().out == """\
NOT THE SAME CIRCUIT
====================
turned.legs beside reference.legs, which is the reference: 1 difference

1. D1 is the wrong way round (line 11)
   To do: turn D1 round: band to d18

Alike: 85 % of the connections. Holes, names, the order of the lines and the
ways of the wires make no difference.
"""


def test_json_has_the_same_in_fields(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["compare", str(folder / "reference.legs"), str(folder / "turned.legs"), "--format", "json"])
    found = json.loads(capsys.readouterr().out)

    assert (found["same"], found["bounded"], found["unread"]) == (False, False, False)
    assert found["likeness"] == pytest.approx(11 / 13, abs=1e-4)
    assert found["pairs"]["D1"] == "D1"
    assert [(one["kind"], one["parts"], one["span"]["line"], one["wiring"]) for one in found["differences"]] == [
        ("turned", ["D1"], 11, True)]


@pytest.mark.parametrize(("arguments", "status"), [
    (["reference.legs", "missing.legs"], 2),
    (["reference.legs", "same.legs", "--format", "picture"], 2),
    (["-", "-"], 2),
])
def test_misuse_is_told(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
                        arguments: list[str], status: int) -> None:
    monkeypatch.chdir(folder)

    assert main(["compare", *arguments]) == status
    assert capsys.readouterr().err.startswith("legwise: ")


@pytest.mark.parametrize(("file", "expects", "status", "said"), [
    ("same", "reference", 0, "2 of 2 expectations met"),
    ("same", "expects", 0, "1 of 1 expectations met"),
    ("turned", "reference", 1, "of 2 expectations met"),
    ("unread", "expects", 2, "1 of 1 expectations met"),
])
def test_expectations_of_another_file_are_judged(folder: Path, monkeypatch: pytest.MonkeyPatch, file: str, expects: str,
                                                 capsys: pytest.CaptureFixture[str], status: int, said: str) -> None:
    monkeypatch.chdir(folder)

    assert main(["check", f"{file}.legs", "--expects", f"{expects}.legs"]) == status
    assert said in capsys.readouterr().out


def test_a_file_without_expectations_is_misuse(folder: Path, monkeypatch: pytest.MonkeyPatch,
                                               capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(folder)

    assert main(["check", "same.legs", "--expects", "plain.legs"]) == 2
    assert "no line that begins with 'expect'" in capsys.readouterr().err


def test_outcomes_in_json_have_the_measured_value(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(folder / "same.legs"), "--expects", str(folder / "expects.legs"), "--format", "json"])
    outcome, = json.loads(capsys.readouterr().out)["outcomes"]

    assert outcome["met"] is True
    assert outcome["unit"] == "A"
    assert outcome["measured"] == pytest.approx(0.099, rel=0.02)
