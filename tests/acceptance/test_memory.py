"""A process that checks many lists, as a server does, remembers no more than it is meant to."""

from __future__ import annotations

import pytest

from checker import check
from checker.rules import paths

LIST = """board half
supply P 5V on L+ L-
part R1 {ohms} in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""
BOUND = 20


def test_what_is_remembered_of_parts_has_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paths, "MOST_KNOWN", BOUND)
    monkeypatch.setattr(paths, "_known", {})

    for ohms in range(200, 200 + 2 * BOUND):
        check(LIST.format(ohms=ohms))

    assert 0 < len(paths._known) <= BOUND
