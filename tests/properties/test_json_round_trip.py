"""The JSON report read back with msgspec is the Report it was written from, but for the list's own text."""

from __future__ import annotations

import msgspec
from hypothesis import given, settings

from checker.checking import check
from checker.report import Page, render
from checker.report.model import Report
from tests.properties.lists import SMALL, any_list


@settings(max_examples=14)
@given(any_list(SMALL))
def test_one_report_reads_back_as_itself(text: str) -> None:
    report = check(text, "bench.legs")

    again = msgspec.json.decode(render("json", [report], Page()), type=Report)

    assert msgspec.structs.replace(report, lines=()) == again


@settings(max_examples=5)
@given(any_list(SMALL), any_list(SMALL, always_slipped=True))
def test_several_reports_read_back_in_their_order(one: str, other: str) -> None:
    reports = [check(one, "one.legs"), check(other, "other.legs")]

    again = msgspec.json.decode(render("json", reports, Page(several=True)), type=list[Report])

    assert [msgspec.structs.replace(report, lines=()) for report in reports] == again
