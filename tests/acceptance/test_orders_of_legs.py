"""A switch for a motor, wired for every order of a transistor's legs but its own: each is told as exchanged legs, and mended.

The orders are those of the datasheets (tests/published/test_pin_orders.py): which legs get exchanged is not.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from checker import check
from checker.fixes.draft import made
from parts_library import load_library

ROWS = (10, 11, 12)
TYPES = [
    # type, ohms before its base or gate: (5 V - 0.7 V) / 330 ohm is 13 mA for a motor that stalls at 300 mA
    ("BC337", "330"), ("BC639", "330"), ("PN2222A", "330"), ("BS170", "220"),
]
ORDERS = [(kind, ohms, order) for kind, ohms in TYPES for order in permutations(ROWS)]
WIRED = """\
title "Tram stop: the barrier's motor"
board half
supply PACK 9V on L+ L-
part U1 controller-5v
part BARRIER motor 9V 100mA stall 300mA
part Q1 {kind} in c10 c11 c12 flat faces a
part R1 {ohms} in b{control} b20
part D1 1N4001 in d{load} d18 band d18
wire U1.D9 to a20
wire U1.GND to L-5
wire L-8 to a{minus}
wire BARRIER.1 to b{load}
wire BARRIER.2 to b18
wire e18 to L+18
pin U1.D9 output
"""


@pytest.mark.parametrize(("kind", "ohms", "order"), ORDERS, ids=[f"{kind} {order}" for kind, _, order in ORDERS])
def test_each_wrong_order_is_told_and_mended(kind: str, ohms: str, order: tuple[int, int, int]) -> None:
    entry = load_library().find(kind).entry
    assert entry is not None
    row = dict(zip(entry.pins, order, strict=True))
    report = check(WIRED.format(kind=kind, ohms=ohms, control=row.get("B") or row.get("G"), load=row.get("C") or row.get("D"),
                                minus=row.get("E") or row.get("S")))
    if order == ROWS:
        assert report.verdict == "clear"
        return
    assert report.findings[0].rule == "transistor-legs-swapped"
    fix = report.findings[0].fixes[0]
    assert fix.checked and check(made(report.lines, fix.edits)).verdict == "clear"
