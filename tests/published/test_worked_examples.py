"""Currents and voltages of the report agree with worked examples of handbooks and with figures of datasheets."""

from __future__ import annotations

import json
from typing import Any

import pytest

from checker import check
from checker.report import json_format
from checker.report.page import Page
from tests.published import worked_examples as published
from tests.published.worked_examples import EXAMPLES, Example


def as_json(lines: str) -> dict[str, Any]:
    """The report on a list as a user gets it: text in, JSON out."""
    report: dict[str, Any] = json.loads(json_format.render([check(lines)], Page()))
    assert not [finding for finding in report["findings"] if finding["rule"] in ("syntax", "unknown-part", "bad-value")], report
    return report


def state_of(report: dict[str, Any], example: Example) -> dict[str, Any]:
    """The first state of the example's phase that has the options it names."""
    states = (state for state in report["states"] if state["phase"] == example.phase)
    return next(state for state in states if dict(example.state).items() <= state["state"].items())


def quantity_in(state: dict[str, Any], quantity: str) -> float:
    """``amps R1``, ``volts Q1.C`` or ``volts R1.1 - R1.2`` in a state."""
    kind, one, *rest = quantity.split()
    values = state["currents"] if kind == "amps" else state["voltages"]
    return float(values[one] - values[rest[1]] if rest else values[one])


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.what.replace(" ", "-"))
def test_the_report_agrees_with_the_worked_example(example: Example) -> None:
    state = state_of(as_json(example.lines), example)

    found = {expected.quantity: quantity_in(state, expected.quantity) for expected in example.expected}
    outside = {expected: found[expected.quantity] for expected in example.expected
               if not expected.low <= found[expected.quantity] <= expected.high}

    assert not outside, f"{example.source}; {example.why}"


@pytest.mark.parametrize("capacitor", ["100uF", "code 107"])
def test_the_peak_of_a_coil_with_a_capacitor_is_the_published_one(capacitor: str) -> None:
    """What is above the supply's own highest voltage, per ampere, and the energy, per ampere squared."""
    report = as_json(published.PEAK_LIST.format(capacitor=capacitor))
    finding = next(finding for finding in report["findings"] if finding["rule"] == "no-clamp")
    evidence = {proof["quantity"]: proof["value"] for proof in finding["evidence"]}
    supply = 30.0 * 1.05

    peak = (evidence["voltage"] - supply) / evidence["current"]

    assert peak == pytest.approx(published.PEAK_VOLTS / published.PEAK_AMPS, rel=1e-3), published.PEAK_SOURCE
    assert evidence["energy"] / evidence["current"] ** 2 == pytest.approx(published.PEAK_JOULES / published.PEAK_AMPS**2)


def test_every_row_has_a_source_a_reason_and_a_range() -> None:
    for example in EXAMPLES:
        assert example.source and example.why
        assert all(expected.low < expected.high for expected in example.expected), example.what


def test_no_two_rows_tell_the_same() -> None:
    assert len({example.what for example in EXAMPLES}) == len(EXAMPLES)
