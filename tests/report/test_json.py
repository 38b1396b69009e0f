"""The JSON contract: its keys in their order, its numbers as numbers. The table is DESIGN.md section 3, written out."""

from __future__ import annotations

import json
from math import inf, nan
from typing import Any

import msgspec
import pytest

from checker.report import Page, render
from checker.report.model import Evidence, Report
from tests.report.samples import CLEAR, DO_NOT_POWER, REVERSED, SAMPLES

ONE, SEVERAL = Page(), Page(several=True)
KEYS = {
    "": "legwise file title by verdict headline findings assumed states advice summary",
    "findings.0": "rule severity parts points span message why evidence consequences fixes",
    "findings.0.span": "line column end_line end_column",
    "findings.0.evidence.0": "quantity of value unit limit least state corner reading",
    "findings.0.consequences.0": "rule severity parts points span message why evidence consequences fixes",
    "findings.0.fixes.0": "say edits checked",
    "findings.0.fixes.0.edits.0": "line text",
    "states.0": "state phase voltages currents",
    "summary": "danger damage fault look note",
}


def as_json(report: Report) -> Any:
    return json.loads(render("json", [report], ONE))


def at(value: Any, path: str) -> Any:
    for step in filter(None, path.split(".")):
        value = value[int(step) if step.isdigit() else step]
    return value


@pytest.mark.parametrize(("path", "keys"), KEYS.items())
def test_each_object_has_the_keys_of_the_contract_in_its_order(path: str, keys: str) -> None:
    assert list(at(as_json(DO_NOT_POWER), path)) == keys.split()


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("legwise", "0.1"),
        ("file", "mister.legs"),
        ("by", "Ida"),
        ("verdict", "do-not-power"),
        ("findings.0.parts", ["D1"]),
        ("findings.0.span", {"line": 9, "column": 32, "end_line": 9, "end_column": 40}),
        ("findings.0.evidence.0.value", 8.4),
        ("findings.0.evidence.0.limit", 0.625),
        ("findings.0.evidence.0.state", {"U1.D9": "high"}),
        ("findings.0.fixes.0.checked", True),
        ("findings.0.fixes.0.edits", [{"line": 9, "text": "part   D1   1N4001  in d12 d18 band d18"}]),
        ("findings.1.evidence", []),
        ("assumed", ["R1 is 1/4 W, 5 %", "U1 runs from USB"]),
        ("states.0.currents", {"PUMP": 0.098}),
        ("summary", {"danger": 0, "damage": 1, "fault": 0, "look": 0, "note": 1}),
    ],
)
def test_each_value_is_plain_json(path: str, value: object) -> None:
    assert at(as_json(DO_NOT_POWER), path) == value


def test_what_is_not_known_is_null_and_not_left_out() -> None:
    assert at(as_json(SAMPLES["unreadable"]), "title") is None
    assert at(as_json(SAMPLES["look-first"]), "findings.0.evidence.0.limit") is None


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_a_number_that_json_cannot_write_is_null(value: float) -> None:
    evidence = Evidence(quantity="current", of="D1", value=value, unit="A", limit=value)
    finding = msgspec.structs.replace(REVERSED, evidence=(evidence,))
    found = at(as_json(msgspec.structs.replace(DO_NOT_POWER, findings=(finding,))), "findings.0.evidence.0")

    assert (found["value"], found["limit"]) == (None, None)


@pytest.mark.parametrize("report", SAMPLES.values(), ids=SAMPLES)
def test_nothing_but_the_text_of_the_list_is_lost(report: Report) -> None:
    back = msgspec.json.decode(render("json", [report], ONE), type=Report)

    assert back == msgspec.structs.replace(report, lines=())


@pytest.mark.parametrize(
    ("reports", "page", "verdicts"),
    [
        ([CLEAR], ONE, "clear"),
        ([CLEAR], SEVERAL, ["clear"]),
        ([DO_NOT_POWER, CLEAR], SEVERAL, ["do-not-power", "clear"]),
        ([], SEVERAL, []),
    ],
)
def test_several_lists_are_an_array_even_where_one_could_be_opened(
    reports: list[Report], page: Page, verdicts: object
) -> None:
    found = json.loads(render("json", reports, page))
    got = [each["verdict"] for each in found] if isinstance(found, list) else found["verdict"]

    assert got == verdicts


def test_the_text_is_indented_and_ends_with_a_line_end() -> None:
    text = render("json", [CLEAR], ONE)

    assert text.startswith('{\n  "legwise": "0.1",\n  "file": "signal.legs",\n')
    assert text.endswith("\n}\n")
    assert render("json", [], ONE) == ""
