"""What a breadboard's contacts carry: a note above 1 A for long, damage above 3 A; a short is told by itself."""

from __future__ import annotations

import pytest

from checker.checking import check
from checker.report.model import Finding


def found(heater: str, more: str = "", limit: str = "10A") -> list[Finding]:
    text = f"board half\nsupply PS bench-supply 12V limit {limit} on L+ L-\n{heater}{more}"
    return [f for f in check(text).findings if f.rule == "too-much-current"]


def plate(amps: str) -> str:
    return f"part H heater 12V {amps}\nwire L+5 to H.1\nwire H.2 to L-5\n"


@pytest.mark.parametrize(("amps", "severity"), [
    # ±5 % of the supply are looked at too: 0.95 A come to 0.997 A, 2.8 A to 2.94 A
    ("0.5A", None), ("0.95A", None), ("1.1A", "note"), ("2.8A", "note"), ("3.1A", "damage"), ("6A", "damage"),
])
def test_severity_follows_the_amps(amps: str, severity: str | None) -> None:
    assert [f.severity for f in found(plate(amps))] == ([severity] if severity else [])


def test_two_jumpers_share_the_current() -> None:
    """Equal resistances: half each. Each of the two supply leads still carries all."""
    text = ("board half\npart PS2 motor 6V 10mA\nsupply PS bench-supply 12V limit 10A\npart H heater 12V 2.8A\n"
            "wire PS.+ to H.1\nwire PS.- to c5\nwire a5 to H.2\n")
    one = [f for f in check(text).findings if f.rule == "too-much-current"]
    both = [f for f in check(text + "wire b5 to H.2\nwire PS.- to d5\n").findings if f.rule == "too-much-current"]

    assert [f.evidence[0].value for f in one] == [pytest.approx(2.94, rel=0.02)]
    assert [f.evidence[0].value for f in both] == [pytest.approx(1.47, rel=0.02)]


def test_a_short_is_not_told_twice() -> None:
    report = check("board half\nsupply PS bench-supply 12V limit 5A on L+ L-\nwire L+1 to L-1\n")

    rules = [f.rule for f in report.findings] + [c.rule for f in report.findings for c in f.consequences]
    assert "rails-shorted" in rules
    assert "too-much-current" not in rules


def test_a_motor_held_still_is_no_steady_current() -> None:
    motor = "part M motor 12V 500mA stall 2.5A\nwire L+5 to M.1\nwire M.2 to L-5\n"

    assert found(motor) == []


def test_screwed_leads_are_no_contacts_of_the_board() -> None:
    assert found("part H heater 12V 5A\nwire PS.+ to H.1\nwire PS.- to H.2\n") == []
