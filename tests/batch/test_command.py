"""``legwise batch`` as it is typed: the table, the folder, the status, and what is said of what cannot be used."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from checker.batch import default_text
from checker.examples import text_of
from tests.batch.classroom import LAB, students
from tests.cli.test_cli import legwise

LAMP = """\
title "Tide tank lamp"
board half
supply PACK 9V limit 1A on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """A folder with a class of three, a reference, a roster and a scheme."""
    lists = tmp_path / "lists"
    lists.mkdir()
    (lists / "Ada.legs").write_text(LAMP)
    (lists / "Ben.legs").write_text(LAMP.replace("long b10", "long b15"))
    (lists / "Cleo.png").write_bytes(b"\x89PNG")
    (tmp_path / "lamp.legs").write_text(LAMP)
    (tmp_path / "roster.csv").write_text("identifier,name\nada,Ada\nben,Ben\ndan,Dan\n")
    (tmp_path / "marks.toml").write_text(default_text())
    (tmp_path / "wrong.toml").write_text("name = 3\n")
    return tmp_path


def test_the_table_has_a_line_a_person_and_what_to_teach_again_below(desk: Path) -> None:
    done = legwise(desk, "batch lists --against lamp.legs --marks marks.toml --roster roster.csv --workers 1")

    assert ("", 1) == (done.stderr, done.returncode)
    assert """\
who   verdict       mark            like  what was found
Ada   CLEAR         14 of 14        100%
Ben   DO NOT POWER  5 of 14          67%  LED1 is the wrong way round
Cleo  NOT CHECKED   by hand, of 14        it is a picture, not a text list; not
                                          on the roster
Dan   MISSING       0 of 14               nothing was handed in

3 lists: 1 must not be powered, 1 clear, 1 not checked
1 person on the roster handed in nothing
mean mark 9.5 of 14

To teach again
- An LED the wrong way round, in 1 list. An LED lights in one direction only.
""" == done.stdout


def test_the_folder_holds_feedback_summaries_and_pages(desk: Path) -> None:
    done = legwise(desk, "batch lists/*.legs --out out --feedback markdown --workers 2")

    assert 1 == done.returncode
    assert "For the projector: out/class.html" in done.stdout
    assert ["class.html", "feedback", "journal.bin", "junit.xml", "lists.html", "summary.csv", "summary.json"] == sorted(
        path.name for path in (desk / "out").iterdir())
    assert ["ada.md", "ben.md"] == sorted(path.name for path in (desk / "out/feedback").iterdir())
    assert "**DO NOT POWER**: LED1 is the wrong way round." in (desk / "out/feedback/ben.md").read_text()


def test_json_and_csv_go_to_standard_output(desk: Path) -> None:
    table = json.loads(legwise(desk, "batch lists --format json --workers 1").stdout)

    assert ["clear", "do-not-power", "not-checked"] == [row["verdict"] for row in table["lists"]]
    assert legwise(desk, "batch lists --format csv --workers 1").stdout.startswith("\ufeffnumber,name,identifier,file,verdict")


@pytest.mark.parametrize(
    ("command", "status", "said"),
    [
        ("batch lamp.legs --workers 1", 0, ""),
        ("batch lamp.legs --workers 1 --format JSON", 0, ""),
        ("batch lists/Cleo.png --workers 1", 2, ""),
        ("batch", 2, "legwise: no lists were given."),
        ("batch nowhere", 2, "legwise: there is no folder or file nowhere"),
        ("batch *.zip", 2, "legwise: nothing is called *.zip"),
        ("batch lists --marks wrong.toml", 2, "legwise: wrong.toml, field name: a text in quotes is allowed, found 3"),
        ("batch lists --roster lamp.legs", 2, "legwise: lamp.legs: the first line has no column 'identifier'"),
        ("batch lists --against nothing.legs", 2, "legwise: nothing.legs cannot be used: No such file or directory"),
        ("batch lists --against lists", 2, "legwise: lists is a folder; name a file"),
        ("batch lists --parts wrong.toml", 2, "legwise: the parts of wrong.toml cannot be used: "),
        ("batch lists --feedback pdf", 2, "legwise: no feedback 'pdf'. There are: markdown, html"),
        ("batch lists --format xml", 2, "legwise: no format 'xml'. There are: terminal, json, csv"),
        ("batch lists --workers 0", 2, "legwise: --workers takes a number from 1 on"),
        ("batch lists --patience 0", 2, "legwise: --patience takes seconds, more than 0"),
        ("batch lists --out lamp.legs", 2, "legwise: lamp.legs cannot be used: File exists"),
    ],
)
def test_the_status_and_what_is_said(desk: Path, command: str, status: int, said: str) -> None:
    done = legwise(desk, command)

    assert (status, True) == (done.returncode, done.stderr.startswith(said))
    assert "Traceback" not in done.stderr


def test_the_default_scheme_is_printed_as_it_ships(desk: Path) -> None:
    assert default_text() == legwise(desk, "batch --show-marks").stdout


def test_a_command_stopped_from_the_keyboard_says_that_it_can_go_on(tmp_path: Path) -> None:
    """The same as a person does: start it, press Ctrl-C while it works, start it again."""
    (tmp_path / "lists").mkdir()
    for student in students(12, seed=6):
        (tmp_path / "lists" / f"{student.name}.legs").write_text(student.text)
    (tmp_path / "lab.legs").write_text(text_of(LAB))
    typed = [sys.executable, "-m", "checker", "batch", "lists", "--out", "out", "--workers", "1"]
    running = subprocess.Popen(typed, cwd=tmp_path, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True,
                               env={"PYTHONPATH": str(Path(__file__).parents[2])})
    journal = tmp_path / "out" / "journal.bin"
    while running.poll() is None and not (journal.exists() and journal.stat().st_size):
        time.sleep(0.01)
    running.send_signal(signal.SIGINT)
    said = running.communicate(timeout=60)[1]

    assert "stopped. What was checked is kept in out: the same command goes on where this one stopped." in said
    assert "Traceback" not in said
    again = legwise(tmp_path, "batch lists --out out --workers 1")
    assert "had been checked in an earlier run" in again.stdout
    assert (tmp_path / "out" / "class.html").exists()
