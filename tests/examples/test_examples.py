"""The lists that ship with legwise come out as they announce: no finding more, none less, each with a fix."""

from __future__ import annotations

import json
import re
from functools import cache

import pytest
from jsonschema import Draft202012Validator

from checker.checking import check
from checker.examples import names, text_of, title_of
from checker.report import Page, render
from checker.report.json_schema import shipped
from checker.report.model import Report
from tests.examples.announced import announced

GOOD = [name for name in names() if "#: verdict" not in text_of(name)]
FAULTY = [name for name in names() if name not in GOOD]
BENCHES = 10
SCHEMA = Draft202012Validator(json.loads(shipped()))


@cache
def _report(name: str) -> Report:
    return check(text_of(name).encode(), file=f"{name}.legs")


def _bench_of(faulty: str) -> str:
    """The good list whose sister this is: the longest name that it begins with."""
    return max((good for good in GOOD if faulty.startswith(f"{good}-")), key=len, default="")


@pytest.mark.parametrize("name", names())
def test_a_list_gives_what_it_announces(name: str) -> None:
    said = announced(text_of(name))
    report = _report(name)
    found = sorted((finding.span.line, finding.severity, finding.rule) for finding in report.findings)

    assert list(said.findings) == found, [finding.message for finding in report.findings]
    assert said.verdict == report.verdict


@pytest.mark.parametrize("name", FAULTY)
def test_every_fault_of_a_faulty_list_has_a_checked_fix(name: str) -> None:
    said = announced(text_of(name))
    serious = [each for each in _report(name).findings if each.severity in ("danger", "damage", "fault")]
    unmended = [each.message for each in serious if not any(fix.checked for fix in each.fixes)]

    assert bool(unmended) is not said.has_fix, unmended


@pytest.mark.parametrize("name", names())
def test_the_json_of_a_list_keeps_its_schema(name: str) -> None:
    printed = json.loads(render("json", [_report(name)], Page()))

    assert [] == [error.message for error in SCHEMA.iter_errors(printed)]


def test_every_bench_has_a_good_list_with_two_to_seven_faulty_sisters() -> None:
    sisters = {good: sum(_bench_of(name) == good for name in FAULTY) for good in GOOD}

    assert len(GOOD) >= BENCHES
    assert not [name for name in FAULTY if not _bench_of(name)]
    assert {good: count for good, count in sisters.items() if not 2 <= count <= 7} == {}


def test_every_list_teaches_with_a_title_comments_and_expectations() -> None:
    poor = [name for name in names()
            if not title_of(name) or not re.search(r"^expect ", text_of(name), re.MULTILINE)
            or text_of(name).count("#") < 3]

    assert poor == []


def test_a_faulty_list_differs_from_its_bench_in_few_lines() -> None:
    """One slip is one movement of the hand: few lines besides those that only carry the announcement."""
    for name in FAULTY:
        good = {_bare(line) for line in text_of(_bench_of(name)).splitlines()}
        changed = [line for line in text_of(name).splitlines() if _bare(line) not in good]

        assert len(changed) <= 4, (name, changed)


WIDTH = {"by", "board mini", "board full", "rails split", "rails joined", "across", "notch row", "notch top", "dot", "tab faces",
         "flat faces", "band","stripe", "long", "cathode", "bands", "code", "measured", "keep", "power", "pwm", "pullup",
         "analog", "bus", "limit", "to @", "drops", "dissipates", "carries", "when", " and "}


def test_the_examples_use_the_whole_width_of_the_language() -> None:
    text = "\n".join(line.partition("#")[0] for name in GOOD for line in text_of(name).splitlines())

    assert {words for words in WIDTH if words not in text} == set()


def _bare(line: str) -> str:
    return " ".join(line.partition("#")[0].split()) if not line.startswith(("#", "title")) else ""


def test_an_announcement_without_meaning_is_refused() -> None:
    with pytest.raises(ValueError, match="line 2"):
        announced("# a list\npart R1 220   #: damages diode-reversed\n")
