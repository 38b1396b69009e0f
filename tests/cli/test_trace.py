"""``legwise trace`` as it is typed: readings, states, questions and answers in; status, page and complaint out."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from checker.examples import text_of

CLEAR, FOUND, MISUSED = 0, 1, 2
LISTS = {
    "mister.legs": text_of("seed-tray-mister"),
    "nothing.legs": "board half\npart R1 1k in b5 b10\n",
    "unread.legs": text_of("seed-tray-mister") + "wire a20 to\n",
    "reversed.legs": text_of("seed-tray-mister").replace("band d18", "band d12"),
}


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    for name, text in LISTS.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def trace(bench: Path, *words: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "checker", "trace", *words], cwd=bench, input=typed, capture_output=True, encoding="utf-8",
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUTF8": "1"}, check=False)


RANKED = [
    # typed, status, first line of the ranking
    ("--when U1.D9=high --saw b16=4.56V --saw b12=0.09V --saw R1=17mA", CLEAR, "nothing is wrong with the wiring: suspect "),
    ("--when U1.D9=high --saw U1.D9=0V --saw U1.5V=5V", FOUND, "U1.D9 stays low: the program does not "),
    # the state holds for what follows it, until the next: 9 V at the pump's lead is right while D9 is low, not while it is high
    ("--when U1.D9=high --saw PUMP.1=0.09V --when U1.D9=low --saw PUMP.1=9V", CLEAR, "nothing is wrong with the wiring: "),
    ("--saw L+=5.2V --saw L+18=5.2V", FOUND, "PACK is worn: much of its voltage is gone"),
]


@pytest.mark.parametrize(("typed", "status", "first"), RANKED, ids=[typed for typed, _, _ in RANKED])
def test_the_ranking_and_the_status(bench: Path, typed: str, status: int, first: str) -> None:
    done = trace(bench, "mister.legs", *typed.split())
    ranking = done.stdout.split("\n\n")[1]

    assert done.returncode == status
    assert first in " ".join(ranking.split())
    assert ranking.split("%")[1].split()[:3] == first.split()[:3]
    assert done.stderr == ""


COMPLAINTS = [
    ("mister.legs --saw b99=3V", "legwise: no point 'b99' in the list"),
    ("mister.legs --saw PUNP.1=3V", "legwise: no point 'PUNP.1' in the list. The nearest is PUMP.1\n"),
    ("mister.legs --saw PUMP=stil", "legwise: 'stil' is nothing that is seen. The nearest is still\n"),
    ("mister.legs --when U1.D8=high", "legwise: 'U1.D8' cannot be switched. The nearest is U1.D9\n"),
    ("mister.legs --saw", "legwise: --saw needs a word after it\n"),
    ("mister.legs --swa b10=3V", "legwise: no option '--swa' for legwise trace. The nearest is --saw\n"),
    ("mister.legs --format jsn", "legwise: no format 'jsn'. The nearest is json\n"),
    ("nothing.legs", "legwise: nothing.legs has no supply and no controller: there is nothing to measure\n"),
    ("unread.legs", "legwise: unread.legs cannot be read whole\n  legwise check unread.legs   says where\n"),
    ("missing.legs", "legwise: cannot read missing.legs: no such file or directory\n"),
    ("- --ask", "legwise: --ask reads the answers from standard input: name the file of the list\n"),
    ("", "legwise: "),
]


@pytest.mark.parametrize(("typed", "complaint"), COMPLAINTS, ids=[typed for typed, _ in COMPLAINTS])
def test_what_is_not_understood_is_one_complaint_and_the_status_2(bench: Path, typed: str, complaint: str) -> None:
    done = trace(bench, *typed.split())

    assert done.returncode == MISUSED
    assert done.stderr.startswith(complaint)
    assert done.stdout == ""


def test_a_list_on_standard_input_and_one_that_is_not_clear(bench: Path) -> None:
    done = trace(bench, "-", typed=LISTS["reversed.legs"])

    assert done.returncode == FOUND
    assert "The list itself is not clear: legwise check - says what is wrong in it." in done.stdout


def test_questions_are_asked_until_the_answers_end(bench: Path) -> None:
    done = trace(bench, "mister.legs", "--ask", "--when", "U1.D9=high", "--saw", "PUMP=still", typed="\n9\n")
    lines = done.stdout.splitlines()

    assert [line[:3] for line in lines if line[:1].isdigit() and line[1:2] == "."] == ["1. ", "2. ", "3. "]
    assert "WHAT IS LIKELIEST" in lines
    assert done.stderr == ""


def test_the_json_is_alone_on_standard_output_even_while_asking(bench: Path) -> None:
    done = trace(bench, "mister.legs", "--ask", "--format", "json", typed="9\n")

    assert len(json.loads(done.stdout)["seen"]) == 1
    assert done.stderr.startswith("One question at a time.")
