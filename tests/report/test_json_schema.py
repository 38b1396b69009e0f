"""The JSON Schema of our own JSON: it is what the structs give, every report keeps it, and it refuses what breaks it.

Held with jsonschema, an implementation by others of the draft 2020-12.
"""

from __future__ import annotations

import json
from math import nan
from typing import Any

import msgspec
import pytest
from jsonschema import Draft202012Validator

from checker.report import Page, render
from checker.report.json_schema import made, shipped
from checker.report.model import SEVERITIES, VERDICTS, Evidence, Report
from tests.report.samples import CLEAR, DO_NOT_POWER, REVERSED, SAMPLES

SCHEMA = json.loads(shipped())
VALIDATOR = Draft202012Validator(SCHEMA)


def as_json(*reports: Report, several: bool = False) -> Any:
    return json.loads(render("json", reports, Page(several=several)))


def test_the_shipped_schema_is_what_the_structs_give() -> None:
    assert made() == shipped(), "python -m checker.report.json_schema writes it anew"


def test_the_schema_is_itself_valid_by_the_draft() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("report", SAMPLES.values(), ids=SAMPLES)
def test_every_report_keeps_it_alone_and_in_an_array(report: Report) -> None:
    assert VALIDATOR.is_valid(as_json(report))
    assert VALIDATOR.is_valid(as_json(report, CLEAR, several=True))


def test_a_number_that_json_cannot_write_keeps_it() -> None:
    evidence = Evidence(quantity="current", of="D1", value=nan, unit="A", limit=nan)
    report = msgspec.structs.replace(DO_NOT_POWER, findings=(msgspec.structs.replace(REVERSED, evidence=(evidence,)),))

    assert VALIDATOR.is_valid(as_json(report))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("verdict", "fine"),
        ("verdict", None),
        ("title", 5),
        ("findings.0.severity", "grave"),
        ("findings.0.rule", "Diode Reversed"),
        ("findings.0.message", ""),
        ("findings.0.span.line", 0),
        ("findings.0.evidence.0.value", "8.4 W"),
        ("findings.0.evidence.0.state", {"U1.D9": 1}),
        ("findings.0.consequences.0.severity", "grave"),
        ("findings.0.fixes.0.checked", "yes"),
        ("findings.0.fixes.0.edits.0.line", 0),
        ("states.0.phase", "reset"),
        ("summary.damage", -1),
    ],
)
def test_a_wrong_value_is_refused(path: str, value: object) -> None:
    report = as_json(DO_NOT_POWER)
    *steps, last = path.split(".")
    place = report
    for step in steps:
        place = place[int(step) if step.isdigit() else step]
    place[last] = value

    assert not VALIDATOR.is_valid(report)


@pytest.mark.parametrize("struct", sorted(SCHEMA["$defs"]))
def test_every_key_of_the_contract_is_required(struct: str) -> None:
    described = SCHEMA["$defs"][struct]

    # a state has these only where a coil is switched off
    assert [key for key in described["properties"] if key not in ("coil", "energy", "release")] == described["required"]
    assert described["description"]


def test_the_words_of_the_contract_are_those_of_the_model() -> None:
    assert list(VERDICTS) == SCHEMA["$defs"]["Report"]["properties"]["verdict"]["enum"]
    assert list(SEVERITIES) == SCHEMA["$defs"]["Finding"]["properties"]["severity"]["enum"]
    assert "lines" not in SCHEMA["$defs"]["Report"]["properties"]
