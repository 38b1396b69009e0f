"""``legwise check --format …`` as it is typed: the file that comes out, its status, and that a hostile list stays text."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from jsonschema import Draft202012Validator

from tests.cli.test_cli import CLEAR, CLEAR_STATUS, FOUND, MISUSED, REVERSED, UNREADABLE, legwise
from tests.report.formats import by_class, parsed_html, words_of
from tests.report.test_junit import SCHEMA as JUNIT
from tests.report.test_sarif import VALIDATOR as SARIF

LISTS = {"clear.legs": CLEAR, "reversed.legs": REVERSED, "unreadable.legs": UNREADABLE}
ATTACK = '<script>alert(1)</script>"><img src=x onerror=alert(1)>'
HOSTILE = CLEAR.replace("Tide tank lamp", "<script>alert(1)</script>") + (
    'by "</title><b onclick=alert(1)>"\n'
    f"# {ATTACK} ]]> &amp; {{0}} [a](1)\n"
    f"part {ATTACK} 470 in a20 a25\n"
    "wire a5 to <svg/onload=alert(1)>\n")


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    for name, text in LISTS.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def html_verdicts(text: str) -> list[str]:
    page = parsed_html(text)
    return [words_of(each) for each in by_class(page, "stamp") if each.get("class") != "stamp"]


def sarif_verdicts(text: str) -> list[str]:
    log = json.loads(text)

    assert [] == [error.message for error in SARIF.iter_errors(log)]
    return [each["properties"]["verdict"] for each in log["runs"][0]["artifacts"]]


def junit_verdicts(text: str) -> list[str]:
    root = ElementTree.fromstring(text)

    JUNIT.validate(root)
    return [str(each.get("value")) for each in root.iter("property") if each.get("name") == "verdict"]


READERS: dict[str, Any] = {"html": html_verdicts, "sarif": sarif_verdicts, "junit": junit_verdicts}


@pytest.mark.parametrize("form", READERS)
@pytest.mark.parametrize(
    ("files", "status", "verdicts"),
    [
        ("clear.legs", CLEAR_STATUS, ["clear"]),
        ("reversed.legs", FOUND, ["do-not-power"]),
        ("unreadable.legs", MISUSED, ["unreadable"]),
        ("reversed.legs clear.legs", FOUND, ["do-not-power", "clear"]),
        ("missing.legs clear.legs", MISUSED, ["clear"]),
    ],
)
def test_each_format_is_whole_and_ends_with_the_worst_status(
    bench: Path, form: str, files: str, status: int, verdicts: list[str]
) -> None:
    done = legwise(bench, f"check {files} --format {form}")
    found = READERS[form](done.stdout)

    assert status == done.returncode
    if form == "html":
        words = {"clear": "CLEAR", "do-not-power": "DO NOT POWER", "unreadable": "COULD NOT READ ALL OF IT"}
        listed = 2 if " " in files else 1  # Once in the table of contents, once in its own report.
        assert listed * sorted(words[each] for each in verdicts) != [] and {words[each] for each in verdicts} == set(found)
    else:
        assert verdicts == found


@pytest.mark.parametrize("form", READERS)
def test_a_hostile_list_in_a_hostile_file_stays_text(tmp_path: Path, form: str) -> None:
    name = "a b<img src=x onerror=alert(1)>&%00'.legs"
    (tmp_path / name).write_text(HOSTILE, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "checker", "check", name, "--format", form], cwd=tmp_path, capture_output=True, encoding="utf-8",
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUTF8": "1"}, check=False)
    READERS[form](done.stdout)

    assert MISUSED == done.returncode
    assert "" == done.stderr
    if form == "html":
        page = parsed_html(done.stdout)
        assert [] == [each.tag for each in page.iter() if each.tag in ("script", "img", "title/b")]
        assert [] == [key for each in page.iter() for key in each.attrib if key.startswith("on")]
        assert ATTACK in words_of(page.find("body"))


def test_the_schema_is_printed_alone_and_describes_what_json_prints(bench: Path) -> None:
    schema = json.loads(legwise(bench, "check --schema").stdout)
    printed = json.loads(legwise(bench, "check reversed.legs clear.legs --format json").stdout)

    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(printed)
    assert MISUSED == legwise(bench, "check --schema clear.legs").returncode


def test_an_unknown_format_is_answered_with_those_there_are(bench: Path) -> None:
    done = legwise(bench, "check clear.legs --format yaml")

    assert MISUSED == done.returncode
    assert "terminal, json, html, sarif, junit" in done.stderr
