"""Correct circuits raise no alarm: every list in this folder is clear.

Each list says in its comments why it is right: the currents and voltages computed by hand, with the ratings from the
datasheets named in the parts library. The first group follows the section "What must not raise an alarm" of the notes on
what goes wrong at the bench (common practice, no source).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.checking import check

LISTS = sorted(Path(__file__).parent.glob("*.legs"))
NUMBER = 60


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_a_correct_circuit_is_clear(path: Path) -> None:
    report = check(path.read_bytes(), file=path.name)
    alarms = [f"{each.severity} {each.rule}, line {each.span.line}: {each.message}" for each in report.findings
              if each.severity != "note"]

    assert alarms == []
    assert report.verdict == "clear"


def test_the_lists_are_many() -> None:
    assert len(LISTS) >= NUMBER
